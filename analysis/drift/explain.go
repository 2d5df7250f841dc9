package drift

import "math"

// Doubt is one source's part of the variance of a result, in the square of the
// result's unit. Only FromSampling has few degrees of freedom (SampleDF).
type Doubt struct {
	Source   string
	Variance float64
}

// The sources of doubt of a drift's results.
const (
	FromSampling   = "her own wander and sheer"
	FromCurrent    = "the current"
	FromVane       = "the wind vane's mounting"
	FromCompass    = "the compass"
	FromAnemometer = "the wind sensor's calibration"
	FromPerson     = "the wind as a person saw it"
	FromOthers     = "how drifts differ beyond that"
)

// points are the drifts and what they count for in the slope.
func (s *solution) points() []LinePoint {
	var out []LinePoint
	for i, p := range s.ps {
		out = append(out, LinePoint{p.id, p.x, p.y, s.byPoint[1][i]})
	}
	return out
}

// doubts are the sources of the slope's ± of so much.
func (s *solution) doubts(ci95 float64) []Doubt {
	var sampled, others, waters, turned, scaled float64
	anemometer := FromAnemometer
	for i, p := range s.ps {
		c := s.byPoint[1][i]
		sampled += sq(c) * p.variance
		others += sq(c) * (p.usual + s.tau2)
		turned += c * p.turn * p.direction
		scaled += c * s.slope * p.x * p.windShare
		if p.seen {
			anemometer = FromPerson
		}
		for j, o := range s.ps {
			for k := range min(len(p.root), len(o.root)) {
				waters += c * p.current(k) * s.byPoint[1][j] * o.current(k)
			}
		}
	}
	out := []Doubt{{FromSampling, sampled}, {FromOthers, others}, {FromCurrent, waters}, {FromVane, sq(turned)}, {anemometer, sq(scaled)}}
	total := 0.0
	for _, d := range out {
		total += d.Variance
	}
	if !(total > 0) {
		return nil
	}
	for i := range out { // the few degrees of freedom of some widen all
		out[i].Variance *= sq(ci95/1.959964) / total
	}
	return out
}

// LeewayDoubts tells where the doubt of Leeway comes from, (m/s)².
func (d Drift) LeewayDoubts() []Doubt {
	return []Doubt{{FromSampling, d.ownVariance}, {FromCurrent, d.currentVariance}}
}

// PercentDoubts is that of LeewayPct, as shares: the parts are of the ± itself.
func (d Drift) PercentDoubts() []Doubt {
	own, wind := sq(d.LeewayCI95/d.Leeway), sq(d.WindCI95/d.Wind)
	all := d.ownVariance + d.currentVariance
	source := FromAnemometer
	if d.windSeen {
		source = FromPerson
	}
	return []Doubt{{FromSampling, own * d.ownVariance / all}, {FromCurrent, own * d.currentVariance / all}, {source, wind}}
}

// DownwindDoubts is that of Downwind, (m/s)².
func (d Drift) DownwindDoubts() []Doubt {
	down, _, _ := d.axes().turn(d.Current.Cov)
	return d.split(sq(d.DownwindSE), down, d.Crosswind)
}

// CrosswindDoubts is that of Crosswind, (m/s)².
func (d Drift) CrosswindDoubts() []Doubt {
	_, cross, _ := d.axes().turn(d.Current.Cov)
	return d.split(sq(d.CrosswindSE), cross, d.Downwind)
}

// DivergenceDoubts is that of Divergence, degrees².
func (d Drift) DivergenceDoubts() []Doubt {
	down, cross, both := d.axes().turn(d.Current.Cov)
	ud, uc := -d.Crosswind/d.Leeway, d.Downwind/d.Leeway
	out := d.split(sq(ud*d.DownwindSE)+sq(uc*d.CrosswindSE), ud*ud*down+uc*uc*cross+2*ud*uc*both, d.Leeway)
	for i := range out {
		out[i].Variance *= sq(180 / math.Pi / d.Leeway)
	}
	return out
}

// WindOnBowDoubts is that of WindOnBow, degrees².
func (d Drift) WindOnBowDoubts() []Doubt {
	out := []Doubt{{FromSampling, sq(d.bow.se)}}
	if d.windSeen {
		return append(out, Doubt{FromPerson, sq(seenAngleSigmaDeg)}, Doubt{FromCompass, sq(d.bow.known) - sq(seenAngleSigmaDeg)})
	}
	return append(out, Doubt{FromVane, sq(d.vane)}, Doubt{FromCompass, sq(d.bow.known) - sq(d.vane)})
}

// split is the doubt of a part of the leeway: sampling, current, and what an
// error of the wind's direction turns into it out of a speed across it.
func (d Drift) split(own, current, across float64) []Doubt {
	out := []Doubt{{FromSampling, own}, {FromCurrent, current}}
	k := sq(across * math.Pi / 180)
	if d.windSeen {
		return append(out, Doubt{FromPerson, k * sq(d.WindDirectionSE)})
	}
	vane := math.Min(sq(d.vane), sq(d.WindDirectionSE)) // the runs tell vane and compass together
	return append(out, Doubt{FromVane, k * vane}, Doubt{FromCompass, k * (sq(d.WindDirectionSE) - vane)})
}

func (d Drift) axes() axes { return downwindOf(d.WindEast, d.WindNorth) }

// IndependentSamples is how many independent samples her wander, with the answer
// to the gusts taken out, is worth.
func (d Drift) IndependentSamples() float64 { return 2*(d.SampleDF-usualLongRunDF) + 1 }

// BowRecord is the samples of the track from which the wind's angle on the bow
// was taken, and how many of them had both heading and wind.
func (d Drift) BowRecord() (from, to, n int) { return d.bow.from, d.bow.to, d.bow.n }

// BowSE is the standard error of WindOnBow from sampling alone, degrees.
func (d Drift) BowSE() float64 { return d.bow.se }

// HeadingRecord is how many seconds of heading the spread rests on, and its
// degrees of freedom.
func (d Drift) HeadingRecord() (seconds, df float64) { return d.yawed.Seconds, d.yawed.DF }
