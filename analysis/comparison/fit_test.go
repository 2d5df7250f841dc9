package comparison

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"ahull/analysis/stat"
)

// near fails unless got is within a share of want.
func near(t *testing.T, what string, got, want, share float64) {
	t.Helper()
	if !(math.Abs(got-want) <= share*math.Abs(want)+1e-12) {
		t.Errorf("%s = %.10g, want %.10g", what, got, want)
	}
}

// dyestuff is the yield of six batches, five samples each: Davies & Goldsmith,
// Statistical Methods in Research and Production, 4th ed. 1972, table 6.2.
var dyestuff = [6][]float64{
	{1545, 1440, 1440, 1520, 1580}, {1540, 1555, 1490, 1560, 1495}, {1595, 1550, 1605, 1510, 1560},
	{1445, 1440, 1595, 1465, 1545}, {1595, 1630, 1515, 1635, 1625}, {1520, 1455, 1450, 1480, 1445},
}

func dyestuffData() Data {
	d := Data{At: math.NaN()}
	for i, y := range dyestuff {
		d.Days = append(d.Days, Day{Variant: i / 3, Y: y})
	}
	return d
}

// Of the batches alone restricted maximum likelihood gives 42.00 and 49.51 (Bates,
// lme4: Mixed-effects modeling with R, 2010, § 1.3; the analysis of variance gives
// the same, as the batches are equal).
func TestVariancesOfPublishedExample(t *testing.T) {
	s := summarize(dyestuffData(), false)
	ratio := s.ratio()
	within := math.Sqrt(s.solve(ratio).sigma2)
	near(t, "between batches", within*math.Sqrt(ratio), 42.0006, 1e-5)
	near(t, "within batches", within, 49.5101, 1e-6)
}

// Balanced days: the answer is the t-test on the day means, whatever the ratio of the variances.
// R 4.2.2, t.test(var.equal = TRUE) on the batch means: t 0.22443, p 0.8334,
// interval −109.9212 … 129.2545 for the other sign.
func TestBalancedIsTheTTestOnDayMeans(t *testing.T) {
	f := NewFit(dyestuffData())
	near(t, "t", math.Abs(f.Gap)/f.SE, 0.22443, 3e-5)
	near(t, "p", f.P, 0.8334, 1e-4)
	near(t, "lower end", f.Gap-f.HalfWidth(0.95), -129.2545, 1e-6)
	near(t, "upper end", f.Gap+f.HalfWidth(0.95), 109.9212, 1e-6)

	var means [2][]float64
	for i, y := range dyestuff {
		means[i/3] = append(means[i/3], stat.Mean(y))
	}
	_, sd0 := stat.MeanSD(means[0])
	_, sd1 := stat.MeanSD(means[1])
	near(t, "standard error", f.SE, math.Sqrt((sd0*sd0+sd1*sd1)/3), 1e-7)
}

