package rehearse

import (
	"math"
	"slices"
	"strconv"
)

// account writes the truth down.
func account(v *Voyage) Truth {
	s, n := &v.Scenario, len(v.instants)
	t := Truth{
		Name: s.Name, Seed: s.Seed, Start: v.time(0), End: v.time(n),
		Variation: s.Variation, Deviation: s.Sensors.Deviation,
		Boat: BoatTruth{s.Boat.DownwindPct, math.Abs(s.Boat.CrosswindPct), s.Boat.LiesDeg, s.Boat.RollPeriodS},
	}
	t.Segments = v.segments()
	for _, seg := range t.Segments {
		v.accountSegment(&t, seg)
	}
	for i := 0; i < n; i += 600 {
		in := &v.instants[i]
		t.Current = append(t.Current, CurrentAt{v.time(i), digits(in.waterE, 5), digits(in.waterN, 5)})
	}
	m := v.means(0, n)
	t.Wind = WindTruth{digits(math.Hypot(m.windE, m.windN), 4), digits(wrap360(direction(m.windE, m.windN)+180), 3)}
	t.SpeedCurve = v.curve()
	return t
}

// digits rounds to n decimals, so that the JSON can be read.
func digits(x float64, n int) float64 {
	p := math.Pow10(n)
	return math.Round(x*p) / p
}

// time is the Unix time of instant i, to a tenth of a second.
func (v *Voyage) time(i int) float64 {
	ms := v.Scenario.Start.UnixMilli() + int64(i)*100
	return float64(ms) / 1000
}

// segments cuts the voyage where what she does changes.
func (v *Voyage) segments() []Segment {
	var out []Segment
	for i := 0; i < len(v.instants); {
		j, a := i, &v.instants[i]
		for j < len(v.instants) && v.instants[j].kind == a.kind && v.instants[j].leg == a.leg {
			j++
		}
		leg := &v.Scenario.Plan[a.leg]
		s := Segment{Kind: a.kind, Start: v.time(i), End: v.time(j), Group: leg.Group, Note: leg.Note, leg: a.leg, from: i, to: j}
		long := s.End - s.Start
		if s.Kind == KindRun && long < 30 || s.Kind == KindDrift && long < 60 {
			s.Kind = KindOther
		}
		out = append(out, s)
		i = j
	}
	return slices.Clip(join(out))
}

// join makes neighbours one where nothing tells them apart.
func join(in []Segment) []Segment {
	var out []Segment
	for _, s := range in {
		k := len(out) - 1
		if k >= 0 && out[k].Kind == s.Kind && (s.Kind == KindOther || s.Kind == KindIdle) {
			out[k].End, out[k].to = s.End, s.to
			continue
		}
		out = append(out, s)
	}
	return out
}

func (v *Voyage) accountSegment(t *Truth, s Segment) {
	switch s.Kind {
	case KindRun:
		t.Runs = append(t.Runs, v.accountRun(s))
	case KindDrift:
		t.Drifts = append(t.Drifts, v.accountDrift(s))
	case KindTurn:
		if turn := v.accountTurn(s); math.Abs(turn.AngleDeg) >= 30 {
			t.Turns = append(t.Turns, turn)
		}
	case KindSpeedUp:
		if up := v.accountSpeedUp(s); v.instants[s.from].u < 1 && up.ToMS > 8*knot {
			t.SpeedUps = append(t.SpeedUps, up)
		}
	case KindStop:
		if stop := v.accountStop(s); stop.FromMS > 3 {
			t.Stops = append(t.Stops, stop)
		}
	}
}

// means are plain means over instants from ≤ i < to.
type means struct{ windE, windN, waterE, waterN, leewayE, leewayN, heading, fuel float64 }

func (v *Voyage) means(from, to int) means {
	var m means
	first := v.instants[from].course
	for i := from; i < to; i++ {
		in := &v.instants[i]
		m.windE, m.windN = m.windE+in.windE, m.windN+in.windN
		m.waterE, m.waterN = m.waterE+in.waterE, m.waterN+in.waterN
		m.leewayE, m.leewayN = m.leewayE+in.leewayE, m.leewayN+in.leewayN
		m.heading += wrap180(in.course - first)
		m.fuel += in.fuel
	}
	n := float64(to - from)
	return means{
		m.windE / n, m.windN / n, m.waterE / n, m.waterN / n,
		m.leewayE / n, m.leewayN / n, wrap360(first + m.heading/n), m.fuel / n,
	}
}

func (v *Voyage) accountRun(s Segment) TrueRun {
	sc, m := &v.Scenario, v.means(s.from, s.to)
	leg := &sc.Plan[s.leg]
	calm := sc.Boat.SteadyMS(leg.RPM)
	keep := sc.Boat.speedFactor(&sc.Sea, m.heading, calm)
	u := calm * keep * leg.runs()
	met, move := sc.Sea.encounter(m.heading, u), sc.Boat.motionIn(&sc.Sea, m.heading)
	helm, helmOmega := sc.Boat.Motion.HelmSD, 2*math.Pi/sc.Boat.Motion.HelmPeriodS
	trend := wrap180(v.instants[s.to-1].course-v.instants[s.from].course) / (s.End - s.Start) * 60
	return TrueRun{
		Start: s.Start, End: s.End, RPM: leg.RPM, STWMS: digits(u, 4), HeadingDeg: digits(m.heading, 3),
		SeaAngleDeg: digits(sc.Sea.angle(m.heading), 2), HeadingSDDeg: digits(math.Hypot(move.yaw, helm), 3),
		YawRateRMS:  digits(math.Hypot(move.yaw*swingRate(met), helm*swingRate(helmOmega)), 3),
		TrendDegMin: digits(trend, 3), EncounterS: digits(2*math.Pi/met, 3),
		RollSDDeg: digits(move.roll, 3), PitchSDDeg: digits(move.pitch, 3),
		TrimDeg: digits(sc.Boat.TrimDeg(u)+leg.TrimOff, 3), FuelLH: digits(sc.Boat.FuelLH(leg.RPM)*orElse(leg.FuelFactor, 1), 3),
		SpeedLossPct: digits(100*(1-keep), 3),
		WindEast:     digits(m.windE, 4), WindNorth: digits(m.windN, 4),
		CurrentEast: digits(m.waterE, 5), CurrentNorth: digits(m.waterN, 5),
	}
}

