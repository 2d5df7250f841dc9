package speed

import (
	"fmt"
	"math"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
	"ahull/nmea"
)

const (
	sameWay    = 45.0 // degrees: runs within it count as one direction
	oppositeBy = 30.0 // degrees off opposite that still is both ways
)

// point makes the point of one group; false where its speed can't be told.
func (c *curve) point(group []int) (Point, bool) {
	p := Point{Group: c.runs[group[0]].Group, Range: math.NaN(), RangeCI95: math.NaN(), Slip: math.NaN(), SlipCI95: math.NaN()}
	var known []int
	for _, i := range group {
		if _, ok := c.est.Speeds[c.runs[i].ID]; ok {
			known = append(known, i)
		}
	}
	switch {
	case len(known) > 0:
		c.throughWater(&p, known)
	case !c.byMeanOfMeans(&p, group):
		return p, false
	}
	members := c.members(p.Runs)
	p.BothWays = bothWays(members)
	c.balance(&p, members)
	p.RPM = mean(members, func(r runs.Run) float64 { return r.RPM })
	w := directionWeights(members)
	p.Shares = shares(w)
	p.Fuel, p.FuelCI95 = c.fuel.mean(members, w, fuelOf)
	c.runningTrim(&p, members, w)
	c.perLitre(&p)
	c.slip(&p, members)
	return p, true
}

func fuelOf(r runs.Run) float64 { return r.FuelFlow }
func trimOf(r runs.Run) float64 { return r.PitchMean }

func (c *curve) members(ids []string) []runs.Run {
	var out []runs.Run
	for _, id := range ids {
		for _, r := range c.runs {
			if r.ID == id {
				out = append(out, r)
			}
		}
	}
	return out
}

// throughWater is what runs like the group's make, each direction counted once.
func (c *curve) throughWater(p *Point, known []int) {
	var members []runs.Run
	for _, i := range known {
		members = append(members, c.runs[i])
		p.Runs = append(p.Runs, c.runs[i].ID)
	}
	w := directionWeights(members)
	var sd float64
	if p.Speed, sd = c.est.LikeSpeed(p.Runs, w); math.IsNaN(p.Speed) {
		p.Speed, sd = c.apart(p.Runs, w)
		own := assumedScatter * p.Speed / math.Sqrt(effective(w))
		p.Doubts = []Doubt{{"the current and how steady she ran", z95 * sd}, {likeRuns, z95 * own}}
		sd = math.Hypot(sd, own)
	}
	p.CI95 = z95 * sd
}

// likeRuns names the source of doubt that assumedScatter is the size of.
const likeRuns = "how like runs differ"

// assumedScatter is how far like runs differ, share of the speed, where the
// fit could not tell. Common practice, no source.
const assumedScatter = 0.01

// apart is the mean where the fit has no joint covariance: what the runs share
// (the current) is most of the doubt, so it is not averaged down.
func (c *curve) apart(ids []string, w []float64) (ms, sd float64) {
	sum := 0.0
	for k, id := range ids {
		s := c.est.Speeds[id]
		ms += w[k] * s.MS
		sd += w[k] * s.CI95 / z95
		sum += w[k]
	}
	return ms / sum, sd / sum
}

// byMeanOfMeans takes the group's sets of reciprocal runs where the current is
// not known.
func (c *curve) byMeanOfMeans(p *Point, group []int) bool {
	in := map[string]bool{}
	for _, i := range group {
		in[c.runs[i].ID] = true
	}
	var speeds []float64
	for _, m := range c.est.MeanOfMeans {
		if in[m.Runs[0]] && !math.IsNaN(m.SpeedMS) {
			speeds = append(speeds, m.SpeedMS)
			p.Runs = append(p.Runs, m.Runs...)
		}
	}
	if len(speeds) == 0 {
		return false
	}
	p.MeanOfMeans = true
	var sd float64
	p.Speed, sd = stat.MeanSD(speeds)
	n := float64(len(speeds))
	own, changed := z95*assumedScatter*p.Speed/math.Sqrt(float64(len(p.Runs))), z95*currentChange/math.Sqrt(n)
	p.CI95 = math.Hypot(own, changed)
	p.Doubts = []Doubt{{likeRuns, own}, {"what the current changes between there and back", changed}}
	if len(speeds) > 1 {
		if shown := stat.TQuantile(0.975, n-1) * sd / math.Sqrt(n); shown > p.CI95 {
			p.CI95, p.Doubts = shown, []Doubt{{"how the sets differ", shown}}
		}
	}
	return true
}

// currentChange is what the current may change between reciprocal runs, m/s,
// one standard deviation. Common practice, no source.
const currentChange = 0.1 * knot

// directionWeights give each direction the same weight, however many runs
// were made on it.
func directionWeights(members []runs.Run) []float64 {
	w := make([]float64, len(members))
	for i, a := range members {
		n := 0.0
		for _, b := range members {
			if !(math.Abs(stat.Wrap180(way(a)-way(b))) > sameWay) {
				n++
			}
		}
		w[i] = 1 / n
	}
	return w
}

// shares are weights that sum to 1.
func shares(w []float64) []float64 {
	out := make([]float64, len(w))
	for i := range w {
		out[i] = w[i] / sum(w)
	}
	return out
}

