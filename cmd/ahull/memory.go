package main

import (
	"runtime"
	"runtime/debug"
)

// usualMemory is what the program keeps its memory under by collecting garbage in
// time, bytes. A log's samples are few large pieces, so that costs little.
const usualMemory = 216 << 20

// limitMemory sets the limit: the usual one, or a quarter over what is in use, for
// a log that is so long under way that more must be held.
func limitMemory() {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	debug.SetMemoryLimit(max(usualMemory, int64(m.HeapAlloc/4*5)))
}
