package analysis_test

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/nmea"
)

// rideLog is the log of two runs, out and back, with an accelerometer that shows
// gravity and sines of so much (m/s²) at the named frequencies, so many times a
// second. The accelerometer's lines stand between the others by their time.
func rideLog(t *testing.T, rateHz int, seconds float64, sines map[float64]float64) (*rehearse.Voyage, *bytes.Buffer) {
	t.Helper()
	s := rehearse.Default(3)
	s.Plan = rehearse.Plan(rehearse.Alongside(60), rehearse.Pairs(seconds, []float64{0, 90}, 650), rehearse.Pairs(seconds, []float64{0}, 4000))
	s.Sensors.StampSource, s.Sensors.StampMillisecond = "nav", true
	v := rehearse.Simulate(s)
	var plain, out bytes.Buffer
	if err := v.WriteLog(&plain); err != nil {
		t.Fatal(err)
	}
	start := v.Truth.Start
	next := 0
	for _, line := range strings.SplitAfter(plain.String(), "\n") {
		var ms int64
		if _, at, ok := strings.Cut(line, "c:"); ok {
			fmt.Sscanf(at, "%d", &ms)
		}
		for ; float64(ms)/1000 > start+float64(next)/float64(rateHz); next++ {
			at := float64(next) / float64(rateHz)
			x := 9.80665
			for hz, a := range sines {
				x += a * math.Sin(2*math.Pi*hz*at)
			}
			tag := fmt.Sprintf("s:nav,c:%d", int64(math.Round(1000*(start+at))))
			body := fmt.Sprintf("YXXDR,G,%.3f,,ACCZ", x)
			fmt.Fprintf(&out, "\\%s*%02X\\$%s*%02X\r\n", tag, nmea.Checksum(tag), body, nmea.Checksum(body))
		}
		out.WriteString(line)
	}
	return v, &out
}

func ride(t *testing.T, rateHz int, seconds float64, sines map[float64]float64) *analysis.Results {
	t.Helper()
	v, log := rideLog(t, rateHz, seconds, sines)
	l, err := nmea.Read([]nmea.Input{{Name: "ride.nmea", Reader: log, Size: int64(log.Len())}}, nmea.Options{})
	if err != nil {
		t.Fatal(err)
	}
	r, err := analysis.Analyze(l, trialFor(t, v))
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Runs) != 6 {
		t.Fatalf("%d runs", len(r.Runs))
	}
	return r
}

func rideWarning(r *analysis.Results) string {
	text := ""
	for _, w := range r.Warnings {
		if w.Code == "ride-withheld" {
			text += w.Text + "\n"
		}
	}
	return text
}

// From the log's bytes to the results, sines at centres of the tables of ISO
// 2631-1 come out as W·A/√2: Wk 0.967 at 4 Hz and Wf 1.006 at 0.16 Hz, where each
// weighting takes next to nothing of the other's sine (Wk 0.079 at 0.16 Hz, Wf
// 0.0001 at 4 Hz).
func TestRideThroughTheChain(t *testing.T) {
	r := ride(t, 50, 130, map[float64]float64{4: 2, 0.16: 1})
	for _, run := range r.Runs {
		wk, wf := math.Hypot(0.967*2, 0.079*1)/math.Sqrt2, 1.006*1/math.Sqrt2
		if math.Abs(float64(run.AccelWkRMS)/wk-1) > 0.03 || math.Abs(float64(run.AccelWfRMS)/wf-1) > 0.05 {
			t.Errorf("%s: Wk %.3f, want %.3f; Wf %.3f, want %.3f", run.ID, run.AccelWkRMS, wk, run.AccelWfRMS, wf)
		}
		if !(run.AccelTenth >= run.AccelThird) || !(run.AccelThird > 1.5 && run.AccelHundredth < 3.1) {
			t.Errorf("%s: peaks %.2f %.2f %.2f", run.ID, run.AccelThird, run.AccelTenth, run.AccelHundredth)
		}
	}
	if w := rideWarning(r); w != "" {
		t.Errorf("nothing is withheld, but: %s", w)
	}
}

// What the sampling or the length of the runs can't tell is withheld, and said
// once for the day.
func TestRideIsWithheldOnce(t *testing.T) {
	for _, c := range []struct {
		hz             int
		seconds        float64
		wk, wf, peaks  bool
		said, unspoken []string
	}{
		{10, 130, false, true, false, []string{"Wk needs 50", "peaks", "6 of 6 runs"}, []string{"Wf"}},
		{50, 45, true, false, true, []string{"Wf needs 100 s"}, []string{"Wk", "peaks"}},
	} {
		r := ride(t, c.hz, c.seconds, map[float64]float64{1: 1})
		for _, run := range r.Runs {
			if run.AccelWkRMS.Known() != c.wk || run.AccelWfRMS.Known() != c.wf || run.AccelTenth.Known() != c.peaks {
				t.Errorf("%d Hz, %v s: %s has Wk %v, Wf %v, tenth %v", c.hz, c.seconds, run.ID, run.AccelWkRMS, run.AccelWfRMS, run.AccelTenth)
			}
		}
		text := rideWarning(r)
		for _, s := range c.said {
			if strings.Count(text, s) != 1 && s != "6 of 6 runs" || !strings.Contains(text, s) {
				t.Errorf("%d Hz, %v s: %q does not say %q once", c.hz, c.seconds, text, s)
			}
		}
		for _, s := range c.unspoken {
			if strings.Contains(text, s) {
				t.Errorf("%d Hz, %v s: %q speaks of %s", c.hz, c.seconds, text, s)
			}
		}
	}
}
