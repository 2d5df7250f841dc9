package nmea

import (
	"math"
	"strings"
	"testing"
)

// Engines keep apart, and one that idles all day keeps its litres an hour.
func TestEnginesApart(t *testing.T) {
	var b strings.Builder
	b.WriteString(line("GPRMC,101112,A,4530.0,N,01215.0,W,7.5,10,140526,,,A"))
	b.WriteString(line("PCDIN,01F200,00000000,02,00B80BFFFF7FFFFF")) // 0x0BB8 = 3000 quarters
	b.WriteString(line("PCDIN,01F200,00000000,02,01A00FFFFF05FFFF")) // 0x0FA0 = 4000
	b.WriteString(line("PCDIN,01F201,00000000,02,00FFFFFFFFFFFFFF7F0400FFFFFFFF"))
	b.WriteString(line("PCDIN,01F201,00000000,02,01FFFFFFFFFFFFFF7F0300FFFFFFFF"))
	b.WriteString(line("ERXDR,R,22.5,L,FUEL#0,R,0.4,L,FUEL#1")) // nobody burns 22.5 L/s: hours, both
	b.WriteString(line("IIXDR,R,0.005,L,FUEL#0"))
	l := read(t, b.String(), Options{})
	for _, c := range []struct {
		q    Quantity
		src  Source
		want float64
	}{
		{EngineSpeed, Source{"P", "CDIN", "0"}, 750},
		{EngineSpeed, Source{"P", "CDIN", "1"}, 1000},
		{EngineTrim, Source{"P", "CDIN", "1"}, 5},
		{FuelFlow, Source{"P", "CDIN", "0"}, 0.4},
		{FuelFlow, Source{"P", "CDIN", "1"}, 0.3},
		{FuelFlow, Source{"ER", "XDR", "FUEL#0"}, 22.5},
		{FuelFlow, Source{"ER", "XDR", "FUEL#1"}, 0.4},
		{FuelFlow, Source{"II", "XDR", "FUEL#0"}, 18},
	} {
		ch := l.Channel(c.q, c.src)
		if ch == nil || len(ch.Value) != 1 || math.Abs(ch.Value[0]-c.want) > 1e-9 {
			t.Errorf("%s of %s: %+v, want %v", c.q, c.src, ch, c.want)
		}
	}
	if l.Channel(EngineTrim, Source{"P", "CDIN", "0"}) != nil {
		t.Error("a trim that is not available")
	}
}
