package drift

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ahull/nmea"
)

// Drifts of one boat in one trim differ a little: how they scatter beyond what
// their own records show, and from where on a difference is another way to lie
// or to drift. Our own judgement.
const (
	liesScatterDeg = 4.0
	pctScatter     = 0.15 // share
	liesApartDeg   = 15.0
	pctApart       = 1.4 // ratio
	apartSigmas    = 4.0
)

// trait is one drift's value of what drifts are told apart by.
type trait struct {
	at       int // of the drift among the group's
	value    float64
	variance float64 // that drifts don't share
	shared   float64 // of an error that all share, which has the sign of the tack
	tack     float64 // +1 or −1
}

// takeApart looks whether the drifts of a group are two kinds, by how she lay
// or by how fast she drifted for the wind, and if so fits each kind.
func (f *Fit) takeApart(ds []Drift) {
	apart := func(a, b float64) bool { return b-a >= liesApartDeg }
	few, many := split(ds, traits(ds, liesTrait), apart)
	if few == nil {
		apart = func(a, b float64) bool { return b >= pctApart*a }
		few, many = split(ds, traits(ds, pctTrait), apart)
	}
	if few == nil {
		return
	}
	a, b := fitGroup(f.Group, few), fitGroup(f.Group, many)
	f.Mixed, f.Parts = true, []Fit{a, b}
	f.Warnings = append(f.Warnings, nmea.Warning{Code: "drifts-differ", Text: fmt.Sprintf("%s; %s: these are not drifts of one kind. If something was out or different (a sock, people, load), mark one kind with a group under [[segment]] in the trial file; until then the mean of all stands for neither", a.told(), b.told())})
}

// told says how the drifts of a fit lay and drifted.
func (f Fit) told() string {
	s := joined(f.IDs)
	lay := fmt.Sprintf(" lay %.0f° to the wind and", f.Lies)
	if math.IsNaN(f.Lies) {
		lay = ""
	}
	return fmt.Sprintf("%s%s drifted downwind at %.1f %% of it", s, lay, 100*f.Downwind.OriginSlope)
}

// joined lists names as a sentence does.
func joined(names []string) string {
	if n := len(names); n > 1 {
		return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
	}
	return strings.Join(names, "")
}

// liesTrait is the size of the wind's angle on the bow. A vane that is askew
// makes it larger on one tack and smaller on the other.
func liesTrait(d Drift) trait {
	return trait{0, math.Abs(d.WindOnBow), sq(d.bow.se) + sq(liesScatterDeg), sq(d.bow.known), math.Copysign(1, d.WindOnBow)}
}

// pctTrait is leeway as a share of the wind.
func pctTrait(d Drift) trait {
	p := d.Leeway / d.Wind
	return trait{0, p, (d.ownVariance+d.currentVariance)/sq(d.Wind) + sq(pctScatter*p), 0, 1}
}

// traits are sorted by value; drifts without one are left out.
func traits(ds []Drift, of func(Drift) trait) []trait {
	var out []trait
	for i, d := range ds {
		if x := of(d); !math.IsNaN(x.value) {
			x.at = i
			out = append(out, x)
		}
	}
	slices.SortStableFunc(out, func(a, b trait) int {
		switch {
		case a.value < b.value:
			return -1
		case a.value > b.value:
			return 1
		}
		return 0
	})
	return out
}

// split cuts sorted traits in two where the halves' means differ most clearly;
// nil where they nowhere do. The smaller half comes first, each in time order.
func split(ds []Drift, all []trait, apart func(a, b float64) bool) (few, many []Drift) {
	best, at := apartSigmas, 0
	for k := 1; k < len(all); k++ {
		low, high := pool(all[:k]), pool(all[k:])
		common := math.Abs(low.tack-high.tack) * math.Sqrt(math.Max(low.shared, high.shared))
		z := (high.value - low.value) / math.Sqrt(low.variance+high.variance+sq(common))
		if apart(low.value, high.value) && z > best {
			best, at = z, k
		}
	}
	if at == 0 {
		return nil, nil
	}
	few, many = pick(ds, all[:at]), pick(ds, all[at:])
	if len(few) > len(many) {
		few, many = many, few
	}
	return few, many
}

// pool is the mean of traits.
func pool(all []trait) trait {
	var p trait
	n := float64(len(all))
	for _, x := range all {
		p.value += x.value / n
		p.variance += x.variance / n / n
		p.shared += x.shared / n
		p.tack += x.tack / n
	}
	return p
}

// pick gives the drifts of these traits in their own order.
func pick(ds []Drift, all []trait) []Drift {
	var out []Drift
	for i := range ds {
		if slices.ContainsFunc(all, func(x trait) bool { return x.at == i }) {
			out = append(out, ds[i])
		}
	}
	return out
}

// meanLies is the mean size of the wind's angle on the bow, degrees.
func meanLies(ds []Drift) float64 {
	sum, n := 0.0, 0.0
	for _, d := range ds {
		if !math.IsNaN(d.WindOnBow) {
			sum, n = sum+math.Abs(d.WindOnBow), n+1
		}
	}
	return sum / n
}
