package analysis_test

import (
	"bytes"
	"compress/gzip"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"ahull/analysis"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// parts tells of each part that a verdict is given on whether an analysis gives
// anything of it, and whether it gives all that "ready" promises.
func parts(r *analysis.Results) map[string][2]bool {
	any := func(n int, is func(i int) bool) bool {
		for i := range n {
			if is(i) {
				return true
			}
		}
		return false
	}
	p, d := r.SpeedCurve, r.Drifts
	steady := func(seas ...string) bool {
		return any(len(r.SeaBehaviour), func(i int) bool {
			return r.SeaBehaviour[i].HeadingSDDeg.Known() && slices.Contains(seas, r.SeaBehaviour[i].Sea)
		})
	}
	told := 0
	for _, x := range d {
		if x.LeewayPct.Known() && x.DivergenceDeg.Known() {
			told++
		}
	}
	vane := len(withCode(r, "wind-angle-offset"))+len(withCode(r, "wind-speed-scale")) == 0
	return map[string][2]bool{
		"speed curve":   {len(r.Runs) > 0, any(len(p), func(i int) bool { return p[i].SpeedKn.Known() && p[i].RPM.Known() && !p[i].MeanOfMeans })},
		"sea behaviour": {any(len(r.Runs), func(i int) bool { return r.Runs[i].HeadingSDDeg.Known() }), steady("head", "bow") && steady("following", "quartering")},
		"drift":         {len(d) > 0, told >= 3 && vane && !r.Conditions.WindAsMeasured},
		"fuel":          {any(len(r.Runs), func(i int) bool { return r.Runs[i].FuelLH.Known() }), any(len(p), func(i int) bool { return p[i].NmPerL.Known() && p[i].FuelLH.Known() })},
		"turns": {any(len(r.Turns), func(i int) bool { return r.Turns[i].AngleDeg.Known() }),
			any(len(r.Turns), func(i int) bool { return r.Turns[i].TacticalDiameterM.Known() && !r.Turns[i].OverGround })},
	}
}

// demandVerdicts: what a check calls ready an analysis gives in full, and of what it
// calls impossible it gives nothing. It counts the verdicts by kind.
func demandVerdicts(t *testing.T, name string, rep *analysis.CheckReport, r *analysis.Results, seen map[string]int) {
	t.Helper()
	given := parts(r)
	for _, v := range rep.Verdicts {
		got := given[v.Part]
		seen[v.Part+" "+v.Verdict]++
		if v.Verdict == "ready" && !(got[0] && got[1]) || v.Verdict == "impossible" && got[0] {
			t.Errorf("%s: check calls %s %s (%s), the analysis gives some: %v, all: %v", name, v.Part, v.Verdict, v.Why, got[0], got[1])
		}
	}
}

// demandNoneMissing: no sensor that the log has is said not to be there.
func demandNoneMissing(t *testing.T, name string, rep *analysis.CheckReport, r *analysis.Results, without []string) {
	t.Helper()
	texts := append([]string{r.Current.Method}, r.Method...)
	for _, v := range rep.Verdicts {
		texts = append(texts, v.Part+": "+v.Why)
	}
	for _, w := range append(rep.Warnings, r.Warnings...) {
		texts = append(texts, w.Text)
	}
	for sentence, absent := range map[string][]string{
		"HDG": {"no heading", "log a heading", "connect a compass", "with a compass", "without a heading"},
		"RPM": {"no engine speed", "engine gateway"},
		"MWV": {"no wind", "connect a wind sensor"},
	} {
		for _, text := range texts {
			if said := slices.IndexFunc(absent, func(s string) bool { return strings.Contains(text, s) }); said >= 0 && !slices.Contains(without, sentence) {
				t.Errorf("%s, where the log has %s: %s", name, sentence, text)
			}
		}
	}
}

// demoLines are the demo's log, line by line.
func demoLines(t *testing.T) []string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "demo", "2026-05-14.nmea.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	unpacked, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(unpacked)
	if err != nil {
		t.Fatal(err)
	}
	return slices.Collect(strings.Lines(string(text)))
}

// between are the lines from one time of day to another, by the receiver's fixes,
// without the sentences named.
func between(lines []string, from, to string, without ...string) []byte {
	var out bytes.Buffer
	in := false
	for _, line := range lines {
		if rest, fix := strings.CutPrefix(line, "$GPRMC,"); fix && len(rest) > 6 {
			in = rest[:6] >= from && rest[:6] < to
		}
		if in && !slices.ContainsFunc(without, func(s string) bool { return strings.Contains(line, s) }) {
			out.WriteString(line)
		}
	}
	return out.Bytes()
}

// A piece of a day may hold a lone run, a lone turn, drifts without runs, runs one
// way: a check of it calls nothing ready that its analysis then does not give, and
// nothing impossible that it gives.
func TestVerdictsAreKept(t *testing.T) {
	lines := demoLines(t)
	seen := map[string]int{}
	for _, c := range []struct {
		from, to string
		without  []string
	}{
		{"170300", "170500", nil}, // alongside
		{"173000", "173200", nil}, // in a drift
		{"175100", "175400", nil}, // one run and a turn
		{"170900", "171200", nil},
		{"172200", "172700", []string{"XDR,V"}},
		{"174600", "175000", []string{"RPM"}},
		{"175800", "180100", []string{"HDG"}},
		{"182600", "183000", []string{"MWV"}},
	} {
		name := c.from + " to " + c.to + " without " + strings.Join(c.without, " ")
		l, err := nmea.Read([]nmea.Input{{Name: name, Reader: bytes.NewReader(between(lines, c.from, c.to, c.without...))}}, nmea.Options{})
		if err != nil {
			t.Fatal(err)
		}
		tri, err := trial.Load("trial.toml", []byte(bareTrial))
		if err != nil {
			t.Fatal(err)
		}
		rep, err := analysis.Check(l, tri)
		if err != nil {
			t.Fatal(err)
		}
		r, err := analysis.Analyze(l, tri)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %d runs, %d drifts, %d turns, %v", name, len(r.Runs), len(r.Drifts), len(r.Turns), rep.Verdicts)
		demandVerdicts(t, name, rep, r, seen)
		demandNoneMissing(t, name, rep, r, c.without)
	}
	t.Log(seen)
}
