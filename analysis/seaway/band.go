package seaway

import (
	"cmp"
	"math"
	"slices"

	"ahull/analysis/motion"
)

// SeaBand is how she goes at one engine speed in one band of sea direction,
// over the runs of one group.
type SeaBand struct {
	Sea, Group                  string
	RPM                         float64
	STW                         float64 // m/s
	Runs                        []string
	HeadingSD, HeadingSDCI95    float64
	YawRateRMS                  float64
	SwingsPerMin                float64
	YawPeriod                   float64
	FallOff                     float64 // mean size of the heading's trend, degrees a minute
	RollSD, RollSDCI95          float64
	PitchSD, PitchSDCI95        float64
	SpeedLossPct, SpeedLossCI95 float64
}

// Bands gathers runs of like engine speed, group and sea. They come sorted by
// group, engine speed, and sea from head to following.
func Bands(rs []Run) []SeaBand {
	var out []SeaBand
	members := gather(rs)
	for _, band := range members {
		out = append(out, seaBand(band))
	}
	spreads(out, members)
	slices.SortStableFunc(out, func(a, b SeaBand) int {
		return cmp.Or(cmp.Compare(a.Group, b.Group), cmp.Compare(a.order(), b.order()), cmp.Compare(seaOrder(a.Sea), seaOrder(b.Sea)))
	})
	return out
}

// gather sorts the runs into bands, in the order of their first runs.
func gather(rs []Run) [][]Run {
	type key struct {
		group, sea string
		like       int
	}
	at := map[key]int{}
	var out [][]Run
	for _, r := range rs {
		if r.Sea == "" {
			continue
		}
		k := key{r.Group, r.Sea, r.like}
		i, ok := at[k]
		if !ok {
			i = len(out)
			at[k] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], r)
	}
	return out
}

// order sorts by engine speed, or by speed where none was logged.
func (b SeaBand) order() float64 {
	if math.IsNaN(b.RPM) {
		return b.STW
	}
	return b.RPM
}

func seaOrder(sea string) int {
	return slices.Index([]string{"head", "bow", "beam", "quartering", "following"}, sea)
}

func seaBand(rs []Run) SeaBand {
	b := SeaBand{Sea: rs[0].Sea, Group: rs[0].Group}
	for _, r := range rs {
		b.Runs = append(b.Runs, r.ID)
	}
	b.RPM = meanOf(rs, func(r Run) float64 { return r.RPM })
	b.STW = meanOf(rs, func(r Run) float64 { return r.STW })
	b.YawRateRMS = math.Sqrt(meanOf(rs, func(r Run) float64 { return r.YawRateRMS * r.YawRateRMS }))
	b.SwingsPerMin = meanOf(rs, func(r Run) float64 { return r.SwingsPerMin })
	b.YawPeriod = meanOf(rs, func(r Run) float64 { return r.YawPeriod })
	b.FallOff = meanOf(rs, func(r Run) float64 { return math.Abs(r.HeadingTrend) })
	b.SpeedLossPct = meanOf(rs, func(r Run) float64 { return r.SpeedLossPct })
	b.SpeedLossCI95 = meanOf(rs, func(r Run) float64 { return r.SpeedLossCI95 }) // the current's error is common: more runs do not lessen it
	return b
}

// meanOf is the mean over the runs, each by its length; runs without the figure
// are left out.
func meanOf(rs []Run, f func(Run) float64) float64 {
	sum, weight := 0.0, 0.0
	for _, r := range rs {
		if v := f(r); !math.IsNaN(v) {
			w := math.Max(r.seconds, 1)
			sum, weight = sum+w*v, weight+w
		}
	}
	if weight == 0 {
		return math.NaN()
	}
	return sum / weight
}

// spreads fills in the bands' spreads of heading, roll and pitch.
func spreads(bands []SeaBand, members [][]Run) {
	for q := range quantities {
		figures := make([][]figure, len(bands))
		for i, rs := range members {
			figures[i] = figuresOf(rs, q)
		}
		day := dayScatter(figures)
		for i, f := range figures {
			sd, ci := math.NaN(), math.NaN()
			if len(f) > 0 {
				pooled, df := day.pool(f)
				sd, ci = pooled, pooled*motion.RelativeCI95(df)
			}
			b := &bands[i]
			switch q {
			case heading:
				b.HeadingSD, b.HeadingSDCI95 = sd, ci
			case roll:
				b.RollSD, b.RollSDCI95 = sd, ci
			case pitch:
				b.PitchSD, b.PitchSDCI95 = sd, ci
			}
		}
	}
}
