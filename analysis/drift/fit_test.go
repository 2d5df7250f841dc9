package drift

import (
	"encoding/csv"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/mat"

	"ahull/analysis/current"
	"ahull/analysis/stat"
)

// madeDrift is a drift with a leeway down and across a northward wind of so many
// m/s, with the sampling errors claimed for them.
func madeDrift(wind, down, cross, se float64) Drift {
	p := Piece{From: 0, To: 600, Wind: wind, Downwind: down, Crosswind: cross, DownwindSE: se, CrosswindSE: se, DF: 12, windCos: 1}
	return Drift{
		Wind: wind, WindNorth: wind, Downwind: down, Crosswind: cross, Leeway: math.Hypot(down, cross),
		DownwindSE: se, CrosswindSE: se, SampleDF: 12, Tacks: []Piece{p},
	}
}

// table reads a CSV with a head line; lines of # are comments.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range rows[1:] {
		m := map[string]string{}
		for i, v := range row {
			m[rows[0][i]] = v
		}
		out = append(out, m)
	}
	return out
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// Downwind rows after Allen & Plourde 1999 and Allen 2005 (source in the table's
// head): drifts made with a row's slope, offset and published scatter about it
// must give slope and offset back inside their intervals, as often as a 95 %
// interval should.
func TestFitGivesPublishedRowsBack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(11, 7))
	tries, inSlope, inOffset := 0.0, 0.0, 0.0
	for _, row := range table(t, "leeway-dwl-cwl.csv") {
		slope, offset, scatter := number(t, row["dwl_slope_pct"])/100, number(t, row["dwl_offset_cms"])/100, number(t, row["dwl_syx_cms"])/100
		if scatter == 0 {
			continue
		}
		for range 40 {
			var ds []Drift
			for range 60 {
				w := 3 + 12*rnd.Float64()
				ds = append(ds, madeDrift(w, offset+slope*w+scatter*rnd.NormFloat64(), 0.1, 0.004))
			}
			l := FitLeeway(ds)[0].Downwind
			if math.IsNaN(l.Slope) { // the row scatters too much to tell an offset
				continue
			}
			tries++
			if math.Abs(l.Slope-slope) <= l.SlopeCI95 {
				inSlope++
			}
			if math.Abs(l.Offset-offset) <= l.OffsetCI95 {
				inOffset++
			}
		}
	}
	t.Logf("%.0f tries: slope held in %.3f, offset in %.3f", tries, inSlope/tries, inOffset/tries)
	if tries < 300 {
		t.Fatalf("only %.0f tries", tries)
	}
	for what, n := range map[string]float64{"slope": inSlope, "offset": inOffset} {
		if share := n / tries; share < 0.92 || share > 0.985 {
			t.Errorf("the interval holds the published %s in %.3f of tries", what, share)
		}
	}
}

// Crosswind rows of the two tacks: slopes of opposite sign come back on their
// own side.
func TestFitKeepsTacksApart(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 9))
	for _, row := range table(t, "leeway-dwl-cwl.csv") {
		right, left := number(t, row["cwl_r_slope_pct"])/100, number(t, row["cwl_l_slope_pct"])/100
		if number(t, row["cwl_r_offset_cms"]) != 0 || right < 0.01 {
			continue
		}
		var ds []Drift
		for i := range 40 {
			w := 4 + 10*rnd.Float64()
			slope := right
			if i%2 == 1 {
				slope = left
			}
			ds = append(ds, madeDrift(w, 0.03*w, slope*w+math.Copysign(0.004*rnd.NormFloat64(), slope), 0.004))
		}
		f := FitLeeway(ds)[0]
		if f.Right.N != 20 || f.Left.N != 20 || f.Crosswind.N != 40 {
			t.Fatalf("%s: %d right, %d left, %d together", row["class"], f.Right.N, f.Left.N, f.Crosswind.N)
		}
		if math.Abs(f.Right.OriginSlope-right) > f.Right.OriginCI95 || math.Abs(f.Left.OriginSlope-left) > f.Left.OriginCI95 {
			t.Errorf("%s: right %.4f ± %.4f, want %.4f; left %.4f ± %.4f, want %.4f", row["class"],
				f.Right.OriginSlope, f.Right.OriginCI95, right, f.Left.OriginSlope, f.Left.OriginCI95, left)
		}
	}
}

