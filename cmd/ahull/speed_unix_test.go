//go:build unix

package main

import (
	"os"
	"runtime"
	"syscall"
)

// peakMB is the most memory that a process that has ended held at once.
func peakMB(s *os.ProcessState) int64 {
	usage, ok := s.SysUsage().(*syscall.Rusage)
	switch {
	case !ok:
		return -1
	case runtime.GOOS == "darwin":
		return usage.Maxrss >> 20 // bytes there
	}
	return usage.Maxrss >> 10
}
