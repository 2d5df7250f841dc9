package nmea

import (
	"io"
	"runtime"
	"strings"
	"testing"
)

// TestMemory: what is kept grows with the samples, not with the bytes.
func TestMemory(t *testing.T) {
	filler := strings.Repeat(line("GPGSV,3,1,12,01,40,083,46,02,17,308,41,12,07,344,39,14,22,228,45")+"# a remark\n"+strings.Repeat("\x01\x02\x03", 20)+"\n", 1000)
	const times = 200
	readers := []io.Reader{strings.NewReader(anyTime)}
	for range times {
		readers = append(readers, strings.NewReader(filler))
	}
	readers = append(readers, strings.NewReader(line("HEHDT,12.5,T")))
	heap := func() uint64 {
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		return m.HeapAlloc
	}
	before, most := heap(), uint64(0)
	l, err := Read([]Input{{Name: "log", Reader: io.MultiReader(readers...)}}, Options{Progress: func(n int64) {
		if n>>22 != (n-ordinaryBlock)>>22 { // now and then
			most = max(most, heap())
		}
	}})
	if err != nil || l.Counts.Unneeded != 1000*times || l.Counts.Bytes != int64(times*len(filler)+len(anyTime)+len(line("HEHDT,12.5,T"))) {
		t.Fatal(err, l.Counts)
	}
	if grown := int64(most) - int64(before); grown > 16<<20 {
		t.Errorf("%d MB held while reading a log of %d MB with two samples", grown>>20, l.Counts.Bytes>>20)
	}
}

// TestRepeatable: the same log gives the same result, however goroutines fall.
func TestRepeatable(t *testing.T) {
	data := string(bigLog()[:3<<20])
	want := read(t, data, Options{})
	for range 3 {
		if diff := difference(want, read(t, data, Options{blockSize: 10000})); diff != "" {
			t.Fatal(diff[:min(len(diff), 300)])
		}
	}
}
