package speed

import (
	"math"

	"ahull/analysis/runs"
	"ahull/analysis/stat"
)

// between is the scatter of one measure from run to run, pooled over the
// groups: a group of two runs says little of its own.
type between struct {
	sd       float64 // relative or absolute
	df       float64
	relative bool
}

// What is taken where no two runs are alike. Common practice, no source.
const (
	assumedFuel = 0.02 // share
	assumedTrim = 0.2  // degrees
)

// usual is as how many more degrees of freedom what is usual counts, to help few out.
const usual = 2.0

// scatter pools the scatters of fuel flow and trim over the groups.
func (c *curve) scatter() {
	c.fuel = c.pool(fuelOf, true, assumedFuel, nil)
	c.trim = c.pool(trimOf, false, assumedTrim, c.rest.Means)
}

// pool takes one more group, known already, along.
func (c *curve) pool(of func(runs.Run) float64, relative bool, assumed float64, more []float64) between {
	b := between{sd: assumed, df: math.Inf(1), relative: relative}
	squares, df := 0.0, 0.0
	groups := [][]float64{more}
	for _, g := range c.groups() {
		var x []float64
		for _, i := range g {
			x = append(x, of(c.runs[i]))
		}
		groups = append(groups, stat.Finite(x))
	}
	for _, x := range groups {
		if len(x) < 2 {
			continue
		}
		m, sd := stat.MeanSD(x)
		if relative {
			sd /= m
		}
		squares += sd * sd * float64(len(x)-1)
		df += float64(len(x) - 1)
	}
	if df > 0 {
		b.sd, b.df = math.Sqrt((squares+usual*assumed*assumed)/(df+usual)), df+usual
	}
	return b
}

// mean is the weighted mean over the members that have the measure, and the
// half-width of its 95 % interval.
func (b between) mean(members []runs.Run, w []float64, of func(runs.Run) float64) (mean, half float64) {
	sum, used := 0.0, []float64{}
	for i, r := range members {
		if v := of(r); !math.IsNaN(v) {
			mean += w[i] * v
			sum += w[i]
			used = append(used, w[i])
		}
	}
	if sum == 0 {
		return math.NaN(), math.NaN()
	}
	mean /= sum
	sd := b.sd
	if b.relative {
		sd *= math.Abs(mean)
	}
	return mean, b.factor() * sd / math.Sqrt(effective(used))
}

// factor is what makes a standard error half of a 95 % interval.
func (b between) factor() float64 {
	if math.IsInf(b.df, 1) {
		return z95
	}
	return stat.TQuantile(0.975, b.df)
}
