package plan

import "math"

// layout puts pieces one after the other and keeps account of the clock and of
// how far up-wind she is.
type layout struct {
	*settled
	steps []Step
	clock float64
	up    float64
	pairs int
}

// How long it takes until a run or a drift is steady, s, and other times that
// nobody chooses. Found from rehearsals.
const (
	settleRun   = 40.0
	settleSlow  = 55.0 // she turns slowly at little way
	settleDrift = 55.0 // until her way is off
	slowMS      = 4.0

	restFirst, restLast     = 120.0, 60.0
	harbour                 = 120.0
	swingTime               = 150.0
	circleApproach, circleS = 40.0, 50.0
	throttleS, stopS        = 45.0, 35.0
	leastReturn             = 40.0
	margin                  = 1.15 // of the drift's run that she starts up-wind
)

// lay lays out a day.
func (s *settled) lay(pieces []piece) *layout {
	l := &layout{settled: s}
	s.flow = s.flows()
	var begin, others, ends, heads, drifts []piece
	for _, p := range pieces {
		switch {
		case p.kind == drift:
			drifts = append(drifts, p)
		case p.kind == headPair:
			heads = append(heads, p)
		case p.kind == swing:
			begin = append([]piece{p}, begin...)
		case p.when == first:
			begin = append(begin, p)
		case p.when == last:
			ends = append(ends, p)
		default:
			others = append(others, p)
		}
	}
	l.out()
	l.do(begin)
	l.blocks(drifts, heads, others)
	l.do(ends)
	l.home()
	return l
}

// blocks puts the other work between the drifts, and before each drift what
// brings her up-wind.
func (l *layout) blocks(drifts, heads, others []piece) {
	n := len(drifts)
	along := math.Abs(wrap180(l.seaOff)) <= 30 // into the sea is up-wind
	if n > 0 && !along {
		others, heads = append(others, heads...), nil
	}
	for i, d := range drifts {
		l.do(others[i*len(others)/(n+1) : (i+1)*len(others)/(n+1)])
		if i < len(heads) {
			l.headPair(heads[i], l.driftRun(d.hold)*margin)
		} else {
			l.backUp(l.driftRun(d.hold) * margin)
		}
		l.drift(d, i%2 == 0)
	}
	l.do(others[n*len(others)/(n+1):])
	if len(heads) > n {
		l.do(heads[n:])
	}
}

func (l *layout) do(pieces []piece) {
	for _, p := range pieces {
		switch p.kind {
		case swing:
			l.add(l.step(Swing, p.why), p.point, swingTime, swingTime)
		case circles:
			for _, starboard := range []bool{true, false} {
				st := l.step(Turn, p.why)
				st.Starboard = starboard
				l.add(st, p.point, circleApproach+circleS, circleS)
			}
		case throttle:
			st := l.step(SpeedUp, p.why)
			st.OffWindDeg = 90
			l.add(st, p.point, throttleS, throttleS)
			st = l.step(Stop, p.why)
			l.add(st, Point{}, stopS, stopS)
		case headPair:
			l.headPair(p, 0)
		default:
			l.pair(p)
		}
	}
}

func (l *layout) out() {
	l.add(l.step(AtRest, "alongside, all in their places: zero of trim"), Point{}, restFirst, restFirst)
	l.passage("out")
}

func (l *layout) home() {
	l.passage("home")
	l.add(l.step(AtRest, "alongside: end the log, note fuel"), Point{}, restLast, restLast)
}

func (l *layout) passage(where string) {
	way := l.cruise.Speed
	st := l.step(Passage, where)
	seconds := harbour + l.OutM/way
	st.Seconds, st.Point, st.DistanceM, st.FuelL = seconds, l.cruise, l.OutM, l.flow.at(way)*(l.OutM/way)/3600+l.flow.at(l.slow.Speed)*harbour/3600
	l.put(st)
}

// pair runs out and back.
func (l *layout) pair(p piece) {
	l.pairs++
	l.run(p, p.axis, p.hold, l.pairs)
	l.run(p, p.axis+180, p.hold, l.pairs)
}

// headPair runs with the sea first and comes back into it, held long enough to
// end so far up-wind, m.
func (l *layout) headPair(p piece, need float64) {
	l.pairs++
	l.run(p, p.axis+180, p.hold, l.pairs)
	toGo := (need-l.up)/(p.point.Speed*math.Cos(p.axis*math.Pi/180)) - settleFor(p.point)/2
	l.run(p, p.axis, math.Max(p.hold, math.Ceil(toGo/5)*5), l.pairs)
}

// backUp brings her so far up-wind for the next drift. At cruising speed, unless
// the way is so short that the run would not count.
func (l *layout) backUp(need float64) {
	at := l.cruise
	for _, p := range l.Points {
		if p.Speed >= usualReturnKn*0.8*knot && p.Speed < at.Speed {
			at = p
			break
		}
	}
	toGo := (need-l.up)/at.Speed - settleFor(at)/2
	p := piece{point: at, why: "back up-wind for the next drift"}
	l.run(p, 0, math.Max(leastReturn, math.Ceil(toGo/5)*5), 0)
}

func settleFor(p Point) float64 {
	if p.Speed < slowMS {
		return settleSlow
	}
	return settleRun
}

func (l *layout) run(p piece, offWind, hold float64, pair int) {
	st := l.step(Run, p.why)
	st.Pair = pair
	st.OffWindDeg = math.Round(wrap360(offWind))
	st.HeadingDeg = wrap360(l.WindFromDeg + st.OffWindDeg)
	st.Sea = seaOf(st.OffWindDeg - l.seaOff)
	l.add(st, p.point, settleFor(p.point)+hold, hold)
}

func (l *layout) drift(p piece, starboard bool) {
	st := l.step(Drifts, p.why)
	st.Starboard = starboard
	st.Seconds, st.HoldS = settleDrift+p.hold, p.hold
	st.DistanceM = l.driftRun(p.hold)
	st.EndUpM = -st.DistanceM // from where she is
	st.FuelL = zeroIf(l.flow)
	l.put(st)
}

// zeroIf is no fuel, or not known where no flow is.
func zeroIf(f flows) float64 { return 0 * f.at(1) }

// step is an empty step.
func (s *settled) step(k Kind, why string) Step {
	return Step{Kind: k, Why: why, OffWindDeg: math.NaN(), HeadingDeg: math.NaN(), FuelL: zeroIf(s.flow)}
}

// add puts a step that the engine drives.
func (l *layout) add(st Step, at Point, seconds, hold float64) {
	st.Point, st.Seconds, st.HoldS = at, seconds, hold
	if at.Speed > 0 {
		st.DistanceM = at.Speed * (hold + (seconds-hold)/2)
		st.FuelL = l.flow.at(at.Speed) * seconds / 3600
	}
	if st.Kind == Run {
		st.EndUpM = st.DistanceM * math.Cos(st.OffWindDeg*math.Pi/180)
	}
	l.put(st)
}

// put sets clock and place; EndUpM comes in as how far the step goes up-wind.
func (l *layout) put(st Step) {
	st.BeginS, st.UpM, st.EndUpM = l.clock, l.up, l.up+st.EndUpM
	l.clock, l.up = l.clock+st.Seconds, st.EndUpM
	l.steps = append(l.steps, st)
}

// seaOf names the side of the sea by the angle between heading and waves.
func seaOf(offDeg float64) string {
	a := math.Abs(wrap180(offDeg))
	switch {
	case a <= 30:
		return "head"
	case a < 60:
		return "bow"
	case a <= 120:
		return "beam"
	case a <= 150:
		return "quartering"
	}
	return "following"
}
