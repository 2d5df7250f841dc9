package main

import (
	"runtime/debug"
	"runtime/metrics"
)

// usualMemory is what the program keeps its memory under by collecting garbage in
// time, bytes. A log's samples are few large pieces, so that costs little.
const usualMemory = 216 << 20

// memoryStep is how many bytes of a log are read before the limit is looked at again.
const memoryStep = 64 << 20

// limitMemory sets the limit: the usual one, or three eighths over what is in use, for
// a log that is so long under way that more must be held.
func limitMemory() {
	live := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
	metrics.Read(live)
	debug.SetMemoryLimit(max(usualMemory, int64(live[0].Value.Uint64()/8*11)))
}
