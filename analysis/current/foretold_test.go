package current

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// What the others foretell of a run is what the fit says of her where her own velocity
// is known to a hundred metres a second only, that is, not at all.
func TestForetoldIsTheFitWithoutHer(t *testing.T) {
	d := simulate(with(fullDay, func(p *plan) { p.seed, p.log = 3, 0.96 }))
	fit := Fit(d.runs, d.Day).fit
	m := fit.model
	const blind = 1e4 // m²/s²
	for i := range m.runs {
		for _, sol := range fit.sols[:2] {
			off, _, ok := m.left(sol, i)
			without := *m
			without.fixed = mat.NewSymDense(m.rows, nil)
			without.fixed.CopySym(m.fixed)
			for k := range off.Len() {
				row := m.rowsOf(i)[k]
				without.fixed.SetSym(row, row, m.fixed.At(row, row)+blind)
			}
			again := without.solve(sol.scales)
			for k, row := range m.rowsOf(i) {
				if want := blind * again.alpha.AtVec(row); !ok || math.Abs(off.AtVec(k)-want) > 1e-3*(1+math.Abs(want)) {
					t.Fatalf("run %d, row %d: %.4f m/s off what the others foretell, %.4f by the fit without her", i, k, off.AtVec(k), want)
				}
			}
		}
	}
}

// What others foretell of a run, and how surely, holds: it differs from what she made
// by no more than both are known to, in some 95 of 100.
func TestForetoldHolds(t *testing.T) {
	var s score
	for seed := uint64(1); seed <= 8; seed++ {
		d := simulate(with(fullDay, func(p *plan) { p.seed = 100 + seed }))
		e := Fit(d.runs, d.Day)
		for _, r := range d.runs {
			if f, ok := e.Foretold(r.ID); ok {
				s.add(f.Made-f.Foretold, z95*math.Hypot(f.MadeSE, f.ForetoldSE))
			}
		}
	}
	t.Logf("%d runs, %.3f m/s off, held %.3f", s.n, s.rms(), s.coverage())
	if s.n < 100 || s.coverage() < 0.9 {
		t.Errorf("of %d runs %.3f as others foretell", s.n, s.coverage())
	}
	if _, ok := (&Estimate{}).Foretold("R01"); ok {
		t.Error("foretold without a fit")
	}
}
