package speed

import (
	"fmt"
	"math"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
)

// seaLossSD is by what share the speed on one heading may differ from that both ways,
// one standard deviation, where the day does not tell. Small boats lose up to some
// eight in a hundred into a head sea. Common practice, no source.
const seaLossSD = 0.03

// loss is what the sea of one heading does to her speed against both ways, share.
type loss struct{ mean, half float64 }

// lossOn is the day's own loss on a heading: the mean over the groups run both ways
// that have runs on it, each against its mean over both ways. It differs between
// engine speeds, so its half-width is for one more of them; with few groups what is
// usual counts as one more.
func (c *curve) lossOn(heading float64) (loss, int) {
	var all []float64
	for _, g := range c.groups() {
		var ids []string
		for _, i := range g {
			if _, ok := c.est.Speeds[c.runs[i].ID]; ok {
				ids = append(ids, c.runs[i].ID)
			}
		}
		members := c.members(ids)
		if !bothWays(members) {
			continue
		}
		var on []float64
		both, sum := 0.0, 0.0
		for k, w := range directionWeights(members) {
			v := c.est.Speeds[members[k].ID].MS
			both, sum = both+w*v, sum+w
			if math.Abs(stat.Wrap180(way(members[k])-heading)) <= sameWay {
				on = append(on, v)
			}
		}
		if len(on) > 0 {
			all = append(all, 1-stat.Mean(on)/(both/sum))
		}
	}
	n := float64(len(all))
	if n == 0 {
		return loss{0, z95 * seaLossSD}, 0
	}
	m, sd := stat.Mean(all), 0.0
	for _, x := range all {
		sd += (x - m) * (x - m)
	}
	sd = math.Sqrt((sd + usual*seaLossSD*seaLossSD/4) / (n - 1 + usual))
	return loss{m, stat.TQuantile(0.975, n-1+usual) * sd * math.Sqrt(1+1/n)}, len(all)
}

// oneWay carries a point whose runs went one way only to both ways, with the day's
// own loss on that heading, and says so; without such, its ± is widened.
func (c *curve) oneWay(p *Point, members []runs.Run) {
	if p.MeanOfMeans {
		return
	}
	var heading []float64
	for _, r := range members {
		heading = append(heading, way(r))
	}
	h, _ := stat.CircularMean(heading)
	if math.IsNaN(h) {
		return
	}
	l, n := c.lossOn(h)
	p.SeaLoss, p.SeaLossCI95, p.SeaLossFrom = l.mean, l.half, n
	p.Speed /= 1 - l.mean
	p.CI95 = math.Hypot(p.CI95/(1-l.mean), l.half*p.Speed)
}

// tellOneWay says which points were carried to both ways, or widened.
func (c *curve) tellOneWay() {
	for _, p := range c.result.Points {
		switch {
		case p.BothWays || p.MeanOfMeans || !(p.SeaLossCI95 > 0):
		case p.SeaLossFrom > 0:
			c.warn("one-way", fmt.Sprintf("%.0f rpm was run one way only: its speed is carried to both ways by what the sea did on that heading at other engine speeds, %+.1f ± %.1f %%", p.RPM, -100*p.SeaLoss, 100*p.SeaLossCI95))
		default:
			c.warn("one-way", fmt.Sprintf("%.0f rpm was run one way only and no other engine speed both ways on that heading: its ± is widened by %.0f %% for the sea; run it both ways", p.RPM, 100*p.SeaLossCI95))
		}
	}
}
