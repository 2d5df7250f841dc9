package analysis_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"ahull/analysis"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// leg is eight bytes of a fuzzed day: some steady seconds of the boat.
type leg [8]byte

const (
	mostLegs     = 40
	mostSeconds  = 1500      // of a fuzzed day
	mostLines    = 32 << 10  // bytes beside it
	mostBytes    = 512 << 20 // that one analysis may allocate, all in all,
	aSecond      = 16 << 10  // and for each second of the log
	longEnough   = 60 * time.Second
	fuzzedDayAt  = 1778752920 // 2026-05-14 10:02 UTC
	fuzzedLegGap = 7          // the bits of a leg's last byte that are silence before it
)

// sentenceOf makes a whole sentence of a body.
func sentenceOf(format string, args ...any) string {
	body := fmt.Sprintf(format, args...)
	return fmt.Sprintf("$%s*%02X\r\n", body, nmea.Checksum(body))
}

// sailLegs writes the log of legs: one sample a second of what each leg's mask
// leaves switched on. Bytes are speed, course, heading beside it, wind angle,
// wind speed, engine speed, seconds, and mask with silence.
func sailLegs(legs []byte) string {
	var b strings.Builder
	at, north, east := 0, 0.0, 0.0
	for n := 0; n+8 <= len(legs) && n < 8*mostLegs; n += 8 {
		l := leg(legs[n : n+8])
		silence := 0
		if s := int(l[7] & fuzzedLegGap); s > 4 {
			silence = 1 << (3 * (s - 4)) // 8 s to 512 s
		}
		at += silence
		for range 2 * int(l[6]) {
			if at > mostSeconds {
				return b.String()
			}
			l.second(&b, at, &north, &east)
			at++
		}
	}
	return b.String()
}

// second writes one second of a leg.
func (l leg) second(b *strings.Builder, at int, north, east *float64) {
	wobble := math.Sin(float64(at)) + 2*math.Sin(float64(at)/7)
	speed, course := float64(l[0])/8+wobble/20, float64(l[1])*360/256 // kn, degrees
	s, c := math.Sincos(course * math.Pi / 180)
	*north, *east = *north+speed*c/60, *east+speed*s/60/0.713 // minutes times 60, at 44.5° N
	clock := time.Unix(fuzzedDayAt+int64(at), 0).UTC()
	yaw := wobble
	if speed < 3 { // she lies to the wind
		yaw = 8*math.Sin(float64(at)/6) + 5*math.Sin(float64(at)/17)
	}
	heading := math.Mod(course+float64(int8(l[2]))+yaw+360, 360)
	if l[7]&8 == 0 {
		fmt.Fprint(b, sentenceOf("GPRMC,%s,A,44%07.4f,N,068%07.4f,W,%.2f,%.1f,%s,,,A", clock.Format("150405"),
			30+math.Mod(*north/60, 29), 30-math.Mod(*east/60, 29), math.Max(speed, 0), course, clock.Format("020106")))
	}
	if l[7]&16 == 0 {
		fmt.Fprint(b, sentenceOf("HCHDG,%.1f,,,15.2,W", heading))
	}
	if l[7]&32 == 0 {
		fmt.Fprint(b, sentenceOf("WIMWV,%.1f,R,%.1f,N,A", math.Mod(float64(l[3])*360/256+5*wobble+360, 360), math.Abs(float64(l[4])/6+wobble)))
	}
	if l[7]&64 == 0 {
		fmt.Fprint(b, sentenceOf("ERRPM,E,0,%d,,A", int(l[5])*24))
	}
	if l[7]&128 == 0 {
		fmt.Fprint(b, sentenceOf("IIXDR,A,%.1f,D,PTCH,A,%.1f,D,ROLL,R,%.4f,l,FUEL#0", 2+wobble, 4*wobble, float64(l[5])/20000))
	}
}

// mended gives each line with a star the right checksum, so that what the
// fuzzer does to a field gets past the reader.
func mended(lines []byte) string {
	var b strings.Builder
	for line := range bytes.Lines(lines) {
		if i := bytes.LastIndexByte(line, '*'); i > 0 && line[0] == '$' {
			b.WriteString(sentenceOf("%s", line[1:i]))
			continue
		}
		b.Write(line)
	}
	return b.String()
}

// legsOf packs legs for a seed.
func legsOf(legs ...leg) []byte {
	var out []byte
	for _, l := range legs {
		out = append(out, l[:]...)
	}
	return out
}

