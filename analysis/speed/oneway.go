package speed

import (
	"fmt"
	"math"
	"strings"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
)

// seaLossSD is by what share the speed on one heading may differ from that both ways,
// one standard deviation, where the day does not tell. Small boats lose up to some
// eight in a hundred into a head sea. Common practice, no source.
const seaLossSD = 0.03

// alone tells which members have no other on nearly the opposite heading.
func alone(members []runs.Run) []bool {
	out := make([]bool, len(members))
	for i, a := range members {
		out[i] = true
		for _, b := range members {
			if math.Abs(stat.Wrap180(way(a)-way(b)+180)) <= oppositeBy {
				out[i] = false
			}
		}
	}
	return out
}

// balance carries a point to both ways of the sea: each run without one the other way
// is taken as run back too, at the speed that the day's runs together foretell there.
// Where no other engine speed tells the sea's effect, the ± alone is widened.
func (c *curve) balance(p *Point, members []runs.Run) {
	lonely := alone(members)
	for i, yes := range lonely {
		if yes {
			p.Alone = append(p.Alone, members[i].ID)
		}
	}
	made := directionWeights(members)
	heading, size := lean(members, made)
	if len(p.Alone) == 0 || p.MeanOfMeans || math.IsNaN(size) {
		return
	}
	p.OneCourse = oneCourse(members)
	there, back := wayWeights(members, lonely)
	p.SeaLossFrom = c.told(members, heading)
	both, sd := c.est.WaySpeed(p.Runs, there, back)
	if p.SeaLossFrom == 0 || math.IsNaN(both) {
		p.SeaLossFrom, p.SeaLossCI95 = 0, z95*seaLossSD*size
		sea := p.SeaLossCI95 * p.Speed
		p.CI95, p.Doubts = math.Hypot(p.CI95, sea), append(p.Doubts, Doubt{"the sea on the heading not run", sea})
		return
	}
	p.There, p.Back = there, back
	change := append([]float64(nil), there...)
	for i, share := range shares(made) {
		change[i] -= share
	}
	_, changeSD := c.est.WaySpeed(p.Runs, change, back)
	p.SeaLoss, p.SeaLossCI95 = 1-p.Speed/both, z95*changeSD/both
	p.Speed, p.CI95 = both, z95*sd
}

// lean is to which heading (degrees) and by how much the weighted headings lean: 1
// where all are one, 0 where each has its opposite; NaN where one is not known.
func lean(members []runs.Run, weights []float64) (heading, size float64) {
	east, north, total := 0.0, 0.0, sum(weights)
	for i, r := range members {
		s, c := math.Sincos(way(r) * math.Pi / 180)
		east, north = east+weights[i]*s/total, north+weights[i]*c/total
	}
	return stat.Wrap360(math.Atan2(east, north) * 180 / math.Pi), math.Hypot(east, north)
}

// wayWeights give each direction the same weight, those of lonely runs and of their
// like on the opposite heading among them; all sum to 1.
func wayWeights(members []runs.Run, lonely []bool) (there, back []float64) {
	all := append([]runs.Run(nil), members...)
	for i, r := range members {
		if lonely[i] {
			r.Heading = stat.Wrap360(way(r) + 180)
			all = append(all, r)
		}
	}
	w := directionWeights(all)
	total := sum(w)
	back = make([]float64, len(members))
	for i, next := 0, len(members); i < len(members); i++ {
		there = append(there, w[i]/total)
		if lonely[i] {
			back[i] = w[next] / total
			next++
		}
	}
	return there, back
}

// told counts the other groups that were run on about a heading and back.
func (c *curve) told(own []runs.Run, heading float64) int {
	n := 0
	for _, g := range c.groups() {
		var ids []string
		for _, i := range g {
			if _, ok := c.est.Speeds[c.runs[i].ID]; ok {
				ids = append(ids, c.runs[i].ID)
			}
		}
		members := c.members(ids)
		if len(members) == 0 || members[0].ID == own[0].ID {
			continue
		}
		tells := false
		for i, yes := range alone(members) {
			tells = tells || !yes && math.Abs(stat.Wrap180(way(members[i])-heading)) <= sameWay
		}
		if tells {
			n++
		}
	}
	return n
}

func sum(x []float64) float64 {
	s := 0.0
	for _, v := range x {
		s += v
	}
	return s
}

// oneCourse tells that all runs were made on about one heading.
func oneCourse(members []runs.Run) bool {
	for _, a := range members {
		for _, b := range members {
			if math.Abs(stat.Wrap180(way(a)-way(b))) > sameWay {
				return false
			}
		}
	}
	return true
}

// tellOneWay says which points were carried to both ways, or widened.
func (c *curve) tellOneWay() {
	var carried, widened []string
	for _, p := range c.result.Points {
		switch half := 100 * p.SeaLossCI95; {
		case !(half > 0):
		case p.SeaLossFrom > 0:
			decimals := 1
			if half < 0.1 {
				decimals = 2
			}
			carried = append(carried, fmt.Sprintf("%s by %+.*f ± %.*f %%", p.waysText(), decimals, 100*(1/(1-p.SeaLoss)-1), decimals, half))
		default:
			widened = append(widened, fmt.Sprintf("%s by %.1f %%", p.waysText(), half))
		}
	}
	if len(carried) > 0 {
		c.warn("one-way", "where a run has none on the opposite heading, the mean speed at its engine speed is carried to both ways of the sea by what the sea did at other engine speeds; that changes the mean at "+strings.Join(carried, ", at "))
	}
	if len(widened) > 0 {
		c.warn("one-way", "where a run has none on the opposite heading and no other engine speed was run both ways about there with a heading, the ± is widened for the sea: "+strings.Join(widened, ", ")+"; run it both ways")
	}
}

// waysText names a point and says which ways it was not run.
func (p Point) waysText() string {
	name := strings.Join(p.Runs, " ")
	if !math.IsNaN(p.RPM) {
		name = runs.RPMText(p.RPM)
	}
	switch {
	case p.OneCourse:
		return name + " (one way only)"
	case !p.BothWays:
		return name + " (no two runs opposite)"
	}
	return name + " (" + strings.Join(p.Alone, ", ") + ")"
}
