//go:build !unix

package main

import "os"

// peakMB isn't known here.
func peakMB(*os.ProcessState) int64 { return -1 }
