package speed

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/runs"
	"ahull/analysis/trial"
)

// TestOneWayHoldsTruth: an engine speed run into the sea only comes out at what she
// makes both ways, within its ±, where the day has others run both ways; and where it
// has none, the ± holds the sea.
func TestOneWayHoldsTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(4, 4))
	const days = 20
	for _, pairs := range []int{3, 1, 0} {
		held, n := 0, 0
		for range days {
			lost := 0.01 + 0.05*r.Float64()
			var rs []runs.Run
			add := func(rpm, heading, speed float64) {
				q := plain(fmt.Sprintf("R%d", len(rs)+1), heading, speed)
				q.Start, q.End = q.Start+1000*float64(len(rs)), q.End+1000*float64(len(rs))
				q.RPM, q.RPMSD = rpm, 4
				rs = append(rs, q)
			}
			for k := range pairs {
				rpm := 2000 + 1000*float64(k)
				own := lost * (1 + 0.2*r.NormFloat64())
				add(rpm, 0, rpm/400*(1-own))
				add(rpm, 180, rpm/400*(1+own))
			}
			if pairs == 0 { // across only: they tell the current, and nothing of a head sea
				add(2000, 90, 5)
				add(2000, 270, 5)
			}
			add(5000, 10, 12.5*(1-lost*(1+0.2*r.NormFloat64())))
			got := Curve(rs, current.Fit(rs, plainDay()), trial.Bare(), Rest{Deg: math.NaN(), SE: math.NaN()})
			for _, p := range got.Points {
				if p.RPM == 5000 {
					n++
					if math.Abs(p.Speed-12.5) <= p.CI95 {
						held++
					}
					if p.SeaLossFrom != pairs {
						t.Fatalf("%d engine speeds are said to tell the sea, of %d", p.SeaLossFrom, pairs)
					}
					if p.BothWays || !warned(got, "one-way") {
						t.Fatal("a point run one way only is not told as one")
					}
				}
			}
		}
		t.Logf("%d pairs: held %d of %d", pairs, held, n)
		if n < days || held < n*9/10 {
			t.Errorf("%d engine speeds both ways: the ± holds both ways' speed in %d of %d days", pairs, held, n)
		}
	}
}