// Drifts that weigh the same are ordinary least squares: the independent
// implementation in stat, itself tested against NIST's certified values.
func TestFitOfEqualDriftsIsLeastSquares(t *testing.T) {
	x, y := []float64{4, 6, 7, 9, 12}, []float64{0.22, 0.295, 0.355, 0.44, 0.59}
	var ds []Drift
	for i := range x {
		d := madeDrift(x[i], y[i], 0.05, 0.01)
		d.Leeway = 0 // no usual scatter
		ds = append(ds, d)
	}
	l := FitLeeway(ds)[0].Downwind
	free, origin := stat.Regress(x, y), stat.RegressOrigin(x, y)
	for _, c := range []struct{ got, want float64 }{{l.Slope, free.Slope}, {l.Offset, free.Offset}, {l.OriginSlope, origin.Slope}, {l.Resid, free.Resid}} {
		if !(math.Abs(c.got-c.want) <= 1e-9) {
			t.Errorf("got %.12f, want %.12f", c.got, c.want)
		}
	}
	last := l.Band[len(l.Band)-1]
	if last.Wind != 12 || math.Abs(last.Leeway-(free.Offset+12*free.Slope)) > 1e-9 {
		t.Errorf("band ends at %+v", last)
	}
}

func TestOneDriftGivesALineThroughTheOriginOnly(t *testing.T) {
	f := FitLeeway([]Drift{madeDrift(8, 0.32, 0.1, 0.01)})[0]
	l := f.Downwind
	if math.Abs(l.OriginSlope-0.04) > 1e-12 || !(l.OriginCI95 > 0.002 && l.OriginCI95 < 0.01) {
		t.Errorf("%+v", l)
	}
	if !math.IsNaN(l.Slope) || !math.IsNaN(l.Offset) || l.WithOffset || len(l.Band) != 1 {
		t.Errorf("a line with an offset from one drift: %+v", l)
	}
	if f.Right.N != 1 || f.Left.N != 0 {
		t.Errorf("tacks: %d right, %d left", f.Right.N, f.Left.N)
	}
}

// Twenty drifts of one day share its current: twenty times the evidence does not
// make the ± smaller than the current's own.
func TestMoreDriftsDoNotLessenTheCurrentsError(t *testing.T) {
	const sd, wind = 0.05, 8.0
	var ds []Drift
	for range 20 {
		d := madeDrift(wind, 0.32, 0.1, 0.01)
		d.Current = current.Water{Cov: [2][2]float64{{sd * sd, 0}, {0, sd * sd}}}
		ds = append(ds, d)
	}
	l := FitLeeway(ds)[0].Downwind
	if least := 1.96 * sd / wind; l.OriginCI95 < least*0.999 {
		t.Errorf("± %.5f, the current alone makes %.5f", l.OriginCI95, least)
	}
}

func TestGroupsAreFittedApart(t *testing.T) {
	a, b := madeDrift(8, 0.32, 0.1, 0.01), madeDrift(8, 0.16, 0.1, 0.01)
	a.Group, b.Group = "sock out", "bare"
	fs := FitLeeway([]Drift{a, b, a})
	if len(fs) != 2 || fs[0].Group != "bare" || fs[0].Drifts != 1 || fs[1].Drifts != 2 {
		t.Fatalf("%+v", fs)
	}
	if math.Abs(fs[0].Downwind.OriginSlope-0.02) > 1e-12 || math.Abs(fs[1].Downwind.OriginSlope-0.04) > 1e-12 {
		t.Errorf("slopes %v, %v", fs[0].Downwind.OriginSlope, fs[1].Downwind.OriginSlope)
	}
}

// Every craft that is shown for scale must stand in the published table.
func TestSimilarCraftAreAsPublished(t *testing.T) {
	rows := table(t, "leeway-speed-table.csv")
	for _, s := range SimilarCraft() {
		found := false
		for _, r := range rows {
			if number(t, r["slope_pct"]) == s.SlopePct && number(t, r["offset_kn"]) == s.OffsetKn && number(t, r["divergence_deg"]) == s.Divergence {
				found = true
			}
		}
		if !found {
			t.Errorf("%s is not in the table", s.Craft)
		}
	}
}

// The parts of the current's doubt make its covariance, alone and joint; what two
// drifts share is in columns of both.
func TestWatersSquareBack(t *testing.T) {
	alone := [2][2]float64{{0.04, 0.01}, {0.01, 0.02}}
	joint := mat.NewSymDense(4, []float64{
		0.04, 0.01, 0.03, 0.002,
		0.01, 0.02, 0.001, 0.015,
		0.03, 0.001, 0.05, 0,
		0.002, 0.015, 0, 0.03,
	})
	a, b := madeDrift(6, 0.3, 0.1, 0.01), madeDrift(7, 0.3, 0.1, 0.01)
	a.Current.Cov = alone
	squared := func(x, y [][2]float64, i, j int) float64 {
		sum := 0.0
		for k := range min(len(x), len(y)) {
			sum += x[k][i] * y[k][j]
		}
		return sum
	}
	both := withWaters(func([][]float64) *mat.SymDense { return joint }, []Drift{a, b})
	for i := range 2 {
		for j := range 2 {
			for what, c := range map[string][2]float64{
				"alone":  {squared(a.waters(), a.waters(), i, j), alone[i][j]},
				"first":  {squared(both[0].waters(), both[0].waters(), i, j), joint.At(i, j)},
				"second": {squared(both[1].waters(), both[1].waters(), i, j), joint.At(2+i, 2+j)},
				"shared": {squared(both[0].waters(), both[1].waters(), i, j), joint.At(i, 2+j)},
			} {
				if math.Abs(c[0]-c[1]) > 1e-15 {
					t.Errorf("%s [%d][%d] %v, want %v", what, i, j, c[0], c[1])
				}
			}
		}
	}
}

