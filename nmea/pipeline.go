package nmea

import (
	"io"
	"runtime"
	"sync"
	"sync/atomic"
)

// job is a block on its way: read, parsed by any free goroutine, taken up in
// order.
type job struct {
	data     []byte
	base     int64 // of data in the stream
	overlong int64 // lines that were too long to be held, before data
	skipped  int64 // their bytes
	block    block
	done     chan struct{}
}

// free keeps jobs for later, with all that they have allocated.
var free = sync.Pool{New: func() any { return new(job) }}

// parsing limits the blocks that are parsed at once.
var parsing = make(chan struct{}, runtime.GOMAXPROCS(0))

func (j *job) start() {
	j.done = make(chan struct{})
	parsing <- struct{}{}
	go func() {
		parseBlock(j.data, &j.block)
		<-parsing
		close(j.done)
	}()
}

// cutBlocks reads r to its end in blocks of whole lines of about size bytes.
// A line longer than maxLine that doesn't fit is not held, only counted.
func cutBlocks(r io.Reader, size int, out chan<- *job) error {
	size = max(size, 1)
	var rest []byte // begun line
	var base int64
	skipping, empty := false, 0
	var overlong, skipped int64
	for {
		j := free.Get().(*job)
		j.data = append(j.data[:0], rest...)
		had := len(j.data)
		want := max(size, had) // so that a long line isn't copied too often
		j.data = grow(j.data, had+want)
		n, err := r.Read(j.data[had : had+want])
		for err == nil && n < want {
			var m int
			m, err = r.Read(j.data[had+n : had+want])
			if n += m; m > 0 {
				empty = 0
			} else if empty++; empty > 100 {
				err = errStall
			}
		}
		j.data = j.data[:had+n]
		end := err != nil
		if skipping {
			_, next, whole := lineEnd(j.data, 0)
			if !whole && !end {
				// Keep the line's end, if it has begun.
				keep := 0
				for keep < len(j.data) && j.data[len(j.data)-1-keep] == '\r' {
					keep++
				}
				drop := len(j.data) - keep
				skipped += int64(drop)
				rest = append(rest[:0], j.data[drop:]...)
				free.Put(j)
				continue
			}
			skipped += int64(next)
			j.data = j.data[:copy(j.data, j.data[next:])]
			skipping = false
		}
		cut := len(j.data)
		if !end {
			cut = lastLineEnd(j.data)
		}
		rest = append(rest[:0], j.data[cut:]...)
		if cut == 0 && len(rest) > maxLine {
			held := len(rest)
			var long bool
			if rest, long = shed(rest); long {
				overlong++
				skipping = true
			}
			skipped += int64(held - len(rest))
		}
		j.data = j.data[:cut]
		if cut > 0 || end {
			j.overlong, j.skipped = overlong, skipped
			j.base = base + skipped
			base += skipped + int64(cut)
			overlong, skipped = 0, 0
			j.start()
			out <- j
		} else {
			free.Put(j)
		}
		if end {
			if err == io.EOF {
				return nil
			}
			return err
		}
	}
}

// shed drops a begun line that is too long to be held, but not its end if
// that has begun. A run of CRs is no line at all; one of them is enough.
func shed(line []byte) (rest []byte, long bool) {
	n := len(line)
	for n > 0 && line[n-1] == '\r' {
		n--
	}
	tail := line[n:min(n+1, len(line))]
	if n > maxLine {
		return append(line[:0], tail...), true
	}
	return line[:n+len(tail)], false
}

func grow(b []byte, n int) []byte {
	if cap(b) < n {
		b = append(make([]byte, 0, n+n/8), b...)
	}
	return b[:n]
}

// countingReader tells how much has been read, while it is read.
type countingReader struct {
	r io.Reader
	n atomic.Int64

	err error // of r itself, other than its end
}

func (c *countingReader) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n.Add(int64(n))
	if err != nil && err != io.EOF {
		c.err = err
	}
	return n, err
}
