package seaway

import (
	"cmp"
	"math"
	"slices"

	"ahull/analysis/stat"
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
	type key struct {
		group, sea string
		like       int
	}
	byKey := map[key][]Run{}
	var keys []key
	for _, r := range rs {
		if r.Sea == "" {
			continue
		}
		k := key{r.Group, r.Sea, r.like}
		if _, ok := byKey[k]; !ok {
			keys = append(keys, k)
		}
		byKey[k] = append(byKey[k], r)
	}
	var out []SeaBand
	for _, k := range keys {
		out = append(out, seaBand(byKey[k]))
	}
	slices.SortStableFunc(out, func(a, b SeaBand) int {
		return cmp.Or(cmp.Compare(a.Group, b.Group), cmp.Compare(a.order(), b.order()), cmp.Compare(seaOrder(a.Sea), seaOrder(b.Sea)))
	})
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
	b.HeadingSD, b.HeadingSDCI95 = pooled(rs, func(r Run) (float64, float64, float64) { return r.HeadingSD, r.HeadingSDCI95, r.headingDF })
	b.RollSD, b.RollSDCI95 = pooled(rs, func(r Run) (float64, float64, float64) { return r.RollSD, r.RollSDCI95, r.rollDF })
	b.PitchSD, b.PitchSDCI95 = pooled(rs, func(r Run) (float64, float64, float64) { return r.PitchSD, r.PitchSDCI95, r.pitchDF })
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

// pooled is the standard deviation over several runs (of the variances, each by
// its degrees of freedom) with the half-width of its 95 % interval. Where runs
// differ by more than their own ± tells, the ± is that of a mean over runs.
func pooled(rs []Run, f func(Run) (sd, ci, df float64)) (sd, ci float64) {
	var sds []float64
	var variance, weight, chi float64
	for _, r := range rs {
		if s, _, df := f(r); !math.IsNaN(s) {
			sds = append(sds, s)
			variance, weight = variance+df*s*s, weight+df
		}
	}
	if len(sds) == 0 {
		return math.NaN(), math.NaN()
	}
	sd = math.Sqrt(variance / weight)
	within := 0.0
	for _, r := range rs {
		if s, half, df := f(r); !math.IsNaN(s) {
			within += math.Pow(df/weight*half*s/sd, 2)
			chi += math.Pow((s-sd)/(half/1.96), 2)
		}
	}
	ci = math.Sqrt(within)
	spare := float64(len(sds) - 1)
	if spare > 0 && chi > spare {
		_, scatter := stat.MeanSD(sds)
		ci = math.Max(ci, stat.TQuantile(0.975, spare)*scatter/math.Sqrt(spare+1))
	}
	return sd, ci
}
