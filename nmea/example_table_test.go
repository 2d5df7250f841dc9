package nmea

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// anyTime is put before sentences without a time, so that they get one.
var anyTime = line("ZZZDA,120000,14,05,2026,00,00")

// terms are the words of the reference table and what they stand for: the
// quantity, and the factor from the table's unit to ours.
var terms = map[string]struct {
	q      Quantity
	factor float64
}{
	"lat": {Latitude, 1}, "lon": {Longitude, 1},
	"sog_kn": {SpeedOverGround, 1852. / 3600}, "cog": {CourseOverGround, 1}, "cog_true": {CourseOverGround, 1},
	"variation": {Variation, 1}, "var": {Variation, 1}, "deviation": {Deviation, 1}, "sensor": {CompassHeading, 1},
	"heading_true": {TrueHeading, 1}, "heading_mag": {MagneticHeading, 1}, "stw_kn": {SpeedThroughWater, 1852. / 3600},
	"PITCH": {Pitch, 1}, "PTCH": {Pitch, 1}, "ROLL": {Roll, 1}, "HEEL": {Roll, 1}, "TRIM": {Pitch, 1}, "RUDDER": {Rudder, 1},
}

// inWords are the examples whose decoding the table gives in words: value by
// quantity, in SI.
var inWords = map[string]map[Quantity]float64{
	"$WIMWV,12.1,T":    {TheoreticalWindAngle: 12.1, TheoreticalWindSpeed: 10.1 * 1852 / 3600},
	"$WIMWV,57.5,R":    {ApparentWindAngle: 57.5, ApparentWindSpeed: 13 * 1852. / 3600},
	"$WIMWV,,T":        {},
	"$INTHS,,V":        {},
	"$WIMWD,302.4":     {WindDirection: 302.4, WindSpeed: 10.5 * 1852 / 3600},
	"$WIMWD,10.1":      {WindDirection: 10.1, WindSpeed: 12 * 1852. / 3600},
	"$IIVWR,75":        {ApparentWindAngle: 75, ApparentWindSpeed: 1852. / 3600},
	"$IIVWR,024":       {ApparentWindAngle: 336, ApparentWindSpeed: 18 * 1852. / 3600},
	"$IIVWT,75":        {TheoreticalWindAngle: 75, TheoreticalWindSpeed: 1852. / 3600},
	"$RCRPM,S":         {ShaftSpeed: 74.6},
	"$IIRSA,10.5,A,0":  {Rudder: 10.5},
	"$IIRSA,10.5,A,,V": {Rudder: 10.5},
	"$HEROT,-11.23":    {RateOfTurn: -11.23 / 60},
	"$IIVDR,10.1":      {CurrentSet: 10.1, CurrentDrift: 1.2 * 1852 / 3600},
	"$INDPT,2.3":       {Depth: 2.3},
	"$SDDPT,5.3":       {Depth: 5.3},
	"$SDDBT,7.8":       {Depth: 2.4},
	"$IIDBT,032":       {Depth: 10.04},
	"$INMTW,17.9":      {WaterTemperature: 17.9},
	"$IIVLW,10.1":      {LogDistance: 18705.2},
}

var term = regexp.MustCompile(`([A-Za-z_]+)=([-+]?[0-9.]+|empty)`)

