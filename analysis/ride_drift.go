package analysis

import (
	"math"
	"slices"
)

// rideGroups is how many groups of drifts a sheet has room for.
const rideGroups = 3

// rideDrift is how she drifted when she stopped, each group apart.
func rideDrift(r *Results) ([]RideMeasure, *RideMissing) {
	if len(r.Drifts) == 0 {
		return nil, &RideMissing{RideDrift, "how she drifts: she was not stopped for one; engine off for five minutes or more"}
	}
	var out []RideMeasure
	told := false
	for _, group := range rideDriftGroups(r) {
		d := longestDrift(r, group)
		if !d.LeewayKn.Known() {
			if d.SOGKn.Known() {
				v := driftValue(d, d.SOGKn, Unknown())
				v.OverGround = true
				out = append(out, measure(RideDriftOver, "kn", v))
			}
			continue
		}
		told = true
		out = append(out, measure(RideDrift, "kn", longestValue(r, d, d.LeewayKn, d.LeewayCI95Kn, func(d Drift) Number { return d.LeewayKn })))
		if v, ok := driftShare(r, d); ok {
			out = append(out, measure(RideDriftShare, "%", v))
		}
		if group == "" {
			out = append(out, howSheLay(r, d)...)
		}
	}
	if !told {
		return out, &RideMissing{RideDrift, "how wind and waves alone drift her: no current could be told from this ride; " + connectCompass(r) + "run a throttle setting both ways before the drift"}
	}
	return out, nil
}

// rideDriftGroups are the first groups of drifts, those without a name first.
func rideDriftGroups(r *Results) []string {
	var out []string
	for _, d := range r.Drifts {
		if !slices.Contains(out, d.Group) {
			out = append(out, d.Group)
		}
	}
	if i := slices.Index(out, ""); i > 0 {
		out = slices.Insert(slices.Delete(out, i, i+1), 0, "")
	}
	return out[:min(rideGroups, len(out))]
}

// longestDrift is the longest of a group whose leeway is known, else the longest.
func longestDrift(r *Results, group string) Drift {
	var best Drift
	first := true
	for _, d := range r.Drifts {
		if d.Group != group {
			continue
		}
		longer := d.End.Sub(d.Start) > best.End.Sub(best.Start)
		if first || d.LeewayKn.Known() && !best.LeewayKn.Known() || longer && d.LeewayKn.Known() == best.LeewayKn.Known() {
			best, first = d, false
		}
	}
	return best
}

func driftValue(d Drift, value, ci95 Number) RideValue {
	v := rideValue(value, ci95)
	v.WindKn, v.Group, v.Of = d.Wind10Kn, d.Group, []string{d.ID}
	return v
}

// longestValue is a value of the longest drift d, with those of all the drifts of its
// group; without their signs where they have both.
func longestValue(r *Results, d Drift, value, ci95 Number, of func(Drift) Number) RideValue {
	v := driftValue(d, value, ci95)
	var all []Number
	for _, o := range r.Drifts {
		if n := of(o); o.Group == d.Group && n.Known() {
			all = append(all, n)
		}
	}
	v.BothSides = len(all) > 0 && slices.Min(all) < 0 && slices.Max(all) > 0
	for _, n := range all {
		if v.BothSides {
			n = max(n, -n)
		}
		v.single(n)
	}
	return v
}

// driftShare is leeway straight downwind in percent of the wind: of the line through the
// drifts of the group, or where there is but one, or two kinds of them, of this drift.
func driftShare(r *Results, d Drift) (RideValue, bool) {
	for _, f := range r.LeewayFit {
		if f.Group == d.Group && !f.Mixed && len(f.Drifts) > 1 && f.Downwind.OriginSlopePct.Known() {
			v := rideValue(f.Downwind.OriginSlopePct, f.Downwind.OriginSlopeCI)
			v.Group, v.Of = f.Group, f.Drifts
			return v, true
		}
	}
	share := d.DownwindKn / d.Wind10Kn
	ci95 := Number(math.Hypot(float64(d.DownwindCI95Kn/d.Wind10Kn), float64(share*d.Wind10CI95Kn/d.Wind10Kn)))
	return driftValue(d, 100*share, 100*ci95), d.LeewayPct.Known() && share.Known()
}

// howSheLay is how she lay to the wind and rolled in a drift.
func howSheLay(r *Results, d Drift) []RideMeasure {
	var out []RideMeasure
	if d.WindOnBowDeg.Known() {
		out = append(out, measure(RideDriftLies, "°", longestValue(r, d, d.WindOnBowDeg, d.WindOnBowCI, func(d Drift) Number { return d.WindOnBowDeg })))
	}
	if d.RollSDDeg.Known() {
		v := driftValue(d, d.RollSDDeg, d.RollSDCI)
		v.From, v.To = SpreadRange(d.RollSDDeg, d.RollSDCI)
		out = append(out, measure(RideDriftRoll, "°", v))
	}
	return out
}
