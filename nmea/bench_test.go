package nmea

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"strings"
	"sync"
	"testing"

	gonmea "github.com/adrianmo/go-nmea"
	"github.com/klauspost/compress/gzip"
)

// bigLog is a made-up log of a well-equipped boat: ten fixes, headings, winds
// and attitudes a second, with the satellites and a ship's AIS now and then.
var bigLog = sync.OnceValue(func() []byte {
	var b bytes.Buffer
	for s := 0; b.Len() < 22<<20; s++ {
		for k := range 10 {
			clock := fmt.Sprintf("%02d%02d%02d.%02d", 8+s/3600, s/60%60, s%60, k*10)
			b.WriteString(linef("GPRMC,%s,A,4404.%05d,N,06812.%05d,W,%d.%d,%d.%d,140526,15.%d,W,A", clock, s%60000, s%50000, s%20, k, s%360, k, k))
			b.WriteString(linef("HCHDG,%d.%d,,,15.2,W", s%360, k))
			b.WriteString(linef("WIMWV,%d.%d,R,%d.%d,N,A", s%360, k, s%30, k))
			b.WriteString(linef("VWVHW,,T,%d.%d,M,%d.%d,N,%d.%d,K", s%360, k, s%20, k, s%37, k))
			b.WriteString(linef("APXDR,A,%d.%03d,D,PTCH,A,%d.%03d,D,ROLL", s%9, k, s%17, k))
			if k%2 == 0 {
				b.WriteString(linef("GPGGA,%s,4404.%05d,N,06812.%05d,W,1,12,0.98,1.0,M,-21.3,M,,", clock, s%60000, s%50000))
				b.WriteString(linef("GPVTG,%d.%d,T,,M,%d.%d,N,%d.%d,K,A", s%360, k, s%20, k, s%37, k))
				b.WriteString(linef("ERRPM,E,0,%d,,A", 700+s%5000))
				b.WriteString(linef("TIROT,%d.%d,A", s%90, k))
			}
		}
		for k := 1; k < 4; k++ {
			b.WriteString(linef("GPGSV,3,%d,12,01,40,083,46,02,17,308,41,12,07,344,39,14,22,228,45", k))
		}
		b.WriteString(line("GPGSA,A,3,04,05,,09,12,,,24,,,,,2.5,1.3,2.1"))
	}
	return b.Bytes()
})

func BenchmarkRead(b *testing.B) {
	data := bigLog()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		l, err := Read([]Input{{Name: "big", Reader: bytes.NewReader(data)}}, Options{})
		if err != nil || l.Counts.BadChecksum > 0 {
			b.Fatal(err, l.Counts)
		}
	}
}

// BenchmarkOneBlock is the parsing alone, on one goroutine.
func BenchmarkOneBlock(b *testing.B) {
	data := bigLog()[:1<<20]
	data = data[:lastLineEnd(data)]
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	var blk block
	for b.Loop() {
		parseBlock(data, &blk)
	}
}

// BenchmarkPacked is a log in gzip: unpacking it alone, and reading it up to its end,
// which is meant to take little longer where there are two processors.
func BenchmarkPacked(b *testing.B) {
	var packed bytes.Buffer
	z := gzip.NewWriter(&packed)
	if _, err := z.Write(bigLog()); err != nil || z.Close() != nil {
		b.Fatal(err)
	}
	b.Run("unpacked", func(b *testing.B) {
		b.SetBytes(int64(len(bigLog())))
		for b.Loop() {
			plain, err := unpack(bytes.NewReader(packed.Bytes()))
			if err != nil {
				b.Fatal(err)
			}
			if n, err := io.Copy(io.Discard, io.LimitReader(plain, 1<<40)); err != nil || n != int64(len(bigLog())) {
				b.Fatal(n, err)
			}
		}
	})
	b.Run("read", func(b *testing.B) {
		b.SetBytes(int64(len(bigLog())))
		for b.Loop() {
			r := &countingReader{r: bytes.NewReader(packed.Bytes())}
			if _, err := readStream("big", r, Options{blockSize: ordinaryBlock}, func() {}); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkGoNMEA is the general library on the same log, the way it is
// commonly used.
func BenchmarkGoNMEA(b *testing.B) {
	data := bigLog()
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		in := bufio.NewScanner(bytes.NewReader(data))
		for in.Scan() {
			if _, err := gonmea.Parse(strings.TrimSpace(in.Text())); err != nil {
				b.Fatal(err)
			}
		}
	}
}
