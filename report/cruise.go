package report

import "ahull/analysis"

// cruise is a speed at which her fuel takes her farthest.
type cruise struct {
	kn, rpm        analysis.Number
	from, to       analysis.Number // kn, where that speed lies at 95 %
	nmPerL, nmPerC analysis.Number // and its ±
	onPlane, idle  bool
}

// planingCruise is the best speed that the curve gives: on the plane, where she
// planes.
func planingCruise(r *analysis.Results) cruise {
	e := r.Economy
	from := e.PlaningKn // she may plane from as slow as its ± allows
	if e.PlaningCI95Kn.Known() {
		from -= e.PlaningCI95Kn
	}
	return cruise{kn: e.BestKn, rpm: e.BestRPM, from: e.BestFromKn, to: e.BestToKn, nmPerL: e.BestNmPerL, nmPerC: e.BestNmPerLCI95,
		onPlane: e.PlaningKn.Known() && e.BestKn >= from && !(e.BestKn <= e.HumpKn+e.HumpCI95Kn)}
}

// hidden tells that above the hump no best can be told from the hump itself.
func hidden(r *analysis.Results) bool {
	e := r.Economy
	return e.HumpKn.Known() && e.BestAnyKn.Known() && !e.BestKn.Known()
}

// where tells the part of the curve that a cruise which is not the best of all is
// the best of.
func (c cruise) where() string {
	if c.onPlane {
		return "on the plane"
	}
	return "above the hump"
}

// worse tells that another cruise goes farther on a litre at quite another speed.
func (c cruise) worse(than cruise) bool {
	return c.kn.Known() && than.nmPerL.Known() && than.nmPerL > c.nmPerL && !alike(than.kn, c.kn)
}

// anyCruise is the best of the whole curve.
func anyCruise(r *analysis.Results) cruise {
	e := r.Economy
	best := cruise{kn: e.BestAnyKn, rpm: e.BestAnyRPM, from: e.BestAnyFromKn, to: e.BestAnyToKn, nmPerL: e.BestAnyNmPerL, nmPerC: e.BestAnyNmPerLCI}
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
	if !c.nmPerL.Known() {
		return text
	}
	text += " (" + scaledText(c.nmPerL, c.nmPerC, u.economy())
	sp := u.speed()
	switch low, high := sp.of(c.from), sp.of(c.to); {
	case !c.from.Known() || !c.to.Known():
	case fixed(low, 1) == fixed(high, 1):
		text += "; the best lies at no other speed of the curve"
	default:
		text += "; the best lies from " + rangeText([]float64{low, high}, 1, sp.unit)
	}
	return text + ")"
}
