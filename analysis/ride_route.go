package analysis

import (
	"math"
	"slices"
	"time"
)

// A route whose place is hidden is left out as far as hiddenEnds from each of its
// two ends, m: on leaving, on coming in, and on a visit nearer than visit. Passing
// by farther off stays: many cuts on one circle would show its middle.
const (
	hiddenEnds = 500.0
	visit      = 200.0
)

// routePoints is how many points of the route are kept at most.
const routePoints = 800

// RideRoute is where she went, in m east and north of the middle of the track, or,
// where the place is hidden, of the first point shown.
type RideRoute struct {
	EndsLeftOutM Number      `json:"ends_left_out_m"` // so much about either end is not shown; null: all is
	Pieces       []RoutePart `json:"pieces"`
}

// RoutePart is an unbroken piece of the route.
type RoutePart struct {
	Kind   string   `json:"kind"` // "way", "fastest" or "drift"
	EastM  []Number `json:"east_m"`
	NorthM []Number `json:"north_m"`
}

// rideRoute cuts the track into pieces of one kind.
func rideRoute(r *Results, measures []RideMeasure, hide bool) RideRoute {
	line := r.Track
	n := min(len(line.EastM), len(line.NorthM))
	shown := shownPoints(line, n, hide)
	out := RideRoute{EndsLeftOutM: Unknown(), Pieces: []RoutePart{}}
	east, north := 0.0, 0.0
	if hide {
		out.EndsLeftOutM = hiddenEnds
		if i := slices.Index(shown, true); i >= 0 {
			east, north = float64(line.EastM[i]), float64(line.NorthM[i])
		}
	}
	kindAt := routeKinds(r, measures)
	step := max(1, (n+routePoints-1)/routePoints)
	var now RoutePart
	flush := func() {
		if len(now.EastM) > 1 {
			out.Pieces = append(out.Pieces, now)
		}
		now = RoutePart{}
	}
	for i := 0; i < n; i += step {
		if !shown[i] {
			flush()
			continue
		}
		x, y := rounded(float64(line.EastM[i])-east, 0.1), rounded(float64(line.NorthM[i])-north, 0.1)
		kind := kindAt(line.Start.Add(time.Duration(float64(i) * float64(line.StepS) * float64(time.Second))))
		if len(now.EastM) > 0 && kind != now.Kind {
			now.EastM, now.NorthM = append(now.EastM, x), append(now.NorthM, y) // the pieces touch
			flush()
		}
		now.Kind, now.EastM, now.NorthM = kind, append(now.EastM, x), append(now.NorthM, y)
	}
	flush()
	return out
}

// shownPoints tells of each point whether it may be shown: it is known, and, where
// the place is hidden, it is not of the way out of the berth, into it, or of a
// visit to it in between.
func shownPoints(line TrackLine, n int, hide bool) []bool {
	shown := make([]bool, n)
	first, last := -1, -1
	for i := range n {
		if shown[i] = line.EastM[i].Known() && line.NorthM[i].Known(); shown[i] {
			if first < 0 {
				first = i
			}
			last = i
		}
	}
	if !hide || first < 0 {
		return shown
	}
	for _, end := range []int{first, last} {
		away := func(i int) float64 {
			return math.Hypot(float64(line.EastM[i]-line.EastM[end]), float64(line.NorthM[i]-line.NorthM[end]))
		}
		for i := 0; i < n; i++ {
			if !(away(i) <= visit) {
				continue
			}
			for j := i; j >= 0 && !(away(j) > hiddenEnds); j-- {
				shown[j] = false
			}
			for ; i < n && !(away(i) > hiddenEnds); i++ {
				shown[i] = false
			}
		}
	}
	return shown
}

// routeKinds tells the kind of the route at a time.
func routeKinds(r *Results, measures []RideMeasure) func(time.Time) string {
	var fastest []string
	for _, m := range measures {
		if m.Name == RideTop {
			fastest = m.Ride.Of
		}
	}
	return func(t time.Time) string {
		within := func(start, end time.Time) bool { return !t.Before(start) && t.Before(end) }
		for _, d := range r.Drifts {
			if within(d.Start, d.End) {
				return "drift"
			}
		}
		for _, run := range r.Runs {
			if within(run.Start, run.End) && slices.Contains(fastest, run.ID) {
				return "fastest"
			}
		}
		return "way"
	}
}
