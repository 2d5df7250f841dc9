package nmea

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// A log without checksums: a digit or letter that was damaged once makes no second
// engine and no shaft; a second engine that sends all day, or a sentence that came
// once but whole, stays.
func TestDamageMakesNoSource(t *testing.T) {
	const seconds = 1600
	log := func(more func(at int) string) []string {
		var b strings.Builder
		for at := range seconds {
			fmt.Fprintf(&b, "$GPRMC,10%02d%02d.00,A,4417.7000,N,12435.9000,W,20.0,90.0,140526,,,A\r\n", at/60, at%60)
			fmt.Fprintf(&b, "$ERRPM,E,1,%d,,A\r\n$HCHDG,%d.0,,,14.6,E\r\n", 3000+at%40, 90+at%5)
			b.WriteString(more(at))
		}
		var names []string
		for _, ch := range read(t, b.String(), Options{}).Channels {
			names = append(names, fmt.Sprintf("%s %s", ch.Quantity, ch.Source))
		}
		return names
	}
	once := func(text string) func(int) string {
		return func(at int) string {
			if at == 700 {
				return text
			}
			return ""
		}
	}
	whole := log(once(""))
	for _, damaged := range []string{"$ERRPM,E,0,0,,A\r\n", "$ERRPM,S,1,3010,,A\r\n", "$HEHDG,91.0,,,14.6,E\r\n"} {
		if got := log(once(damaged)); !slices.Equal(got, whole) {
			t.Errorf("%q: %v, want %v", damaged, got, whole)
		}
	}
	thrice := func(at int) string { // more than a hand's slip, and still one in five hundred
		if at%700 == 100 {
			return "$ERRPM,E,0,0,,A\r\n"
		}
		return ""
	}
	if got := log(thrice); !slices.Equal(got, whole) {
		t.Errorf("three lines in %d: %v, want %v", seconds, got, whole)
	}
	for _, other := range []func(int) string{
		once(line("SDDPT,3.6,0.0")),
		func(at int) string {
			if at%10 == 0 {
				return "$ERRPM,E,2,2900,,A\r\n"
			}
			return ""
		},
	} {
		if got := log(other); len(got) != len(whole)+1 {
			t.Errorf("a sensor is lost: %v", got)
		}
	}
}
