package drift

import (
	"math"
	"testing"
)

// The simulator's boat follows the wind with a lag of 10 s: over days of three
// drifts in wind enough, that lag comes out within its ±, or nothing is said.
func TestLagOfGusts(t *testing.T) {
	told, held := 0, 0
	for seed := range uint64(16) {
		var got []Drift
		for _, d := range sail(seed+500, 600, 1) {
			got = append(got, d.got)
		}
		g := FitLeeway(got)[0].Gusts
		if math.IsNaN(g.Lag) {
			continue
		}
		told++
		if math.Abs(g.Lag-10) <= g.LagCI95 {
			held++
		}
		if !(g.LagCI95 <= g.Lag) || g.Share < gustShare || g.Share > 1 {
			t.Errorf("%+v", g)
		}
	}
	t.Logf("told on %d of 16 days, held on %d", told, held)
	if told < 6 || held < told-2 {
		t.Errorf("told on %d days, held on %d", told, held)
	}
}