// unequal is a made-up set of drifts: leeway in kn against wind in kn above 12,
// seven days of two to five drifts.
func unequal(t *testing.T, adjust bool) Data {
	t.Helper()
	file, err := os.Open("testdata/leeway-unequal-days.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	d := Data{At: math.NaN(), Days: make([]Day, 7)}
	if adjust {
		d.At = 0
	}
	for _, row := range rows[1:] {
		var v [4]float64
		for i, s := range row {
			if v[i], err = strconv.ParseFloat(s, 64); err != nil {
				t.Fatal(err)
			}
		}
		day := &d.Days[int(v[0])-1]
		day.Variant, day.X, day.Y = int(v[1]), append(day.X, v[2]), append(day.Y, v[3])
	}
	return d
}

// Independent: R 4.2.2 with lme4 1.1-31, lmer(y ~ after + x + (1|day), REML = TRUE)
// and without x; nlme 3.1-162, lme(y ~ after + x, random = ~1|day), gives the same
// and five degrees of freedom for the effect of after, which does not count what x
// takes from between the days.
func TestUnequalDaysAgainstLme4(t *testing.T) {
	for _, c := range []struct {
		adjust                                  bool
		before, gap, se, slope, daySD, withinSD float64
	}{
		{true, 0.5060786547, 0.03780348032, 0.01487298392, 0.04441188908, 0.01808180974, 0.009764376042},
		{false, 0.4710349101, 0.08526659414, 0.06791905611, 0, 0.08515292381, 0.0397610195},
	} {
		f := NewFit(unequal(t, c.adjust))
		near(t, "before", f.Value[Before], c.before, 1e-6)
		near(t, "gap", f.Gap, c.gap, 1e-6)
		near(t, "its standard error", f.SE, c.se, 1e-6)
		near(t, "slope", f.Slope, c.slope, 1e-6)
		near(t, "between days", f.DaySD, c.daySD, 1e-5)
		near(t, "within days", f.WithinSD, c.withinSD, 1e-5)
		if most, least := 5.0, 4.0; f.DF > most || f.DF < least || !c.adjust && f.DF != most {
			t.Errorf("%g degrees of freedom, want %g, less at most one with a condition", f.DF, most)
		}
	}
}

// Days that scatter no more than their values would have them: the variance of the
// day is 0, not negative. R 4.2.2, lme4 1.1-31: gap 0.55, standard error
// 0.337721121, within 0.5849501403 ("singular fit").
func TestDaysThatDoNotDiffer(t *testing.T) {
	f := NewFit(Data{At: math.NaN(), Days: []Day{
		{Before, []float64{5.1, 4.2, 6.0}, nil}, {Before, []float64{5.4, 4.6, 5.5}, nil},
		{After, []float64{6.1, 5.0, 5.9}, nil}, {After, []float64{5.2, 6.3, 5.6}, nil},
	}})
	near(t, "gap", f.Gap, 0.55, 1e-9)
	near(t, "its standard error", f.SE, 0.337721121, 1e-8)
	near(t, "within", f.WithinSD, 0.5849501403, 1e-8)
	if f.DaySD != 0 || f.DF != 2 {
		t.Errorf("day %g, %g degrees of freedom; want 0 and 2", f.DaySD, f.DF)
	}
}

// A condition that is constant within days is a line through day means, judged by
// ordinary least squares with the days less three as degrees of freedom.
func TestConditionOfTheDayCostsADay(t *testing.T) {
	x := []float64{-2, 0.5, 1, -1, 2, 3}
	y := []float64{1.0, 2.2, 2.1, 2.0, 3.9, 4.1}
	d := Data{At: 0}
	for i := range x {
		d.Days = append(d.Days, Day{Variant: i / 3, X: []float64{x[i], x[i]}, Y: []float64{y[i] - 0.1, y[i] + 0.1}})
	}
	f := NewFit(d)
	near(t, "degrees of freedom", f.DF, 3, 1e-9)
	// By hand: within variants Sxx = 5.1667 + 8.6667, Sxy = 2.0833 + 4.7667.
	near(t, "slope", f.Slope, (2.0833333333+4.7666666667)/(5.1666666667+8.6666666667), 1e-8)
}

func TestLacks(t *testing.T) {
	day := func(v int, x ...float64) Day { return Day{Variant: v, X: x, Y: x} }
	for _, c := range []struct {
		name string
		data Data
		want Lack
	}{
		{"one day before", Data{Days: []Day{day(0, 1, 2), day(1, 1), day(1, 2)}, At: math.NaN()}, LackBefore},
		{"one day after", Data{Days: []Day{day(0, 1, 2), day(0, 1), day(1, 2)}, At: math.NaN()}, LackAfter},
		{"a day without a value is none", Data{Days: []Day{day(0, 1, 2), day(0), day(1, 2), day(1, 3)}, At: math.NaN()}, LackBefore},
		{"never the same wind", Data{Days: []Day{day(0, 5, 6), day(0, 7), day(1, 8), day(1, 9, 11)}, At: 7.5}, LackOverlap},
		{"a wind that one did not meet", Data{Days: []Day{day(0, 5, 6), day(0, 9), day(1, 8), day(1, 9, 11)}, At: 10}, LackAt},
		{"enough", Data{Days: []Day{day(0, 5, 6), day(0, 9), day(1, 8), day(1, 9, 11)}, At: 8.5}, LackNothing},
	} {
		if got := c.data.Lacks(); got != c.want {
			t.Errorf("%s: %d, want %d", c.name, got, c.want)
		}
	}
}
