package speed

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"strings"
	"testing"

	"ahull/analysis/current"
	"ahull/analysis/rehearse"
	"ahull/analysis/runs"
	"ahull/analysis/stat"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// known is a boat whose curves are known between any points.
type known struct{ speed, fuel, trim stat.PCHIP }

func anyBoat(r *rand.Rand) known {
	faster := 0.85 + 0.3*r.Float64()
	var rpm, speed, fuel, trim []float64
	for _, s := range rehearse.DefaultBoat().Steady {
		rpm, speed = append(rpm, s.RPM), append(speed, s.SpeedKn*faster*knot)
		fuel, trim = append(fuel, s.FuelLH), append(trim, s.TrimDeg)
	}
	return known{stat.NewPCHIP(rpm, speed), stat.NewPCHIP(rpm, fuel), stat.NewPCHIP(speed, trim)}
}

// points are her points at some engine speeds, with errors as large as they say
// times noise.
func (k known) points(rpm []float64, noise float64, r *rand.Rand) []Point {
	var out []Point
	for _, n := range rpm {
		p := Point{RPM: n, Speed: k.speed.At(n), Fuel: k.fuel.At(n)}
		p.Trim = k.trim.At(p.Speed)
		p.CI95, p.FuelCI95, p.TrimCI95 = z95*0.04, z95*0.01*p.Fuel, z95*0.12
		p.Speed += noise * p.CI95 / z95 * r.NormFloat64()
		p.Fuel += noise * p.FuelCI95 / z95 * r.NormFloat64()
		p.Trim += noise * p.TrimCI95 / z95 * r.NormFloat64()
		p.PerLitre = p.Speed / knot / p.Fuel
		out = append(out, p)
	}
	return out
}

// TestReadingsHoldTruth: read off six to ten points, hump, planing speed and best
// economy lie within their ± of what the whole curve shows, and those are no
// wider than need be.
func TestReadingsHoldTruth(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	var fine []float64
	for n := 650.0; n <= 5300; n += 20 {
		fine = append(fine, n)
	}
	const boats = 80
	held, squares, halves, told := map[string]int{}, map[string]float64{}, map[string]float64{}, map[string]int{}
	for range boats {
		k := anyBoat(r)
		truth := reading(k.points(fine, 0, r), 400)
		rpm := []float64{650}
		n := 5 + r.IntN(5)
		for i := range n {
			rpm = append(rpm, 1000+(float64(i)+r.Float64())*(5300-1000)/float64(n))
		}
		sort.Float64s(rpm)
		e := economy(k.points(rpm, 1, r))
		for name, v := range map[string][3]float64{
			"hump": {e.Hump, truth.Hump, e.HumpCI95}, "planing": {e.Planing, truth.Planing, e.PlaningCI95},
			"best": {e.Best.PerLitre, truth.Best.PerLitre, e.Best.PerLitreCI95}, "best of all": {e.BestOfAll.PerLitre, truth.BestOfAll.PerLitre, e.BestOfAll.PerLitreCI95},
		} {
			if math.IsNaN(v[0]) { // the best above a hump that it can't be told from
				continue
			}
			told[name]++
			err := math.Abs(v[0] - v[1])
			squares[name] += err * err
			halves[name] += v[2]
			if err <= v[2] {
				held[name]++
			}
		}
		if truth.Best.Speed >= e.Best.From && truth.Best.Speed <= e.Best.To {
			held["best speed"]++
		}
	}
	told["best speed"] = told["best"]
	for name, n := range held {
		cases := float64(told[name])
		rms, half := math.Sqrt(squares[name]/cases), halves[name]/cases
		t.Logf("%s: held %d of %.0f, rms %.3f, ± %.3f", name, n, cases, rms, half)
		if float64(n) < cases*0.86 || cases < boats*2/3 {
			t.Errorf("%s: the ± holds the truth in %d of %.0f cases", name, n, cases)
		}
		if half > 1.6*z95*rms && name != "best speed" {
			t.Errorf("%s: ± %.3f in the mean for an rms of %.3f is too wide", name, half, rms)
		}
	}
}

func warned(r *Result, code string) bool {
	return find(r.Warnings, code).Code != ""
}

func find(ws []nmea.Warning, code string) nmea.Warning {
	for _, w := range ws {
		if w.Code == code {
			return w
		}
	}
	return nmea.Warning{}
}

// engine is runs there and back at some engine speeds, 5 m/s at 2000 rpm and in
// proportion.
func engine(rpm ...float64) []runsAt {
	var out []runsAt
	for _, n := range rpm {
		out = append(out, runsAt{n, n / 400})
	}
	return out
}

type runsAt struct{ rpm, speed float64 }

func curveOfRuns(all []runsAt, tri *trial.Trial) *Result {
	var rs []runs.Run
	for _, x := range all {
		for _, heading := range []float64{0, 180} {
			r := plain(fmt.Sprintf("R%d", len(rs)+1), heading, x.speed)
			r.Start, r.End = r.Start+1000*float64(len(rs)), r.End+1000*float64(len(rs))
			r.RPM, r.RPMSD = x.rpm, 4
			rs = append(rs, r)
		}
	}
	return Curve(rs, current.Fit(rs, plainDay()), tri, Rest{Deg: math.NaN(), SE: math.NaN()})
}

// TestSlipThatIsNone: with a gear ratio a hundred times too large no slip is
// shown, and it is said why; with one point's rpm wrong only that one's.
func TestSlipThatIsNone(t *testing.T) {
	tri := trial.Bare()
	tri.Engine.GearRatio, tri.Engine.PropellerPitch = 175, 0.4826
	r := curveOfRuns(engine(1000, 2000, 3000), tri)
	for _, p := range r.Points {
		if !math.IsNaN(p.Slip) || !math.IsNaN(p.SlipCI95) {
			t.Errorf("slip %v ± %v %% at %v rpm", p.Slip, p.SlipCI95, p.RPM)
		}
	}
	if w := find(r.Warnings, "no-slip"); !strings.Contains(w.Text, "gear_ratio") {
		t.Errorf("warnings %v", r.Warnings)
	}
	tri.Engine.GearRatio = 1.75
	odd := append(engine(1000, 2000, 3000), runsAt{500, 12})
	r = curveOfRuns(odd, tri)
	for _, p := range r.Points {
		if math.IsNaN(p.Slip) != (p.RPM < 600) {
			t.Errorf("slip %v %% at %v rpm", p.Slip, p.RPM)
		}
	}
	if !warned(r, "no-slip") {
		t.Errorf("warnings %v", r.Warnings)
	}
}

// TestNoRunUnderPower: a mark that calls a drift a run makes no point, and she
// does not idle in gear at 0 rpm.
func TestNoRunUnderPower(t *testing.T) {
	r := curveOfRuns(append(engine(2000, 3000), runsAt{0, 0.4}), trial.Bare())
	if len(r.Points) != 2 || !math.IsNaN(r.Economy.Idle.Speed) {
		t.Errorf("%d points, idle at %v m/s; want two and none", len(r.Points), r.Economy.Idle.Speed)
	}
	if w := find(r.Warnings, "no-way"); !strings.Contains(w.Text, "R5, R6") {
		t.Errorf("warnings %v", r.Warnings)
	}
}
