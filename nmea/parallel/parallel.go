// Package parallel shares work that falls into independent pieces among the
// processors. What comes out does not hang on how many there are.
package parallel

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// Do does pieces of different kinds side by side.
func Do(pieces ...func()) { Each(len(pieces), func(i int) { pieces[i]() }) }

// Each does piece 0 to n−1, several at a time. Pieces must not touch what another
// one writes.
func Each(n int, do func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for range min(n, runtime.GOMAXPROCS(0)) {
		all.Go(func() {
			for i := next.Add(1) - 1; i < int64(n); i = next.Add(1) - 1 {
				do(int(i))
			}
		})
	}
	all.Wait()
}
