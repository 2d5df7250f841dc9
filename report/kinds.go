package report

import (
	"math"
	"slices"
	"strings"

	"ahull/analysis"
)

// kindsApart gives the results with each kind of drift as a group of its own,
// where drifts of one group turned out to be of two kinds: what stands for both
// together stands for neither.
func kindsApart(r *analysis.Results) *analysis.Results {
	out := *r
	out.LeewayFit, out.Drifts = nil, slices.Clone(r.Drifts)
	for _, f := range r.LeewayFit {
		if !f.Mixed {
			out.LeewayFit = append(out.LeewayFit, f)
			continue
		}
		for i, p := range f.Parts {
			name := kindName(f, i)
			out.LeewayFit = append(out.LeewayFit, partFit(f, p, name, r.Drifts))
			for j, d := range out.Drifts {
				if slices.Contains(p.Drifts, d.ID) {
					out.Drifts[j].Group = name
				}
			}
		}
	}
	return &out
}

// kindName tells a part from the others by how she lay, or where that is much
// the same, by how fast she drifted for the wind.
func kindName(f analysis.LeewayFit, i int) string {
	name := f.Group
	if name != "" {
		name += ", "
	}
	p := f.Parts[i]
	low, high, ok := spread(each(f.Parts, func(p analysis.LeewayPart) float64 { return float64(p.LiesDeg) })...)
	if ok && len(f.Parts) > 1 && p.LiesDeg.Known() && high-low >= 10 {
		return name + "lying " + Plain(float64(p.LiesDeg), 0, "°") + " to the wind"
	}
	slowest := true
	for _, o := range f.Parts {
		slowest = slowest && !(o.Downwind.OriginSlopePct < p.Downwind.OriginSlopePct)
	}
	if slowest {
		return name + "in her slower drifts"
	}
	return name + "in her faster drifts"
}

func each[T, R any](in []T, of func(T) R) []R {
	out := make([]R, len(in))
	for i, x := range in {
		out[i] = of(x)
	}
	return out
}

// partFit is one kind of drift as a group's fit.
func partFit(f analysis.LeewayFit, p analysis.LeewayPart, name string, drifts []analysis.Drift) analysis.LeewayFit {
	f.Group, f.Drifts, f.LiesDeg, f.N = name, p.Drifts, p.LiesDeg, p.Downwind.N
	f.Downwind, f.Crosswind, f.Right, f.Left = p.Downwind, p.Crosswind, nil, nil
	f.GustLagS, f.GustShare = analysis.Unknown(), analysis.Unknown() // they are of all drifts
	f.Mixed, f.Parts = false, nil
	f.WindMinKn, f.WindMaxKn = analysis.Unknown(), analysis.Unknown()
	var winds []float64
	for _, d := range drifts {
		if slices.Contains(p.Drifts, d.ID) {
			winds = append(winds, float64(d.Wind10Kn))
		}
	}
	if low, high, ok := spread(winds...); ok {
		f.WindMinKn, f.WindMaxKn = analysis.Number(low), analysis.Number(high)
	}
	return f
}

// twoKinds says of which groups the drifts are of two kinds, and which drifts
// are which; "" where none are.
func twoKinds(r *analysis.Results) string {
	var out []string
	for _, f := range r.LeewayFit {
		if !f.Mixed {
			continue
		}
		var kinds []string
		for i, p := range f.Parts {
			kinds = append(kinds, analysis.IDList(p.Drifts)+" "+strings.TrimPrefix(kindName(f, i), f.Group+", "))
		}
		who := "These drifts are of two kinds"
		if f.Group != "" {
			who = "The drifts of " + clean(f.Group) + " are of two kinds"
		}
		out = append(out, who+", which are not averaged: "+clean(strings.Join(kinds, "; "))+".")
	}
	return strings.Join(out, " ")
}

// gustLines say how leeway follows the gusts, group by group.
func gustLines(r *analysis.Results) []string {
	var out []string
	for _, f := range r.LeewayFit {
		if !f.GustLagS.Known() || f.GustLagS <= 0 || !f.GustShare.Known() {
			continue
		}
		who := "Her leeway"
		if f.Group != "" {
			who = "With " + clean(f.Group) + " her leeway"
		}
		out = append(out, who+" follows gusts with a lag of "+Estimate(math.Round(float64(f.GustLagS)), math.Max(1, math.Round(float64(f.GustLagCI))), "s")+
			", which explains "+Plain(100*float64(f.GustShare), 0, "%")+" of how it varies; the rest is her own wander.")
	}
	return out
}