// TestExampleTable reads each example of the reference table (sources in its
// first line) and compares all that it is said to hold.
func TestExampleTable(t *testing.T) {
	for _, row := range table(t, "nmea-examples.csv") {
		sentence, decoded, checksum := row[0], row[1], row[2]
		l := read(t, anyTime+sentence+"\r\n", Options{})
		if strings.HasPrefix(checksum, "BAD") {
			if l.Counts.BadChecksum != 1 || len(l.Channels) > 0 {
				t.Errorf("%s: checksum is wrong, but %+v", sentence, l.Counts)
			}
			continue
		}
		if l.Counts.BadChecksum+l.Counts.Malformed+l.Counts.NotNMEA > 0 {
			t.Errorf("%s: %+v", sentence, l.Counts)
		}
		found := 0
		for prefix, want := range inWords {
			if strings.HasPrefix(sentence, prefix) {
				found++
				for q, v := range want {
					if got := value(l, q); !near(got, v, 1e-6) {
						t.Errorf("%s: %s is %v, want %v", sentence, q, got, v)
					}
				}
				if len(want) == 0 && len(l.Channels) > 0 {
					t.Errorf("%s is not valid, but gave %v", sentence, l.Channels)
				}
			}
		}
		for _, m := range term.FindAllStringSubmatch(decoded, -1) {
			what, ok := terms[m[1]]
			if !ok {
				continue
			}
			found++
			want := nan
			if m[2] != "empty" {
				v, err := strconv.ParseFloat(m[2], 64)
				if err != nil {
					t.Fatal(err)
				}
				want = v * what.factor
			}
			if got := value(l, what.q); !near(got, want, 6e-8*max(1, want)) {
				t.Errorf("%s: %s is %v, want %v", sentence, what.q, got, want)
			}
		}
		if found == 0 && !strings.Contains(sentence, "ZDA") {
			t.Errorf("nothing was compared for %s: %s", sentence, decoded)
		}
	}
}

// TestExampleTimes compares the times of the reference table.
func TestExampleTimes(t *testing.T) {
	utc := regexp.MustCompile(`utc=([0-9T:.Z-]+)`)
	for _, row := range table(t, "nmea-examples.csv") {
		m := utc.FindStringSubmatch(row[1])
		if m == nil {
			continue
		}
		date := "2026-05-14"
		text := row[0] + "\r\n"
		if !strings.HasSuffix(m[1], "Z") {
			m[1] = date + "T" + m[1] + "Z"
			text = line("XXZDA,000000,14,05,2026,00,00") + text
		}
		l := read(t, text+line("HCHDT,1.0,T"), Options{})
		want := unix(t, m[1])
		e := newStream("")
		j := &job{}
		parseBlock([]byte(text), &j.block)
		e.add(j)
		got := nan
		for _, r := range receivers(e.ordered(), 0) {
			for _, ev := range r.events {
				if r.talker == "XX" {
					continue
				}
				got = ev.t
				if r.dated == 0 {
					got = nearestDay(ev.tod, want)
				}
			}
		}
		if !near(got, want, 1e-6) {
			t.Errorf("%s: time is %v, want %v", row[0], got, want)
		}
		if len(l.Channels) == 0 {
			t.Errorf("%s gave nothing a time", row[0])
		}
	}
}

// TestTagTable reads the TAG blocks of the reference table.
func TestTagTable(t *testing.T) {
	seconds := regexp.MustCompile(`time=([0-9]+) (s|ms)`)
	for _, row := range table(t, "nmea-tagblock.csv") {
		tag := row[0][:strings.LastIndex(row[0], `\`)+1]
		var b block
		b.reset()
		got := b.prefix([]byte(tag))
		if bad := b.badTags > 0; bad != (row[2] == "error") {
			t.Errorf("%s: fault found %v, want %s", tag, bad, row[2])
		}
		want := nan
		if m := seconds.FindStringSubmatch(row[1]); m != nil && row[2] == "ok" {
			want, _ = strconv.ParseFloat(m[1], 64)
			if m[2] == "ms" {
				want /= 1000
			}
		} else if row[2] == "ok" {
			want = 1564827317
		}
		if !near(got, want, 1e-6) {
			t.Errorf("%s: time is %v, want %v", tag, got, want)
		}
		// A bad block must not lose its sentence.
		l := read(t, anyTime+tag+line("HEHDT,274.07,T"), Options{})
		if got := value(l, TrueHeading); got != 274.07 {
			t.Errorf("%s: the sentence behind gave %v", tag, got)
		}
		if warned(l, "tag-block") != (row[2] == "error") {
			t.Errorf("%s: warnings %v", tag, l.Warnings)
		}
	}
}
