package plan

import (
	"fmt"
	"math"
	"slices"
)

// piece is a piece of work that a day has room for or not.
type piece struct {
	kind  pieceKind
	when  when
	axis  float64 // of a pair: its first heading, clockwise from the wind
	point Point
	hold  float64 // s
	what  string  // in words, where it is left out
	why   string  // it is done
	spare string  // why it can be spared
	test  Test
	round int
	must  bool

	repeat bool // of an engine speed run already
}

type pieceKind int

const (
	pair pieceKind = iota
	headPair
	drift
	circles
	throttle
	swing
)

// when in the day a piece has its place.
type when int

const (
	middle when = iota
	first
	last
)

// How long things are held, s. A run counts from 30 s, a drift from a minute;
// these make the ± small enough. Common practice, and rehearsals.
const (
	slowHold, speedHold, fuelHold, seaHold = 75.0, 70.0, 120.0, 90.0

	shortDrift, usualDrift, longDrift = 360.0, 480.0, 600.0
	shortDay, longDay                 = 3600.0, 7200.0
)

// slowHold is that of the slow runs, which are a point of the curve too.
func (s *settled) slowHold() float64 {
	if s.wants(Fuel) {
		return fuelHold
	}
	return slowHold
}

// usualHold is that of a drift where there is no room for long ones.
func (s *settled) usualHold() float64 {
	switch {
	case s.TimeS < shortDay:
		return shortDrift
	case s.TimeS >= longDay:
		return longDrift
	}
	return usualDrift
}

// fill chooses the day's pieces: with long drifts where there is room for three of
// them and nothing but drifts has to give way, else with shorter ones.
func (s *settled) fill() ([]piece, []LeftOut, error) {
	s.driftS = s.usualHold()
	chosen, out, err := s.choose()
	if err != nil || s.driftS == longDrift {
		return chosen, out, err
	}
	usual := s.driftS
	s.driftS = longDrift
	longer, left, err := s.choose()
	if n, all := counted(longer); err == nil && n >= leastDrifts {
		if m, total := counted(chosen); all-n >= total-m {
			return longer, left, nil
		}
	}
	s.driftS = usual
	return chosen, out, nil
}

// counted are the drifts, and all pieces.
func counted(pieces []piece) (drifts, all int) {
	for _, p := range pieces {
		if p.kind == drift {
			drifts++
		}
	}
	return drifts, len(pieces)
}

// Most of each that is worth a day.
const (
	rounds       = 8
	mostDrifts   = 8
	leastDrifts  = 3 // from which on they show how much they differ
	mostHeadRuns = 8
)

// candidates are all pieces in the order in which they are taken in: the first
// round of what was named first comes first.
func (s *settled) candidates() []piece {
	all := []piece{{kind: pair, when: first, axis: 0, point: s.slow, hold: s.slowHold(), must: true, why: "slow, both ways: the current before the drifts"}}
	for round := range rounds {
		for i, t := range s.Tests {
			for _, p := range s.round(t, round) {
				p.test, p.round = t, round
				p.must = i == 0 && round == 0
				all = append(all, p)
			}
		}
		if round == 0 {
			all = append(all, s.current()...)
		}
	}
	return all
}

// current are the pieces that make the current and the compass surer.
func (s *settled) current() []piece {
	return []piece{
		{kind: swing, when: first, point: s.slow, what: "the compass swing",
			why: "one slow circle: the compass's deviation", spare: "the runs tell the deviation too, if less surely"},
		{kind: pair, when: last, axis: 0, point: s.slow, hold: s.slowHold(), what: "the slow runs at the end",
			why: "slow, both ways: the current after the drifts", spare: "the current has to be taken from the runs before"},
		{kind: pair, when: first, axis: 90, point: s.slow, hold: slowHold, what: "the slow runs across the wind",
			why: "slow, across the wind: current and compass", spare: "one slow pair gives the current"},
	}
}

// round are the pieces of a test's n-th round, from 0.
func (s *settled) round(t Test, n int) []piece {
	switch t {
	case Drift:
		return s.driftRound(n)
	case HeadSea:
		return s.headRound(n)
	case Speed, Fuel:
		if s.Tests[slices.IndexFunc(s.Tests, func(t Test) bool { return t == Speed || t == Fuel })] != t {
			return nil // the same runs serve both
		}
		if s.wants(Fuel) {
			return s.speedRound(n, fuelHold, "speed and fuel: read the flow off the dash if it isn't logged")
		}
		return s.speedRound(n, speedHold, "its speed, the current taken out")
	case Sea:
		return s.seaRound(n)
	case Turns:
		return s.turnRound(n)
	}
	return nil
}

