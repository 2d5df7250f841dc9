package comparison

import (
	"math"
	"sort"

	"ahull/analysis/stat"
)

// Design is a comparison as it is planned, or as it was made: what has to be
// known to say what it can show.
type Design struct {
	Days     [2]int  // of each variant
	PerDay   float64 // drifts or runs a day
	DaySD    float64 // from day to day, besides what single values scatter
	WithinSD float64 // of single values of one day; NaN or 0: none besides DaySD
	DFLost   float64 // degrees of freedom spent on a condition, 0…1
	Widening float64 // of the standard error, by unequal days and conditions; 0 = 1
}

// SE is the standard error of the difference: of means of day means.
func (d Design) SE() float64 {
	v := d.DaySD * d.DaySD
	if d.WithinSD > 0 {
		v += d.WithinSD * d.WithinSD / d.PerDay
	}
	se := math.Sqrt(v * (1/float64(d.Days[Before]) + 1/float64(d.Days[After])))
	if d.Widening > 0 {
		se *= d.Widening
	}
	return se
}

// DF is the degrees of freedom of its Student's t.
func (d Design) DF() float64 { return degrees(d.Days, d.DFLost) }

// HalfWidth is the half-width of the interval for the difference that the design
// will give in the mean, at a level such as 0.95; infinite with fewer than two
// days of a variant.
func (d Design) HalfWidth(level float64) float64 {
	if d.Days[Before] < 2 || d.Days[After] < 2 {
		return math.Inf(1)
	}
	return stat.TQuantile((1+level)/2, d.DF()) * d.SE()
}

// Detectable is the smallest true difference that the design shows with this
// power (0.8) where a claim needs a two-sided p below alpha; infinite with fewer
// than two days of a variant. Student's t is noncentral then (Johnson, Kotz &
// Balakrishnan, Continuous Univariate Distributions 2, 1995, ch. 31).
func (d Design) Detectable(alpha, power float64) float64 {
	if d.Days[Before] < 2 || d.Days[After] < 2 {
		return math.Inf(1)
	}
	return noncentrality(secondedLevel(d.Days, alpha), power, d.DF()) * d.SE()
}

// Power is the chance that a true difference is shown.
func (d Design) Power(difference, alpha float64) float64 {
	if d.Days[Before] < 2 || d.Days[After] < 2 {
		return 0
	}
	return powerOf(math.Abs(difference)/d.SE(), secondedLevel(d.Days, alpha), d.DF())
}

// Detectable is the smallest true difference that data like these show. The
// standard error is itself an estimate, too small more often than too large
// where days are few; it is taken at what makes it as often the one as the other.
// Where the days scatter less than their values would have them, the variance of the
// day stops at 0 and a claim is harder: edge makes up for that.
func (f *Fit) Detectable(alpha, power float64) float64 {
	const edge = 0.1
	return noncentrality(secondedLevel(f.Days, alpha), power+edge*(1-power), f.DF) * f.SE * evenOdds(f.DF)
}

// evenOdds is by what an estimated standard deviation is multiplied to be as
// often too small as too large: the median of chi-squared lies below its mean.
func evenOdds(df float64) float64 {
	return math.Sqrt(df / stat.ChiSquaredQuantile(0.5, df))
}

// Design is the design that the data were made by, with the standard deviations
// found.
func (f *Fit) Design() Design {
	k := evenOdds(f.DF)
	d := Design{Days: f.Days, PerDay: f.PerDay, DaySD: k * f.DaySD, WithinSD: k * f.WithinSD, DFLost: f.Between}
	if plain := d.SE(); plain > 0 {
		d.Widening = k * f.SE / plain
	}
	return d
}

// DaysNeeded is how many days of each variant show a true difference, with as many
// values a day; 0 if more than most would be needed. Days already sailed are not
// taken away: a variant that has more keeps them.
func (d Design) DaysNeeded(difference, alpha, power float64, most int) int {
	from := max(2, min(d.Days[Before], d.Days[After]))
	n := from + sort.Search(most-from+1, func(k int) bool {
		e := d
		e.Days = [2]int{max(from+k, d.Days[Before]), max(from+k, d.Days[After])}
		return e.Detectable(alpha, power) <= math.Abs(difference)
	})
	if n > most {
		return 0
	}
	return n
}

// PerDayNeeded is how many values a day show a true difference with the same
// days; 0 if more than most would be needed, as when the days themselves differ
// too much.
func (d Design) PerDayNeeded(difference, alpha, power float64, most int) int {
	perSE := d.Detectable(alpha, power) / d.SE() // the same however many values a day has
	for n := max(1, int(math.Ceil(d.PerDay))); n <= most; n++ {
		e := d
		e.PerDay = float64(n)
		if perSE*e.SE() <= math.Abs(difference) {
			return n
		}
	}
	return 0
}

// noncentrality is the true difference, in standard errors, that is shown with
// this power: by bisection.
func noncentrality(alpha, power, df float64) float64 {
	if !(df > 0 && alpha > 0 && alpha < 1 && power > alpha && power < 1) {
		return math.NaN()
	}
	limit := stat.TQuantile(1-alpha/2, df)
	lo, hi := 0.0, 4.0
	for powerBeyond(hi, limit, df) < power && hi < 1e6 {
		lo, hi = hi, 2*hi
	}
	for hi-lo > 1e-5*hi {
		if mid := (lo + hi) / 2; powerBeyond(mid, limit, df) < power {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}
