package drift

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// lying is a made drift that lies so many degrees to the wind.
func lying(id string, degrees, wind, pct float64) Drift {
	d := madeDrift(wind, pct/100*wind, 0.2*pct/100*wind, 0.01)
	d.ID, d.WindOnBow, d.Leeway = id, degrees, pct/100*wind*1.02
	d.bow, d.ownVariance = bowRecord{se: 1.5, known: 1.5}, sq(0.01)
	return d
}

// Two drifts with a sock out among three without, unmarked: the fit says so,
// names them and gives each kind its own line.
func TestSockAmongBareDrifts(t *testing.T) {
	ds := []Drift{lying("D1", 95, 6.5, 4.4), lying("D2", -97, 7, 4.3), lying("D3", 36, 6.8, 2.2), lying("D4", -34, 6.6, 2.1), lying("D5", 92, 7.1, 4.5)}
	f := FitLeeway(ds)[0]
	if !f.Mixed || len(f.Parts) != 2 || !slices.Equal(f.Parts[0].IDs, []string{"D3", "D4"}) || !slices.Equal(f.Parts[1].IDs, []string{"D1", "D2", "D5"}) {
		t.Fatalf("%+v", f)
	}
	if a, b := f.Parts[0].Downwind.OriginSlope, f.Parts[1].Downwind.OriginSlope; a < 0.02 || a > 0.023 || b < 0.043 || b > 0.0455 {
		t.Errorf("slopes %v and %v", a, b)
	}
	if len(f.Warnings) != 1 || f.Warnings[0].Code != "drifts-differ" || !strings.Contains(f.Warnings[0].Text, "D3 and D4 lay 35°") || !strings.Contains(f.Warnings[0].Text, "D1, D2 and D5 lay 95°") {
		t.Errorf("%v", f.Warnings)
	}
	for i := range ds { // as marked, nothing is amiss
		if ds[i].ID == "D3" || ds[i].ID == "D4" {
			ds[i].Group = "sock out"
		}
	}
	for _, f := range FitLeeway(ds) {
		if f.Mixed || len(f.Warnings) > 0 {
			t.Errorf("marked groups: %+v", f)
		}
	}
}

// Half the leeway the same way to the wind is another kind too.
func TestHalfTheLeewayIsAnotherKind(t *testing.T) {
	f := FitLeeway([]Drift{lying("D1", 95, 6.5, 4.4), lying("D2", 93, 7, 2.1), lying("D3", 96, 6.8, 4.2), lying("D4", 94, 6.6, 2.0)})[0]
	if !f.Mixed || !slices.Equal(f.Parts[0].IDs, []string{"D1", "D3"}) && !slices.Equal(f.Parts[0].IDs, []string{"D2", "D4"}) {
		t.Errorf("%+v", f)
	}
}

// Drifts of one kind scatter, and a vane that is askew sets the tacks apart:
// neither makes two kinds.
func TestDriftsOfOneKind(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 2))
	mixed := 0
	for range 300 {
		var ds []Drift
		off := 1.5 * rnd.NormFloat64()
		for i := range 3 + rnd.IntN(4) {
			side := float64(1 - 2*rnd.IntN(2))
			ds = append(ds, lying(fmt.Sprintf("D%d", i+1), side*(90+4*rnd.NormFloat64())+off, 5+3*rnd.Float64(), 4*(1+0.12*rnd.NormFloat64())))
		}
		if FitLeeway(ds)[0].Mixed {
			mixed++
		}
	}
	if mixed > 1 {
		t.Errorf("%d of 300 days taken apart", mixed)
	}
	askew := []Drift{lying("D1", 115, 6.5, 4.4), lying("D2", -75, 7, 4.3), lying("D3", 113, 6.8, 4.2)}
	for i := range askew {
		askew[i].bow.known = 11
	}
	if f := FitLeeway(askew)[0]; f.Mixed {
		t.Errorf("a vane known to be askew makes two kinds: %+v", f.Warnings)
	}
}