var (
	fuzzedOut   = leg{160, 20, 0, 10, 60, 145, 45, 0}
	fuzzedBack  = leg{160, 148, 0, 128, 90, 145, 45, 0}
	fuzzedDrift = leg{12, 60, 90, 64, 100, 0, 90, 0}
	fuzzedDay   = legsOf(fuzzedOut, fuzzedBack, fuzzedDrift,
		leg{90, 20, 0, 10, 60, 90, 45, 0}, leg{90, 148, 0, 128, 90, 90, 45, 0}, fuzzedDrift, leg{0, 0, 3, 30, 30, 0, 40, 0})
)

// FuzzAnalyze takes a day of fuzzed legs, fuzzed lines behind it and a fuzzed
// trial file through check and analyze: no panic, no hang, bounded memory, and
// JSON without a number that isn't one.
func FuzzAnalyze(f *testing.F) {
	full, err := os.ReadFile(filepath.Join("trial", "testdata", "full.toml"))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(fuzzedDay, []byte{}, []byte{})
	f.Add(fuzzedDay, []byte(sentenceOf("GPRMC,101112,A,4530.0,N,01215.0,W,7.5,10,140726,,,A")), full)
	f.Add(legsOf(fuzzedOut, leg{160, 148, 2, 128, 90, 145, 45, 7}, fuzzedDrift), []byte("#\x00\xff\n$GPGGA,\r"), []byte("[boat]\nlength = '24 ft'\nbeam = '8 ft'\n[conditions]\nwind = '12 kn from 250'\n[[segment]]\nkind='drift'\nfrom='10:03'\nto='10:05'\n"))
	f.Add(legsOf(leg{16, 20, 0, 10, 60, 145, 45, 16 + 32}, leg{16, 148, 0, 10, 60, 145, 45, 64 + 128}), []byte(sentenceOf("WIMWD,302.4,T,289.6,M,10.5,N,5.4,M")), []byte("[[exclude]]\nfrom='10:02:10'\nto='10:03'\nwhy='x'\n"))
	f.Add([]byte{}, mustReadReal(f, "week-rollover.log"), []byte("[logs]\ndate = 2019-04-07\n"))
	f.Add([]byte{}, mustReadReal(f, "echo-sounder.log"), []byte{})
	f.Fuzz(func(t *testing.T, legs, lines, trialFile []byte) {
		if len(lines) > mostLines || len(trialFile) > mostLines {
			return
		}
		tri, err := trial.Load("trial.toml", trialFile)
		if err != nil {
			tri = trial.Bare()
		}
		watchdog := time.AfterFunc(longEnough, func() { panic("analyze hangs") })
		defer watchdog.Stop()
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		log, err := nmea.Read([]nmea.Input{{Name: "fuzz", Reader: strings.NewReader(sailLegs(legs) + mended(lines))}}, nmea.Options{Date: tri.Logs.Date})
		if err != nil {
			return
		}
		if rep, err := analysis.Check(log, tri); err == nil {
			numbersOnly(t, rep)
		}
		if res, err := analysis.Analyze(log, tri); err == nil {
			numbersOnly(t, res)
		}
		runtime.ReadMemStats(&after)
		seconds := 0.0
		if log.Last > log.First {
			seconds = min(log.Last-log.First, 8*86400)
		}
		if n := after.TotalAlloc - before.TotalAlloc; n > mostBytes+uint64(aSecond*seconds) {
			t.Errorf("%d MB allocated for %d bytes of lines and %.0f s", n>>20, len(lines), seconds)
		}
	})
}

func mustReadReal(f *testing.F, name string) []byte {
	data, err := os.ReadFile(filepath.Join("..", "nmea", "testdata", "real", name))
	if err != nil {
		f.Fatal(err)
	}
	return data
}

// numbersOnly: the JSON can be written, and read again as JSON.
func numbersOnly(t *testing.T, v any) {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	for _, bad := range []string{":NaN", ":Inf", ":+Inf", ":-Inf", "\"NaN\"", "\"+Inf\"", "\"-Inf\""} {
		if bytes.Contains(text, []byte(bad)) {
			t.Errorf("JSON holds %s", bad)
		}
	}
	if !json.Valid(text) {
		t.Error("not JSON")
	}
}

// TestFuzzedDay: the seed of FuzzAnalyze reaches what it is to exercise.
func TestFuzzedDay(t *testing.T) {
	log, err := nmea.Read([]nmea.Input{{Name: "day", Reader: strings.NewReader(sailLegs(fuzzedDay))}}, nmea.Options{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := analysis.Analyze(log, trial.Bare())
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Runs) < 3 || len(r.Drifts) < 2 || !r.Current.Known {
		t.Errorf("%d runs, %d drifts, current known %v", len(r.Runs), len(r.Drifts), r.Current.Known)
	}
}