func (v *Voyage) accountDrift(s Segment) TrueDrift {
	sc, m := &v.Scenario, v.means(s.from, s.to)
	leg, tack := &sc.Plan[s.leg], v.instants[s.from].tack
	w := math.Hypot(m.windE, m.windN)
	downE, downN := m.windE/w, m.windN/w
	down := m.leewayE*downE + m.leewayN*downN
	right := m.leewayE*downN - m.leewayN*downE
	h := math.Min(sc.Sea.HeightM, 1.5)
	return TrueDrift{
		Start: s.Start, End: s.End, Group: leg.Group, Tack: int(tack), Jibed: leg.Jibe,
		LeewayEast: digits(m.leewayE, 5), LeewayNorth: digits(m.leewayN, 5),
		DownwindMS: digits(down, 5), CrosswindMS: digits(right, 5),
		DivergenceDeg: digits(math.Atan2(right, down)/degree, 3),
		WindEast:      digits(m.windE, 4), WindNorth: digits(m.windN, 4), WindMS: digits(w, 4),
		WindFromDeg: digits(direction(-m.windE, -m.windN), 3),
		CurrentEast: digits(m.waterE, 5), CurrentNorth: digits(m.waterN, 5),
		WindOnBowDeg: tack * orElse(leg.LiesDeg, sc.Boat.LiesDeg), YawSDDeg: sc.Boat.DriftYawSD, YawPeriodS: sc.Boat.DriftYawS,
		RollSDDeg: digits(h*sc.Boat.DriftRollSD, 3), RollPeriodS: digits(sc.Boat.RollPeriodS*orElse(leg.RollFactor, 1), 3),
	}
}

// accountTurn follows her through the water, in the axes of the old course.
func (v *Voyage) accountTurn(s Segment) TrueTurn {
	leg := &v.Scenario.Plan[s.leg]
	turn := TrueTurn{Start: s.Start, End: s.End, Circle: leg.Do == DoCircle}
	along, across, angle := 0.0, 0.0, 0.0
	old := v.instants[s.from].course
	last := old
	downE, downN := vector(1, old)
	kept, steady := 0.0, 0.0
	for i := s.from; i < s.to; i++ {
		in := &v.instants[i]
		e, n := (in.velE-in.waterE)*stepS, (in.velN-in.waterN)*stepS
		along, across = along+e*downE+n*downN, across+e*downN-n*downE
		was := angle
		angle += wrap180(in.course - last)
		last = in.course
		if a := math.Abs(angle); turn.Circle && a > 30 && a < math.Abs(leg.TurnDeg)-30 {
			kept, steady = kept+math.Hypot(e, n)/stepS-(in.ahead-in.u), steady+1
		}
		if turn.Circle && math.Abs(was) < 90 && math.Abs(angle) >= 90 {
			turn.AdvanceM = digits(along, 1)
		}
		if turn.Circle && math.Abs(was) < 180 && math.Abs(angle) >= 180 {
			turn.DiameterM = digits(math.Abs(across), 1)
		}
	}
	turn.AngleDeg = digits(angle, 1)
	if turn.Circle {
		turn.RateDegS, turn.AngleDeg = leg.rate(), leg.TurnDeg
		turn.KeptPct = 100 * kept / steady / v.instants[s.from].u
	}
	return turn
}

func (v *Voyage) accountSpeedUp(s Segment) TrueSpeedUp {
	up := TrueSpeedUp{Start: s.Start, End: s.End, ToMS: digits(v.instants[s.to-1].u, 3), TimesS: map[string]float64{}}
	for _, kn := range []int{10, 20, 30} {
		for i := s.from; i < s.to; i++ {
			if v.instants[i].u >= float64(kn)*knot {
				up.TimesS[strconv.Itoa(kn)] = digits(v.time(i)-s.Start, 1)
				break
			}
		}
	}
	return up
}

func (v *Voyage) accountStop(s Segment) TrueStop {
	stop := TrueStop{Start: s.Start, End: s.End, FromMS: digits(v.instants[s.from].u, 3)}
	for i := s.from; i < s.to; i++ {
		in := &v.instants[i]
		stop.DistanceM += math.Hypot(in.velE-in.waterE, in.velN-in.waterN) * stepS
	}
	stop.DistanceM = digits(stop.DistanceM, 1)
	return stop
}

// curve is the calm-water curve at the boat's table and at the speeds run.
func (v *Voyage) curve() []Point {
	b := &v.Scenario.Boat
	var rpms []float64
	for _, p := range b.Steady {
		rpms = append(rpms, p.RPM)
	}
	for _, l := range v.Scenario.Plan {
		if l.Do == DoRun {
			rpms = append(rpms, l.RPM)
		}
	}
	slices.Sort(rpms)
	var out []Point
	for _, r := range slices.Compact(rpms) {
		out = append(out, Point{r, digits(b.SteadyMS(r), 4), digits(b.FuelLH(r), 3)})
	}
	return out
}
