package report

import (
	"math"

	"ahull/analysis"
)

// cruise is a speed at which her fuel takes her farthest.
type cruise struct {
	kn, rpm        analysis.Number
	nmPerL, nmPerC analysis.Number // and its ±
	onPlane, idle  bool
}

// planingCruise is the best speed that the curve gives: on the plane, where she
// planes.
func planingCruise(r *analysis.Results) cruise {
	e := r.Economy
	return cruise{kn: e.BestKn, rpm: e.BestRPM, nmPerL: e.BestNmPerL, nmPerC: analysis.Unknown(),
		onPlane: e.PlaningKn.Known() && e.BestKn >= e.PlaningKn}
}

// anyCruise is the best of the whole curve, with its ± where that is one of the
// curve's points.
func anyCruise(r *analysis.Results) cruise {
	e := r.Economy
	best := cruise{kn: e.BestAnyKn, rpm: e.BestAnyRPM, nmPerL: e.BestAnyNmPerL, nmPerC: analysis.Unknown()}
	for _, p := range r.SpeedCurve {
		if best.nmPerL.Known() && math.Abs(float64(p.NmPerL-best.nmPerL)) < 1e-6 {
			best.nmPerC = p.NmPerLCI95
		}
	}
	best.idle = e.IdleInGearKn.Known() && alike(best.kn, e.IdleInGearKn)
	return best
}

// name tells idling from driving.
func (c cruise) name() string {
	if c.idle {
		return "idling in gear"
	}
	return "driving slowly"
}

func (c cruise) words(u Units) string {
	text := speedText(c.kn, analysis.Unknown(), u.speed()) + atRPM(c.rpm)
	if c.nmPerL.Known() {
		text += " (" + scaledText(c.nmPerL, c.nmPerC, u.economy()) + ")"
	}
	return text
}
