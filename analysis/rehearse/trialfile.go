package rehearse

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// TrialFile is the trial file (TOML) that a careful person would put beside
// the log: what the instruments are, the sea, the wind where no sensor was
// aboard, and marks for what only a person knows. Head comes first; it is for
// [boat], [load] and [engine].
func (v *Voyage) TrialFile(head string, logs ...string) string {
	s := &v.Scenario
	var b strings.Builder
	b.WriteString(head)
	fmt.Fprintf(&b, "[logs]\nfiles = [%s]\n", quoted(logs))
	if s.Faults.NoDate || s.Faults.WeekRollover {
		fmt.Fprintf(&b, "date = %s\n", s.Start.UTC().Format("2006-01-02"))
	}
	if s.Sensors.WindHz > 0 {
		fmt.Fprintf(&b, "\n[instruments]\nanemometer_height = \"%g m\"\n", orElse(s.Sensors.AnemometerM, 3))
		if off := s.Sensors.WindAngleOffset; off != 0 {
			fmt.Fprintf(&b, "wind_angle_offset = \"%g deg\"\n", -off)
		}
	}
	b.WriteString("\n[conditions]\n")
	if s.Sensors.WindHz == 0 {
		w := v.Truth.Wind
		fmt.Fprintf(&b, "wind = \"%.0f kn from %.0f\"\n", v.Scenario.Judgement.speed(w.SpeedMS)/knot, math.Mod(math.Round(w.FromDeg+v.Scenario.Judgement.WindOffDeg)+360, 360))
	}
	fmt.Fprintf(&b, "wave_from = \"%.0f deg\"\n", math.Mod(math.Round(*s.Sea.FromDeg), 360))
	fmt.Fprintf(&b, "wave_height = \"%.1f m\"\nwave_period = \"%.1f s\"\nwater = \"salt\"\n", s.Sea.HeightM, s.Sea.PeriodS)
	for _, seg := range v.Truth.Segments {
		if seg.Group != "" && (seg.Kind == KindDrift || seg.Kind == KindRun) {
			b.WriteString(mark(seg))
		}
	}
	return b.String()
}

func quoted(names []string) string {
	var q []string
	for _, n := range names {
		q = append(q, fmt.Sprintf("%q", n))
	}
	return strings.Join(q, ", ")
}

// mark is what a person writes down: times read off a clock after she settled
// and before the next command.
func mark(s Segment) string {
	clock := func(t float64) string { return time.Unix(int64(t), 0).UTC().Format("15:04:05") }
	m := fmt.Sprintf("\n[[segment]]\nkind = %q\nfrom = %q\nto = %q\ngroup = %q\n",
		s.Kind, clock(s.Start+10), clock(s.End-5), s.Group)
	if s.Note != "" {
		m += fmt.Sprintf("note = %q\n", s.Note)
	}
	return m
}

func (j Judgement) speed(ms float64) float64 {
	if j.WindScale == 0 {
		return ms
	}
	return ms * j.WindScale
}
