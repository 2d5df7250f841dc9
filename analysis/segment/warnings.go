package segment

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"ahull/nmea"
)

// warnings gathers what a person should know.
type warnings struct{ list []nmea.Warning }

func (w *warnings) add(code, format string, args ...any) {
	w.list = append(w.list, nmea.Warning{Code: code, Text: fmt.Sprintf(format, args...)})
}

// aboutChannels warns of what is missing, or wrong, to tell the states apart.
func (w *warnings) aboutChannels(f *features) {
	switch {
	case f.headingWrong:
		w.add("heading-not-believed", "the heading does not go with the course even at speed: runs and drifts were found without it; check the compass")
	case f.headingOff != 0:
		w.add("heading-far-off", "the heading differs from the course by %.0f° at speed, in the mean: runs and drifts were found with that taken off; set heading_offset in the trial file if the compass is mounted so", f.headingOff)
	}
	if !f.hasHeading {
		without := "without a heading"
		if slices.ContainsFunc(f.headE, func(x float64) bool { return !math.IsNaN(x) }) {
			without = "with a heading in less than a quarter of the time"
		}
		w.add("segments-without-heading", "%s, runs and drifts are told apart by speed, course and engine speed alone: check them, and mark those that are wrong in the trial file", without)
	}
	switch {
	case f.rpmWrong:
		w.add("rpm-not-believed", "the engine speed stays high while the boat hardly moves: runs and drifts were found without it; check its source")
	case !f.hasRPM:
		w.add("segments-without-rpm", "%s: whether the engine drove the boat is read from her motion; check slow runs and drifts, and mark those that are wrong in the trial file", f.whyNoRPM())
	}
}

// whyNoRPM says why the engine speed is of no use.
func (f *features) whyNoRPM() string {
	seen, most := 0, 0.0
	for _, r := range f.rpm {
		if !math.IsNaN(r) {
			seen++
			most = math.Max(most, r)
		}
	}
	switch {
	case seen == 0:
		return "no engine speed is logged"
	case seen*20 < f.n:
		return "the engine speed is there in less than a twentieth of the time"
	case most <= turningRPM:
		return "the engine speed is 0 all the time, as it is with the engine stopped or the gateway dead"
	}
	return fmt.Sprintf("the engine turned for less than a minute (up to %.0f rpm)", most)
}

// doubtful is the difference of evidence, nats, below which two explanations are
// both to be told.
const doubtful = 2.5

// aboutDoubt warns of segments that are nearly as well explained otherwise.
func (w *warnings) aboutDoubt(m *model, fold folding, segs []Segment, start float64) {
	var troll, anchor []string
	for _, s := range segs {
		if s.Marked || s.Excluded != "" || s.To-s.From < leastRun {
			continue
		}
		name := fmt.Sprintf("%s at %s", s.ID, clock(start+float64(s.From)))
		a, b := fold.folded(s.From), fold.folded(s.To)
		if b <= a {
			continue // marked by hand in the midst of a rest
		}
		run, drift := m.drivenEvidence(a, b), m.driftEvidence(a, b)
		switch {
		case (s.Kind == Run || s.Kind == Drift) && math.Abs(run-drift) < doubtful:
			troll = append(troll, name)
		case (s.Kind == Idle || s.Kind == Drift) && s.To-s.From >= shortest[anchored] &&
			math.Abs(math.Min(m.anchorEvidence(a, b), m.heldEvidence(a, b))-drift) < doubtful:
			anchor = append(anchor, name)
		}
	}
	if len(troll) > 0 {
		w.add("drift-or-troll", "slow driving and drifting fit the motion about as well in %s: mark what it was in the trial file", strings.Join(troll, ", "))
	}
	if len(anchor) > 0 {
		w.add("drift-or-anchor", "lying to an anchor and drifting against the current fit the motion about as well in %s: mark what it was in the trial file", strings.Join(anchor, ", "))
	}
}

// clock writes a time of day, UTC.
func clock(unix float64) string {
	return time.Unix(int64(unix), 0).UTC().Format("15:04:05") + " UTC"
}
