package seaway

import (
	"math"

	"ahull/analysis/motion"
	"ahull/analysis/runs"
	"ahull/analysis/segment"
	"ahull/analysis/track"
	"ahull/analysis/trial"
)

// A line of its own making (porpoising, chine walking) is narrow, within these
// periods, large enough to be felt, at planing speed, and away from the waves'
// own period of encounter. Our own choice of limits.
const (
	lineShare    = 0.7 // of the variance within 15 % of the peak's frequency
	lineWidth    = 0.15
	lineLeastS   = 0.4
	lineMostS    = 3.0
	lineLeastDeg = 0.8
	lineApart    = 0.25
	planingMS    = 7.0
	unevenRPM    = 0.03 // of the engine speed, standard deviation: no even throttle
)

// flag names what moves by itself, at an even throttle, and not by the waves,
// whose period is wave.
func (r *Run) flag(run runs.Run, wave float64) {
	if run.RPMSD > unevenRPM*run.RPM {
		return
	}
	met := EncounterPeriod(wave, r.STW, r.SeaAngle)
	if r.ownLine(r.motion[pitch], met) {
		r.Flags = append(r.Flags, "porpoising")
	}
	if r.ownLine(r.motion[roll], met) {
		r.Flags = append(r.Flags, "chine walking")
	}
}

func (r *Run) ownLine(m motion.Motion, met float64) bool {
	if !(r.STW >= planingMS) || !(m.SD >= lineLeastDeg) || !(m.Period >= lineLeastS && m.Period <= lineMostS) {
		return false
	}
	if math.IsNaN(met) || math.Abs(met/m.Period-1) < lineApart {
		return false
	}
	var near, all float64
	for i, f := range m.Spectrum.Freq {
		all += m.Spectrum.Power[i]
		if math.Abs(f*m.Period-1) <= lineWidth {
			near += m.Spectrum.Power[i]
		}
	}
	return near > lineShare*all
}

// wavePeriod is the trial file's; without it, the period at which she pitches in
// her longest drift, where she meets the waves as they come. NaN where neither
// tells.
func wavePeriod(tr *track.Track, segs []segment.Segment, tri *trial.Trial) float64 {
	if tri != nil && !math.IsNaN(tri.Conditions.WavePeriod) {
		return tri.Conditions.WavePeriod
	}
	var longest segment.Segment
	for _, s := range segs {
		if s.Kind == segment.Drift && s.Excluded == "" && s.To-s.From > longest.To-longest.From {
			longest = s
		}
	}
	if longest.To == longest.From {
		return math.NaN()
	}
	return motion.Angle(tr.Native.Pitch.Between(tr.Time(longest.From), tr.Time(longest.To)), motion.Options{SlowS: slowS, SwingS: swingS}).Period
}
