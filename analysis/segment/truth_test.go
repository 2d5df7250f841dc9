package segment_test

import (
	"flag"
	"fmt"
	"testing"

	"ahull/analysis/rehearse"
	"ahull/analysis/segment"
)

// More seeds make a longer, sharper test: go test ./analysis/segment -v -seeds 4
var seeds = flag.Int("seeds", 1, "sets of made-up trials to judge the segments by")

// What is asked of the segments: every run and drift found and nothing else called
// so (over many sets, but for two in a thousand), and ends within 3 s in the
// median and 12 s in 95 of 100.
func (s *score) check(t *testing.T) {
	t.Helper()
	t.Log("\n" + s.String())
	all := s.runs + s.drifts
	if all == 0 || len(s.missed)*500 > all || len(s.wrong)*500 > all {
		t.Errorf("of %d true runs and drifts %d missed: %q; %d wrongly found: %q", all, len(s.missed), s.missed, len(s.wrong), s.wrong)
	}
	if m, far := at(s.ends, 0.5), at(s.ends, 0.95); !(m <= 3 && far <= 12) {
		t.Errorf("ends are off by %.1f s in the median, by %.1f s in 95 of 100", m, far)
	}
	if m := at(s.starts, 0.5); !(m <= 5) {
		t.Errorf("starts are off by %.1f s in the median", m)
	}
}

func (s *score) judge(name string, sc rehearse.Scenario) {
	v := rehearse.Simulate(sc)
	tr := v.Track()
	segs, _ := segment.Find(tr, nil)
	s.add(name, v, tr, segs)
}

func TestTrials(t *testing.T) {
	t.Parallel()
	s := newScore()
	for seed := 1; seed <= *seeds; seed++ {
		for i, sc := range rehearse.Trials(uint64(seed)) {
			s.judge(fmt.Sprintf("%d/%d %s", seed, i, sc.Name), sc)
		}
	}
	s.check(t)
	for kind, least := range map[string]float64{"turn": 0.95, "stop": 0.9, "speed-up": 0.95} {
		if c := s.changes[kind]; float64(c[1]) < least*float64(c[0]) {
			t.Errorf("of %d true segments of kind %s only %d found: %q", c[0], kind, c[1], s.changesMissed)
		}
	}
}

func TestOddDays(t *testing.T) {
	t.Parallel()
	with, without := newScore(), newScore()
	for seed := 1; seed <= 2**seeds; seed++ {
		with.judge(fmt.Sprint("odd ", seed), oddDay(uint64(seed), true))
		without.judge(fmt.Sprint("odd, no rpm ", seed), oddDay(uint64(seed), false))
	}
	with.check(t)
	without.check(t)
}

func TestWithoutHeading(t *testing.T) {
	t.Parallel()
	s := newScore()
	for seed := 1; seed <= *seeds; seed++ {
		s.judge(fmt.Sprint("no heading ", seed), withoutHeading(uint64(seed)))
	}
	s.check(t)
}
