package drift

import (
	"math"

	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/wind"
)

const (
	tackHeldS   = 60   // a change of side shorter than this is no jibe
	tackSmoothS = 31   // samples of the moving mean that the side is read from
	tackMinMS   = 0.03 // and with less crosswind than this on a side there is none
	tackSigmas  = 3.0
)

// pieces splits the drift where she jibed and into ten-minute windows.
func (d *Drift) pieces(tr *track.Track, m record) {
	a := downwindOf(d.WindEast, d.WindNorth)
	if math.IsNaN(a.east) || math.IsNaN(d.Leeway) {
		return
	}
	edges := m.jibes(a)
	for k := 1; k < len(edges); k++ {
		d.Tacks = append(d.Tacks, d.piece(tr, m, edges[k-1], edges[k]))
		d.Windows = append(d.Windows, d.windows(tr, m, edges[k-1], edges[k])...)
	}
}

// windows cuts samples lo…hi into ten-minute pieces and a rest of 5 min or more.
func (d *Drift) windows(tr *track.Track, m record, lo, hi int) []Piece {
	var out []Piece
	for lo < hi {
		next := lo
		for next < hi && m.t[next] < m.t[lo]+windowS {
			next++
		}
		if m.t[next-1]+1-m.t[lo] >= minWindowS && next-lo >= minWindowS/2 {
			out = append(out, d.piece(tr, m, lo, next))
		}
		lo = next
	}
	return out
}

func (d *Drift) piece(tr *track.Track, m record, lo, hi int) Piece {
	east, north := m.meanWind(lo, hi)
	a := downwindOf(east, north)
	p := Piece{
		From: m.index[lo], To: m.index[hi-1] + 1,
		Wind: math.Hypot(east, north), WindFrom: wind.FromDeg(east, north),
		windSin: a.east, windCos: a.north,
	}
	p.Start, p.End = tr.Time(p.From), tr.Time(p.To)
	p.Downwind, p.Crosswind = a.split(stat.Mean(m.east[lo:hi]), stat.Mean(m.north[lo:hi]))
	s := m.sampling(a, lo, hi)
	p.DownwindSE, p.CrosswindSE, p.DF = s.downSE, s.crossSE, s.df
	down, cross, _ := a.turn(m.meanCurrent(lo, hi).Cov)
	turn := d.WindDirectionSE * math.Pi / 180
	p.DownwindCI95 = half95(sq(s.downSE), s.df, down+sq(p.Crosswind*turn))
	p.CrosswindCI95 = half95(sq(s.crossSE), s.df, cross+sq(p.Downwind*turn))
	return p
}

// jibes gives the samples at which the stretches of one tack begin, and the end.
func (m record) jibes(a axes) []int {
	_, cross := m.splitAll(a, 0, len(m.t))
	smooth := movingMean(cross, tackSmoothS)
	edges := []int{0}
	for i := 1; i < len(smooth); i++ {
		if (smooth[i] > 0) != (smooth[i-1] > 0) {
			edges = append(edges, i)
		}
	}
	edges = append(edges, len(smooth))
	for len(edges) > 2 {
		k := weakest(cross, edges)
		if k < 0 {
			break
		}
		edges = merge(cross, edges, k)
	}
	return edges
}

// weakest is the stretch that is least of a tack of its own: too short, or its
// crosswind part not clearly off zero. −1 where all stand.
func weakest(cross []float64, edges []int) int {
	worst, least := -1, 1.0
	for k := 0; k+1 < len(edges); k++ {
		part := cross[edges[k]:edges[k+1]]
		off := math.Abs(stat.Mean(part)) / tackMinMS
		if len(part) >= tackHeldS {
			_, se := stat.MeanSE(part)
			off = math.Min(off, math.Abs(stat.Mean(part))/(tackSigmas*se))
		}
		if s := math.Min(off, float64(len(part))/tackHeldS); s < least {
			worst, least = k, s
		}
	}
	return worst
}

// merge gives stretch k to its neighbours, which are of the other side both, and
// joins what then lies side by side on one side.
func merge(cross []float64, edges []int, k int) []int {
	kept := []int{0}
	for i := 1; i+1 < len(edges); i++ {
		if i != k && i != k+1 {
			kept = append(kept, edges[i])
		}
	}
	kept = append(kept, edges[len(edges)-1])
	out := kept[:1]
	for i := 1; i+1 < len(kept); i++ {
		before, after := stat.Mean(cross[out[len(out)-1]:kept[i]]), stat.Mean(cross[kept[i]:kept[i+1]])
		if before*after < 0 {
			out = append(out, kept[i])
		}
	}
	return append(out, kept[len(kept)-1])
}

// movingMean is the mean over width samples around each, fewer at the ends.
func movingMean(x []float64, width int) []float64 {
	sum := make([]float64, len(x)+1)
	for i, v := range x {
		sum[i+1] = sum[i] + v
	}
	out := make([]float64, len(x))
	for i := range x {
		lo, hi := max(0, i-width/2), min(len(x), i+width/2+1)
		out[i] = (sum[hi] - sum[lo]) / float64(hi-lo)
	}
	return out
}
