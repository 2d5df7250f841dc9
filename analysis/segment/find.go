package segment

import (
	"math"

	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// Find cuts the track into segments that touch, in time order, and warns where
// the evidence is thin. Marks of the trial file win over what is found; a
// stretch to leave out splits the segments at its ends and is named in their
// Excluded field. A run shorter than 30 s and a drift shorter than 60 s is kept
// only where a person marked it.
func Find(tr *track.Track, tri *trial.Trial) ([]Segment, []nmea.Warning) {
	n := tr.Len()
	if n == 0 {
		return nil, nil
	}
	if tri == nil {
		tri = trial.Bare()
	}
	short, fold := fold(tr)
	m := newModel(newFeatures(short, tri))
	m.joints = fold.joints
	stretches := m.f.stretches()
	pieces := m.solve(stretches, toldCurrent(tri), tr.HeadingSigmaDeg)
	segs := m.name(pieces, stretches)
	warn := &warnings{}
	warn.aboutChannels(m.f)
	fold.unfold(segs)
	for i := range stretches {
		stretches[i] = [2]int{fold.full(stretches[i][0]), fold.full(stretches[i][1])}
	}
	segs = applyMarks(segs, tr, tri, warn)
	segs = applyExcludes(splitHoles(segs, holes(n, stretches)), tr, tri)
	demoteShort(segs)
	segs = joinAlike(segs)
	number(segs)
	warn.aboutDoubt(m, fold, segs, tr.Start)
	return segs, warn.list
}

// solve finds the pieces of each stretch, at least twice: with the current from
// what is surely driven, then with the current from all runs and drifts found.
func (m *model) solve(stretches [][2]int, told water, headingSigmaDeg float64) [][]piece {
	m.useCurrent(m.surePlateaus(), told, headingSigmaDeg)
	pieces := m.searchAll(stretches)
	rounds := 1
	if !m.f.hasHeading {
		rounds = 3 // the current comes from runs out and back: those at idle show late
	}
	for range rounds {
		m.useCurrent(m.foundPlateaus(pieces), told, headingSigmaDeg)
		pieces = m.searchAll(stretches)
	}
	for i, s := range stretches {
		ps := m.madeFastAll(m.merge(pieces[i]))
		ps = m.refine(ps, s[0], s[1])
		pieces[i] = fillChanges(m.wayOff(m.sound(m.merge(ps))), s[0], s[1])
	}
	return pieces
}

// likelier is how the piece is best explained by a boat that is not driven.
func (m *model) likelier(p piece) state {
	best, least := p.state, math.Inf(1)
	for k := drifting; k <= anchored; k++ {
		if p.to-p.from < shortest[k] {
			continue
		}
		if price := m.fit(k, p.from, p.to) + m.evidence(k, p.from, p.to); price < least {
			best, least = k, price
		}
	}
	return best
}

// sound looks again at pieces whose edges have moved: which kind of lying still it
// is, and whether drifts and short runs are even enough and like what they are
// called. A long run may wander.
func (m *model) sound(ps []piece) []piece {
	for i := range ps {
		p := &ps[i]
		if p.state == drifting || p.state.idle() {
			p.state = m.likelier(*p)
		}
		if p.state == drifting && m.hasJoint(*p) {
			p.state = held // no drift stays within a few boat's lengths for an hour and a half
		}
		if p.state == anchored && m.anchorEvidence(p.from, p.to) > mostAnchor {
			p.state = changing
		}
		if p.state == drifting && (m.uneven(*p) || anchoring(ps, i) || m.pulled(*p)) || p.state == driven && p.to-p.from < 90 && (atOnce(ps, i) || !m.soundRun(*p)) {
			p.state = changing
		}
	}
	return ps
}

// wayOff moves the beginning of a spell at anchor to where she no longer goes
// ahead through the water: against wind and stream she may still do so where she
// hardly moves over the ground.
func (m *model) wayOff(ps []piece) []piece {
	const off, most = 0.2, 60 // m/s, s
	for i := range ps {
		p := &ps[i]
		if p.state != anchored || !m.f.hasHeading || i == 0 || ps[i-1].state.idle() {
			continue
		}
		for last := min(p.from+most, p.to); p.from < last; p.from++ {
			a, b := max(0, p.from-2), min(p.from+3, p.to)
			he, hn, ok := m.heading(a, b)
			if !ok || m.we.mean(a, b)*he+m.wn.mean(a, b)*hn < off {
				break
			}
		}
	}
	return ps
}

// mostAnchor is the price, nats, from which what looks least unlike riding to an anchor
// is not that either: warped and towed along, say.
const mostAnchor = 8.0

// atOnce tells whether a run begins or ends at a berth or an anchor, with no way
// gathered or lost between: then lines or hands move her.
func atOnce(ps []piece, i int) bool {
	return stateAt(ps, i-1).idle() || stateAt(ps, i+1).idle()
}

// anchoring tells whether a short drift only leads to a spell at anchor, or away
// from one: there a line is being paid out or taken in.
func anchoring(ps []piece, i int) bool {
	p := ps[i]
	for k := max(0, i-2); k <= min(len(ps)-1, i+2); k++ {
		if ps[k].state.idle() && max(ps[k].from-p.to, p.from-ps[k].to) < 30 {
			return p.to-p.from < 120
		}
	}
	return false
}

// pulled tells whether a drift goes so unlike what wind and water do to her that
// somebody has her in tow. A long one is believed more.
func (m *model) pulled(p piece) bool {
	return m.drifting(p.from, p.to).doubt() > 4.5+0.01*float64(p.to-p.from)
}

func (m *model) uneven(p piece) bool {
	return m.fit(p.state, p.from, p.to) > 4+0.2*float64(p.to-p.from)
}

// soundRun tells whether a short run is even, goes as an engine would drive her,
// and not rather as wind and water would take her.
func (m *model) soundRun(p piece) bool {
	a, b := p.from, p.to
	if m.uneven(p) || m.driving(a, b).doubt() > 1.5+0.035*float64(b-a) {
		return false
	}
	// In a sea the bow swings but the path is straight; at the helm both swing. A
	// longer run may have some of the latter.
	const wander = 0.14 // radians, one standard deviation
	u := m.mean(m.f.u, a, b)
	if b-a < 60 && math.Sqrt(m.we.variance(a, b)+m.wn.variance(a, b)) > wander*u+0.1 {
		return false
	}
	return m.fit(driven, a, b)+m.evidence(driven, a, b) < m.fit(drifting, a, b)+m.evidence(drifting, a, b)
}

func (m *model) useCurrent(ps []plateau, told water, headingSigmaDeg float64) {
	for i := range ps {
		ps[i].blind = !m.f.hasHeading
	}
	m.f.setCurrent(roughCurrent(m.f.n, m.joints, ps, told, headingSigmaDeg))
	m.throughWater()
}

func (m *model) searchAll(stretches [][2]int) [][]piece {
	out := make([][]piece, len(stretches))
	for i, s := range stretches {
		out[i] = m.search(s[0], s[1])
	}
	return out
}

// foundPlateaus are the runs, and the drifts that cannot be taken for slow
// driving, of a first search.
func (m *model) foundPlateaus(pieces [][]piece) []plateau {
	var out []plateau
	for _, ps := range pieces {
		for _, p := range ps {
			switch {
			case p.state == driven && (m.logged.mean(p.from, p.to) > 0.5 || !m.f.hasHeading):
				out = append(out, m.plateau(p.from, p.to))
			case p.state == drifting && m.surelyDrift(p.from, p.to):
				d := m.plateau(p.from, p.to)
				d.drift = true
				out = append(out, d)
			}
		}
	}
	return out
}

// surelyDrift tells whether a drift shows the motion of the water. Where no heading
// tells runs at idle from drifts, the long ones do: all drifts of a day go alike,
// runs do not, and few hold one for long.
func (m *model) surelyDrift(a, b int) bool {
	const long = 150 // s
	margin := 4.0
	if !m.f.hasHeading && b-a >= long {
		margin = 0
	}
	return m.driftEvidence(a, b)+margin < m.drivenEvidence(a, b)
}

// name makes segments of the pieces; holes between stretches are other.
func (m *model) name(pieces [][]piece, stretches [][2]int) []Segment {
	r := m.newRates()
	var out []Segment
	at := 0
	for i, ps := range pieces {
		if stretches[i][0] > at {
			out = append(out, Segment{Kind: Other, From: at, To: stretches[i][0]})
		}
		for k, p := range ps {
			switch p.state {
			case driven:
				out = append(out, Segment{Kind: Run, From: p.from, To: p.to})
			case drifting:
				out = append(out, Segment{Kind: Drift, From: p.from, To: p.to})
			case held, anchored:
				out = append(out, Segment{Kind: Idle, From: p.from, To: p.to})
			default:
				out = append(out, m.explain(p, stateAt(ps, k+1), r)...)
			}
		}
		at = stretches[i][1]
	}
	if at < m.f.n {
		out = append(out, Segment{Kind: Other, From: at, To: m.f.n})
	}
	return out
}

func stateAt(ps []piece, k int) state {
	if k < 0 || k >= len(ps) {
		return changing
	}
	return ps[k].state
}
