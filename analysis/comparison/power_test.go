package comparison

import (
	"math"
	"testing"
)

// Independent: SciPy 1.10.1, nct.sf(limit, df, ncp) + nct.cdf(-limit, df, ncp) with
// limit = t.ppf(1 − alpha/2, df). The last rows are beyond where the library that is
// used here for the rest is right.
func TestPowerAgainstSciPy(t *testing.T) {
	for _, c := range []struct{ alpha, df, ncp, power float64 }{
		{0.05, 1, 2, 0.12575631775454132}, {0.05, 1, 8, 0.4697816702935785}, {0.05, 1, 20, 0.8833944429256758},
		{0.05, 1.3, 3.5, 0.2955167588933933}, {0.05, 2, 3.5, 0.4771605255995783}, {0.05, 2, 8, 0.9580506899922536},
		{0.05, 2.5, 2, 0.2569247950671721}, {0.05, 4, 0.5, 0.0678555901001521}, {0.05, 4, 3.5, 0.7448700589508713},
		{0.05, 6.5, 3.5, 0.8401811613507171}, {0.05, 10, 2, 0.4396273011321012}, {0.05, 30, 3.5, 0.9230606817144991},
		{0.0025, 1, 0.5, 0.0028061454351914123},
		{0.0025, 1, 60, 0.18627154985354066}, {0.0025, 1.3, 60, 0.5320622956312419}, {0.0025, 2, 60, 0.9998755060117394},
	} {
		if got := powerOf(c.ncp, c.alpha, c.df); math.Abs(got-c.power) > 2e-4 {
			t.Errorf("power at %g standard errors, %g df, alpha %g: %.6f, want %.6f", c.ncp, c.df, c.alpha, got, c.power)
		}
	}
}

// What is called detectable has the power that it is called for.
func TestDetectableHasItsPower(t *testing.T) {
	for _, alpha := range []float64{0.05, 0.05 / 17} {
		for _, days := range [][2]int{{2, 2}, {2, 3}, {4, 4}, {9, 3}} {
			d := Design{Days: days, PerDay: 4, DaySD: 0.03, WithinSD: 0.05}
			near(t, "power", d.Power(d.Detectable(alpha, 0.8), alpha), 0.8, 1e-3)
		}
	}
}

// By hand: three days each, four drifts a day, 0.03 kn from day to day and 0.04 kn
// within: √((0.0009 + 0.0016/4)·2/3) = 0.02944; t(0.975, 4) = 2.776445 (any table).
func TestHalfWidthByHand(t *testing.T) {
	d := Design{Days: [2]int{3, 3}, PerDay: 4, DaySD: 0.03, WithinSD: 0.04}
	near(t, "half-width", d.HalfWidth(0.95), 2.776445*math.Sqrt(0.0013*2/3), 1e-6)
	if one := (Design{Days: [2]int{1, 5}, PerDay: 4, DaySD: 0.03}); !math.IsInf(one.HalfWidth(0.95), 1) || !math.IsInf(one.Detectable(0.05, 0.8), 1) {
		t.Error("one day of a variant must tell nothing")
	}
}

// The days needed are the fewest that do, and more drifts a day can't mend days
// that differ.
func TestMoreNeeded(t *testing.T) {
	d := Design{Days: [2]int{2, 2}, PerDay: 3, DaySD: 0.02, WithinSD: 0.05}
	n := d.DaysNeeded(0.06, 0.05, 0.8, 40)
	for _, days := range []int{n - 1, n} {
		e := d
		e.Days = [2]int{days, days}
		if shows := e.Detectable(0.05, 0.8) <= 0.06; shows != (days == n) {
			t.Errorf("%d days of each needed, but %d show it: %v", n, days, shows)
		}
	}
	if got := d.PerDayNeeded(0.01, 0.05, 0.8, 1000); got != 0 {
		t.Errorf("%d drifts a day can't show less than the days differ", got)
	}
	d.DaySD = 0
	many := d.PerDayNeeded(0.06, 0.05, 0.8, 1000)
	e := d
	e.PerDay = float64(many)
	if many < 4 || e.Detectable(0.05, 0.8) > 0.06 {
		t.Errorf("%d drifts a day show %g", many, e.Detectable(0.05, 0.8))
	}
}
