package track

import (
	"cmp"
	"slices"
	"testing"

	"ahull/analysis/trial"
	"ahull/nmea"
)

// A few seconds under a wrong date do not stretch the trial over two months,
// wherever they stand; two halves of a night, and what is mostly apart, stay.
func TestStrayTimes(t *testing.T) {
	day := 86400.0
	for name, c := range map[string]struct {
		from, to int // of 600 samples
		by       float64
		seconds  int // of the track
		warned   bool
	}{
		"some ahead":       {590, 595, 61 * day, 600, true},
		"some behind":      {0, 4, -61 * day, 596, true},
		"within the day":   {590, 600, 6 * 3600, 6*3600 + 600, false},
		"another day's":    {300, 600, day, int(day) + 600, false},
		"all of it":        {0, 600, 61 * day, 600, false},
		"half, for months": {300, 600, 61 * day, 0, false},
	} {
		log := steady(600)
		for i := range log.Channels {
			times := append([]float64(nil), log.Channels[i].Time...)
			start := times[0]
			for k, at := range times {
				if s := int(at - start); s >= c.from && s < c.to {
					times[k] += c.by
				}
			}
			log.Channels[i].Time = times
			sortChannel(&log.Channels[i])
		}
		tr, err := Build(log, trial.Bare())
		if c.seconds == 0 {
			if err == nil {
				t.Errorf("%s: %d s of track", name, tr.Len())
			}
			continue
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if tr.Len() < c.seconds-2 || tr.Len() > c.seconds+2 {
			t.Errorf("%s: %d s of track, want %d", name, tr.Len(), c.seconds)
		}
		if got := hasCode(tr.Warnings, "stray-time"); got != c.warned {
			t.Errorf("%s: warned %v", name, got)
		}
	}
}

// sortChannel puts a channel whose times were changed in order.
func sortChannel(ch *nmea.Channel) {
	type sample struct{ t, v float64 }
	all := make([]sample, len(ch.Time))
	for i := range all {
		all[i] = sample{ch.Time[i], ch.Value[i]}
	}
	slices.SortStableFunc(all, func(a, b sample) int { return cmp.Compare(a.t, b.t) })
	ch.Value = slices.Clone(ch.Value)
	for i, s := range all {
		ch.Time[i], ch.Value[i] = s.t, s.v
	}
}