func (s *settled) driftRound(n int) []piece {
	count := 1
	if n == 0 {
		count = 2
	} else if n+1 >= mostDrifts {
		return nil
	}
	var out []piece
	for i := range count {
		out = append(out, piece{kind: drift, hold: s.driftS, what: fmt.Sprintf("drift %d", n+1+i),
			why: "engine off: leeway and how she lies", spare: "each drift makes leeway surer, by less and less"})
	}
	return out
}

func (s *settled) headRound(n int) []piece {
	count := 1
	if n == 0 {
		count = 2
	} else if n+1 >= mostHeadRuns {
		return nil
	}
	var out []piece
	for i := range count {
		out = append(out, piece{kind: headPair, axis: s.seaOff, point: s.cruise, hold: seaHold, what: fmt.Sprintf("head-sea pair %d", n+1+i),
			why: "into the sea and back: course keeping", spare: "each pair makes the heading spread surer, by less and less"})
	}
	return out
}

// speedRound takes the engine speeds in the order in which they matter: top and
// cruising speed, then the others from the fast end.
func (s *settled) speedRound(n int, hold float64, why string) []piece {
	order := s.speedOrder()
	repeat := n >= len(order)
	if n >= 2*len(order) {
		return nil
	}
	p := order[n%len(order)]
	if p.same(s.slow) {
		return nil // run for the current anyway, first and last
	}
	name := "the runs at " + p.name()
	if repeat {
		name = "a second pair at " + p.name()
	}
	return []piece{{kind: pair, axis: 0, point: p, hold: hold, what: name, why: why, repeat: repeat,
		spare: "the speed curve is drawn through the other points"}}
}

func (s *settled) speedOrder() []Point {
	n := len(s.Points)
	var order []Point
	add := func(p Point) {
		for _, q := range order {
			if p.same(q) {
				return
			}
		}
		order = append(order, p)
	}
	if !s.wants(HeadSea) {
		add(s.cruise)
	}
	add(s.Points[n-1])
	for i := n - 1; i >= 0; i-- {
		if !s.Points[i].same(s.cruise) {
			add(s.Points[i])
		}
	}
	if len(order) == 0 {
		add(s.cruise)
	}
	return order
}

func (s *settled) seaRound(n int) []piece {
	leg := func(axis float64, what string) piece {
		return piece{kind: pair, axis: s.seaOff + axis, point: s.cruise, hold: seaHold, what: "the runs " + what,
			why: "course keeping and motion", spare: "the other sides of the sea say most"}
	}
	switch n {
	case 0:
		if s.wants(HeadSea) {
			return []piece{leg(90, "across the sea")}
		}
		return []piece{leg(0, "into and with the sea"), leg(90, "across the sea")}
	case 1:
		return []piece{leg(45, "with the sea on the port bow and the starboard quarter")}
	case 2:
		return []piece{leg(-45, "with the sea on the starboard bow and the port quarter")}
	}
	return nil
}

func (s *settled) turnRound(n int) []piece {
	switch n {
	case 0:
		return []piece{{kind: circles, point: s.cruise, what: "the turning circles", why: "tactical diameter and speed kept", spare: "they can be done on any day"}}
	case 1:
		return []piece{{kind: throttle, point: s.Points[len(s.Points)-1], what: "the speed-up and the stop", why: "time to speed; distance to stop", spare: "each drift begins with a stop anyway"}}
	}
	return nil
}

// choose takes in piece after piece as long as there is time.
func (s *settled) choose() ([]piece, []LeftOut, error) {
	var chosen []piece
	var out []LeftOut
	room := s.TimeS * (1 - spareShare)
	full := map[Test]bool{}
	for _, p := range s.candidates() {
		if full[p.test] && p.round > 1 && !p.firstOfItsKind() {
			continue // what has had no room already is not followed by less of the same
		}
		with := append(chosen[:len(chosen):len(chosen)], p)
		need := s.lay(with).clock
		switch {
		case need <= room:
			chosen = with
		case p.must:
			return nil, nil, s.tooShort()
		case p.round <= 1 || p.firstOfItsKind():
			full[p.test] = p.test != ""
			out = append([]LeftOut{{p.what, fmt.Sprintf("no time: it takes %.0f min; %s", math.Ceil((need-s.lay(chosen).clock)/60), p.spare)}}, out...)
		}
	}
	return chosen, out, nil
}

// firstOfItsKind tells of an engine speed or a side of the sea that is not yet
// in the day.
func (p *piece) firstOfItsKind() bool { return p.kind == pair && !p.repeat }

// tooShort says how long the first test takes.
func (s *settled) tooShort() error {
	var must []piece
	for _, p := range s.candidates() {
		if p.must {
			must = append(must, p)
		}
	}
	need := s.lay(must).clock / (1 - spareShare)
	return fmt.Errorf("%.0f min is too short for the test of %s with the way out and back: it takes %.0f min, spare time included",
		s.TimeS/60, s.Tests[0], math.Ceil(need/300)*5)
}
