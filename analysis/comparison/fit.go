package comparison

import (
	"math"

	"ahull/analysis/stat"
)

// Fit is the model fitted to the data:
//
//	y_ij = a + β·[after] + b·(x_ij − at) + day_j + e_ij
//
// with independent normal effects of the day and of the single drift or run,
// their two variances by restricted maximum likelihood (Patterson & Thompson
// 1971; Pinheiro & Bates, Mixed-Effects Models in S and S-PLUS, 2000, ch. 2).
// The ratio of the two is profiled; the rest follows in closed form.
type Fit struct {
	Value    [2]float64 // before and after, at the condition compared at
	ValueSE  [2]float64
	Gap      float64 // β: after − before
	SE       float64 // of Gap
	Slope    float64 // b; 0 where nothing is adjusted for
	Between  float64 // share of what is known of b that comes from between days, 0…1
	DF       float64 // of Student's t for Gap: see below
	DaySD    float64 // of the effect of the day
	WithinSD float64 // of single values; NaN where no day has two
	P        float64 // two-sided
	Days     [2]int
	PerDay   float64 // values a day (harmonic mean)
	at       float64
	cov      [3][3]float64
	columns  int
}

// The variant does not change within a day, so its effect is judged by days:
// degrees of freedom are the days less the two means ("containment": Pinheiro &
// Bates 2000, § 2.4.2; Schluchter & Elashoff 1990). A condition that differs
// from day to day is itself learnt from the days and costs up to one more: the
// share of b's information that lies between days, which is 1 for a condition
// that is constant within days (exact then, for equal days) and 0 for one that
// varies within them alone (exact too). Between these our own interpolation.
func degrees(days [2]int, between float64) float64 {
	return float64(days[Before]+days[After]-2) - between
}

// NewFit fits the model. Of data that lack something (see Data.Lacks) it gives
// what can be given, and NaN for the rest.
func NewFit(d Data) Fit {
	s := summarize(d, true)
	ratio := s.ratio()
	g := s.solve(ratio)
	f := Fit{
		Days: d.days(), PerDay: d.perDay(), at: d.At, cov: g.cov, columns: len(s.use),
		Gap: math.NaN(), SE: math.NaN(), P: math.NaN(), DF: math.NaN(), DaySD: math.NaN(), WithinSD: math.NaN(),
	}
	f.Value, f.ValueSE = [2]float64{math.NaN(), math.NaN()}, [2]float64{math.NaN(), math.NaN()}
	if !g.ok {
		f.onlyMeans(d)
		return f
	}
	f.Between = s.between(ratio)
	f.DF = degrees(f.Days, f.Between)
	f.Gap, f.Value = g.b[1], [2]float64{g.b[0], g.b[0] + g.b[1]}
	if len(s.use) == 3 {
		f.Slope = g.b[2]
	}
	if !(f.DF > 0) {
		return f
	}
	f.WithinSD = math.Sqrt(g.sigma2)
	f.DaySD = f.WithinSD * math.Sqrt(ratio)
	if !s.repeats() {
		f.DaySD, f.WithinSD = f.WithinSD, math.NaN()
	}
	f.SE = math.Sqrt(g.cov[1][1])
	f.ValueSE = [2]float64{f.errorAt(Before, d.At), f.errorAt(After, d.At)}
	if f.SE > 1e-9*(math.Abs(f.Value[0])+math.Abs(f.Value[1])) {
		f.P = 2 * tCDF(-math.Abs(f.Gap)/f.SE, f.DF)
	}
	return f
}

// onlyMeans gives a plain mean of each side where the model can't be fitted.
func (f *Fit) onlyMeans(d Data) {
	var means [2][]float64
	for _, day := range d.Days {
		if len(day.Y) > 0 {
			means[day.Variant] = append(means[day.Variant], stat.Mean(day.Y))
		}
	}
	for v := range means {
		f.Value[v] = stat.Mean(means[v])
	}
	f.Gap = f.Value[After] - f.Value[Before]
}

// errorAt is the standard error of a variant's line at condition x.
func (f *Fit) errorAt(variant int, x float64) float64 {
	z := [3]float64{1, float64(variant), x - f.at}
	sum := 0.0
	for i := range f.columns {
		for j := range f.columns {
			sum += z[i] * z[j] * f.cov[i][j]
		}
	}
	return math.Sqrt(sum)
}

// At is a variant's line at condition x and the half-width of its interval at
// a level such as 0.95.
func (f *Fit) At(variant int, x, level float64) (y, half float64) {
	y = f.Value[variant]
	if f.columns == 3 {
		y += f.Slope * (x - f.at)
	}
	return y, stat.TQuantile((1+level)/2, f.DF) * f.errorAt(variant, x)
}

// HalfWidth is the half-width of the interval for Gap at a level such as 0.95.
func (f *Fit) HalfWidth(level float64) float64 {
	return stat.TQuantile((1+level)/2, f.DF) * f.SE
}