func way(r runs.Run) float64 {
	if math.IsNaN(r.Heading) {
		return r.COG
	}
	return r.Heading
}

func bothWays(members []runs.Run) bool {
	for i, a := range members {
		for _, b := range members[:i] {
			if math.Abs(stat.Wrap180(way(a)-way(b)+180)) <= oppositeBy {
				return true
			}
		}
	}
	return false
}

// effective is the number of equal weights as good as these.
func effective(w []float64) float64 {
	s, s2 := 0.0, 0.0
	for _, v := range w {
		s += v
		s2 += v * v
	}
	return s * s / s2
}

func mean(members []runs.Run, of func(runs.Run) float64) float64 {
	var x []float64
	for _, r := range members {
		x = append(x, of(r))
	}
	return stat.Mean(stat.Finite(x))
}

// runningTrim is the pitch less that at rest. People move about from rest to rest as
// from run to run, so both have the same scatter.
func (c *curve) runningTrim(p *Point, members []runs.Run, w []float64) {
	m, half := c.trim.mean(members, w, trimOf)
	p.Trim, p.TrimCI95 = m-c.rest.Deg, math.Hypot(half, z95*orZero(c.rest.SE))
	if c.rest.Count > 0 {
		p.TrimCI95 = math.Hypot(p.TrimCI95, c.trim.factor()*c.trim.sd/math.Sqrt(c.rest.Count))
	}
	if math.IsNaN(p.Trim) {
		p.TrimCI95 = math.NaN()
	}
}

func (c *curve) perLitre(p *Point) {
	p.PerLitre = p.Speed / knot / p.Fuel
	p.PerLitreCI = p.PerLitre * math.Hypot(p.CI95/p.Speed, p.FuelCI95/p.Fuel)
	tank := rangeShare * c.tri.Engine.Tank
	p.Range, p.RangeCI95 = p.PerLitre*tank, p.PerLitreCI*tank
}

// handRPM is how well a dash gauge is read, rpm, one standard deviation.
const handRPM = 25.0

func (c *curve) slip(p *Point, members []runs.Run) {
	e := c.tri.Engine
	p.Slip = 100 * Slip(p.Speed, p.RPM, e.GearRatio, e.PropellerPitch)
	rpmDoubt := 0.0 // of the mean over the runs, whose engine speeds wander
	for _, r := range members {
		rpmDoubt = math.Hypot(rpmDoubt, z95*orZero(r.RPMSE)/float64(len(members))/p.RPM)
	}
	for _, r := range members {
		if r.RPMByHand {
			rpmDoubt = z95 * handRPM / p.RPM
		}
	}
	p.SlipCI95 = (100 - p.Slip) * math.Hypot(p.CI95/p.Speed, rpmDoubt)
}

// Slip is the propeller's slip, 1 − v·ratio/(pitch·n), as a share, from speed
// through the water in m/s, engine revolutions a minute, gear ratio (engine
// turns to one of the propeller) and pitch in m. NaN where one is not known or
// the engine stands.
func Slip(speedMS, rpm, ratio, pitchM float64) float64 {
	if !(rpm > 0 && ratio > 0 && pitchM > 0) {
		return math.NaN()
	}
	return 1 - speedMS*ratio*60/(pitchM*rpm)
}

// What a propeller's slip can be at a steady speed, percent: beyond it one of the
// numbers that it is made of is wrong. Common practice, no source.
const (
	leastSlip = -30.0
	mostSlip  = 100.0
)

// checkSlip withholds what can't be a slip, and warns of it: one point's where
// only that is wrong, else everyone's.
func (c *curve) checkSlip() {
	var wrong []int
	known := 0
	for i, p := range c.result.Points {
		if math.IsNaN(p.Slip) {
			continue
		}
		known++
		if p.Slip < leastSlip || p.Slip > mostSlip {
			wrong = append(wrong, i)
		}
	}
	if len(wrong) == 0 {
		c.checkNegativeSlip()
		return
	}
	p := c.result.Points[wrong[0]]
	what := "at " + runs.RPMText(p.RPM)
	if len(wrong) > 1 || known < 3 {
		what = "at every point"
		wrong = wrong[:0]
		for i := range c.result.Points {
			wrong = append(wrong, i)
		}
	}
	c.warn("no-slip", fmt.Sprintf("a slip of %.0f %% at %s is none: gear_ratio (engine turns to one of the propeller) or propeller_pitch in the trial file is wrong, or the rpm; slip is withheld %s", p.Slip, runs.RPMText(p.RPM), what))
	for _, i := range wrong {
		c.result.Points[i].Slip, c.result.Points[i].SlipCI95 = math.NaN(), math.NaN()
	}
}

func (c *curve) checkNegativeSlip() {
	for _, p := range c.result.Points {
		if p.Slip+p.SlipCI95 < 0 {
			c.warn("negative-slip", fmt.Sprintf("slip at %s comes out at %.0f %%, which can hardly be: check propeller_pitch and gear_ratio in the trial file, and the rpm", runs.RPMText(p.RPM), p.Slip))
			return
		}
	}
}

func (c *curve) warn(code, text string) {
	c.result.Warnings = append(c.result.Warnings, nmea.Warning{Code: code, Text: text})
}

func orZero(x float64) float64 {
	if math.IsNaN(x) {
		return 0
	}
	return x
}
