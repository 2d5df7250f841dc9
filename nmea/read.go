package nmea

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"runtime"
	"time"

	"github.com/klauspost/compress/gzip"
	"github.com/klauspost/compress/zstd"
)

// Options of Read. The zero value is fine.
type Options struct {
	// Date is the first day of the logs. It is for logs that carry no date, or
	// a wrong one, and is ignored by logs whose own date is that day or one
	// beside it (the day may be meant in local time).
	Date time.Time
	// Progress, if given, is called from time to time with the number of bytes
	// taken from all inputs so far, before decompression.
	Progress func(bytes int64)

	blockSize int  // 0 is the ordinary size; for tests
	keepAll   bool // of long rests too; for tests
}

// ordinaryBlock is small enough for a block and its samples to stay in a processor's
// cache between those who fill, parse and take them up.
const ordinaryBlock = 256 << 10

// Read reads the logs of one day and joins them. A log that is half rubbish
// is an ordinary log: what was found is in Counts and Warnings. An error means
// that an input could not be read at all.
func Read(inputs []Input, opt Options) (*Log, error) {
	if opt.blockSize == 0 {
		opt.blockSize = ordinaryBlock
	}
	var done int64
	var parts []*part
	for _, in := range inputs {
		count := &countingReader{r: in.Reader}
		s, err := readStream(in.Name, count, opt, func() {
			if opt.Progress != nil {
				opt.Progress(done + count.n.Load())
			}
		})
		if err != nil {
			return nil, fmt.Errorf("%s: %w", in.Name, err)
		}
		done += count.n.Load()
		parts = append(parts, s.finish(opt))
	}
	return join(parts), nil
}

// readStream reads one input to its end.
func readStream(name string, r *countingReader, opt Options, progress func()) (*stream, error) {
	s := newStream(name)
	s.rests.all = opt.keepAll
	plain, err := unpack(r)
	if err != nil {
		return nil, err
	}
	defer plain.Close()
	blocks := make(chan *job, 2*runtime.GOMAXPROCS(0))
	var cause error
	go func() {
		defer close(blocks)
		cause = cutBlocks(plain, opt.blockSize, blocks)
	}()
	for j := range blocks {
		<-j.done
		s.add(j)
		free.Put(j)
		progress()
	}
	if cause != nil {
		if r.err != nil || s.counts.Lines == 0 {
			return nil, cause
		}
		s.warn("file-cut-short", "%s could be read only in part (%v); what came before that is used. Copy the file again, or go on without its end.", name, cause)
	}
	progress()
	return s, nil
}

// unpack looks at the first bytes and decompresses gzip and zstd.
func unpack(r io.Reader) (io.ReadCloser, error) {
	br := bufio.NewReaderSize(r, 64<<10)
	head, err := br.Peek(4)
	if err != nil && err != io.EOF && len(head) == 0 {
		return nil, err
	}
	switch {
	case len(head) >= 2 && head[0] == 0x1f && head[1] == 0x8b:
		z, err := gzip.NewReader(br)
		if err != nil {
			return nil, fmt.Errorf("gzip: %w", err)
		}
		return z, nil
	case len(head) == 4 && string(head) == "\x28\xb5\x2f\xfd":
		z, err := zstd.NewReader(br, zstd.WithDecoderConcurrency(1), zstd.WithDecoderMaxWindow(128<<20))
		if err != nil {
			return nil, fmt.Errorf("zstd: %w", err)
		}
		return z.IOReadCloser(), nil
	}
	return io.NopCloser(br), nil
}

// errStall is given for a reader that gives neither bytes nor an error.
var errStall = errors.New("no more bytes came, and no end")
