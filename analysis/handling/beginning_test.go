package handling

import (
	"math"
	"math/rand/v2"
	"testing"

	"ahull/analysis/segment"
)

// swung is a heading that waves and a helmsman swing, one value a second: two
// oscillations that wander in size and phase, by the exact steps of their
// autoregressive processes of second order.
type swung struct {
	r    *rand.Rand
	x    [2]float64
	last [2]float64
}

// swings are their sizes, degrees, periods, s, and what is kept from second to second.
var swings = [2][3]float64{{2, 5, 0.85}, {1, 16, 0.95}}

func (s *swung) next() float64 {
	sum := 0.0
	for k, w := range swings {
		a, b := 2*w[2]*math.Cos(2*math.Pi/w[1]), -w[2]*w[2]
		variance := (1 - b) / ((1 + b) * ((1-b)*(1-b) - a*a)) // of the process under a kick of 1
		now := a*s.x[k] + b*s.last[k] + w[0]/math.Sqrt(variance)*s.r.NormFloat64()
		s.x[k], s.last[k] = now, s.x[k]
		sum += now
	}
	return sum
}

// Days of five circles and the runs between them, of a boat whose heading waves and helm
// swing as slowly as she answers the wheel: when she began to answer lies within its ±
// in some 95 of 100, and the ± are as wide as the errors ask for.
func TestWhenSheAnswered(t *testing.T) {
	const days, circles, speed, lag, every = 60, 5, 12.0, 1.2, 200
	held, n, square, width := 0, 0, 0.0, 0.0
	for seed := range uint64(days) {
		s := &swung{r: rand.New(rand.NewPCG(seed, 11))}
		for range 100 {
			s.next()
		}
		var segs []segment.Segment
		var begin, rate [circles]float64
		for k := range circles {
			from := every*k + 120
			begin[k], rate[k] = float64(from)+s.r.Float64(), 6+5*s.r.Float64()
			segs = append(segs, segment.Segment{Kind: segment.Run, From: from - 110, To: from - 10},
				segment.Segment{Kind: segment.Turn, From: from, To: from + int(360/rate[k]+2)})
		}
		tr := driven(every*circles+20, func(float64) float64 { return speed }, func(at float64) float64 {
			h := 70 + s.next()
			for k := range circles {
				h += math.Min(360, rate[k]*turned(at-begin[k], lag))
			}
			return h
		}, 0, 0)
		for k, got := range Turns(tr, segs, water(0, 0)) {
			if math.IsNaN(got.Advance) {
				continue // swung too far to be on a straight approach
			}
			n++
			off := got.Workings.Answers - tr.Start - begin[k]
			if math.Abs(off) <= 1.96*got.Workings.AnswersSE {
				held++
			}
			square, width = square+off*off, width+got.Workings.AnswersSE*got.Workings.AnswersSE
		}
	}
	wide := math.Sqrt(width / square)
	t.Logf("held %d of %d; error %.2f s, ± over it %.2f", held, n, math.Sqrt(square/float64(n)), wide)
	if n < 280 || held < n*92/100 || !(wide < 1.3) {
		t.Errorf("held %d of %d; error %.2f s, ± over it %.2f", held, n, math.Sqrt(square/float64(n)), wide)
	}
}