// Doubts of the current that two drifts share do not shrink in their line; doubts
// of their own do, by √2.
func TestSharedCurrentDoesNotShrink(t *testing.T) {
	half := func(common float64) float64 {
		const v = 0.02 * 0.02
		joint := mat.NewSymDense(4, nil)
		for k := range 4 {
			joint.SetSym(k, k, v)
		}
		joint.SetSym(0, 2, common*v)
		joint.SetSym(1, 3, common*v)
		ds := []Drift{madeDrift(6, 0.3, 0.1, 1e-4), madeDrift(6, 0.3, 0.1, 1e-4)}
		for i := range ds {
			ds[i].Leeway = 0 // no scatter but the current's
		}
		return FitLeewayIn(func([][]float64) *mat.SymDense { return joint }, ds)[0].Downwind.OriginCI95
	}
	if one, own := half(0.9999), half(0); math.Abs(one/own-math.Sqrt2) > 0.02 {
		t.Errorf("shared ± %.5f, own ± %.5f: want √2 between them", one, own)
	}
}

// Winds too much alike can't tell an offset from a slope: only the line through
// the origin is given, and it holds the slope that the drifts were made with.
func TestNarrowWindsGiveALineThroughTheOriginOnly(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 4))
	held := 0
	for range 200 {
		var ds []Drift
		for range 5 {
			w := 6 + rnd.Float64()
			ds = append(ds, madeDrift(w, 0.042*w+0.015*rnd.NormFloat64(), 0.1, 0.012))
		}
		l := FitLeeway(ds)[0].Downwind
		if !math.IsNaN(l.Slope) || !math.IsNaN(l.Offset) || !math.IsNaN(l.OffsetCI95) || l.WithOffset {
			t.Fatalf("a line with an offset from winds of 6 to 7 m/s: %+v", l)
		}
		for _, b := range l.Band {
			if math.Abs(b.Leeway-l.OriginSlope*b.Wind) > 1e-12 || math.Abs(b.CI95-l.OriginCI95*b.Wind) > 1e-12 {
				t.Fatalf("the band is not that of the line through the origin: %+v", b)
			}
		}
		if math.Abs(l.OriginSlope-0.042) <= l.OriginCI95 {
			held++
		}
	}
	if held < 180 {
		t.Errorf("the slope is held in %d of 200", held)
	}
}

// A drift whose current is poorly known counts little beside one whose is well known.
func TestPoorlyKnownCurrentCountsLess(t *testing.T) {
	joint := mat.NewSymDense(4, nil)
	for k, sd := range []float64{0.005, 0.005, 0.15, 0.15} {
		joint.SetSym(k, k, sd*sd)
	}
	ds := []Drift{madeDrift(6, 0.3, 0.1, 0.004), madeDrift(6, 0.42, 0.1, 0.004)}
	l := FitLeewayIn(func([][]float64) *mat.SymDense { return joint }, ds)[0].Downwind
	if math.Abs(l.OriginSlope-0.05) > 0.001 {
		t.Errorf("slope %.4f, the drift with the known current says 0.05", l.OriginSlope)
	}
}

// A vane that is askew makes the crosswind part larger on one tack and smaller on
// the other: drifts on both tell it, drifts on one do not.
func TestBothTacksTellTheVane(t *testing.T) {
	const wind, down, cross, askew = 8.0, 0.32, 0.08, 4 * math.Pi / 180
	var both, one []Drift
	for i := range 6 {
		d := madeDrift(wind, down, cross+down*askew, 0.004)
		d.WindDirectionSE = 4
		one = append(one, d)
		if i%2 == 1 {
			d = madeDrift(wind, down, -cross+down*askew, 0.004)
			d.WindDirectionSE = 4
		}
		both = append(both, d)
	}
	told, untold := FitLeeway(both)[0].Crosswind, FitLeeway(one)[0].Crosswind
	if math.Abs(told.OriginSlope-cross/wind) > 1e-4 || told.OriginCI95 > untold.OriginCI95/2 {
		t.Errorf("on both tacks %.4f ± %.4f, want %.4f; on one ± %.4f", told.OriginSlope, told.OriginCI95, cross/wind, untold.OriginCI95)
	}
	if math.Abs(untold.OriginSlope-cross/wind) > untold.OriginCI95 {
		t.Errorf("on one tack %.4f ± %.4f", untold.OriginSlope, untold.OriginCI95)
	}
}
