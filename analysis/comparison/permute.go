package comparison

import (
	"math"
	"math/rand/v2"
)

// MostArrangements is how many arrangements of the days are tried at most: all
// of them up to this number, else this many drawn by chance (seeded, so that the
// same data give the same answer).
const MostArrangements = 20000

// A claim needs the permutation test to agree, at the usual 5 %, where both
// variants have SecondedFrom days or more: with fewer it can't reach 5 % whatever
// the data are.
const (
	SecondedFrom  = 4
	secondedAlpha = 0.05
	bothTests     = 0.6
)

// Seconds tells whether the permutation test agrees with a claim, or has no say.
func (p Permutation) Seconds() bool { return math.IsNaN(p.P) || p.P <= secondedAlpha }

// secondedLevel is the level that a claim really needs: with few arrangements the
// permutation test can only reach 5 % by going below it, and two tests that must
// agree are harder to pass than either (both: bothTests, which TestHowOftenRight
// holds to). Of as many days of each variant every arrangement has a mirror with
// the same |t|.
func secondedLevel(days [2]int, alpha float64) float64 {
	if min(days[Before], days[After]) < SecondedFrom {
		return alpha
	}
	all, pair := choose(days[Before]+days[After], days[After]), 1.0
	if days[Before] == days[After] {
		pair = 2
	}
	return math.Min(alpha, bothTests*math.Floor(secondedAlpha*all/pair)*pair/all)
}

// Permutation is the test that shuffles which day had which variant (Fisher's
// exact idea; Good, Permutation, Parametric and Bootstrap Tests of Hypotheses,
// 2005). If the variant makes no difference, every way of dealing the days out
// is as likely as the one sailed.
type Permutation struct {
	P            float64 // two-sided: share of arrangements with a gap as telling as the true one
	Arrangements int     // tried, the true one among them
	All          bool    // every one there is
}

// Permute runs the test. Its statistic is the |t| of the gap, adjusted for the
// condition and with the days weighted as in the model without a variant, which
// no arrangement changes. P is NaN with fewer than SecondedFrom days on a side.
func Permute(d Data, seed uint64) Permutation {
	n := d.days()
	if min(n[Before], n[After]) < SecondedFrom {
		return Permutation{P: math.NaN()}
	}
	null := summarize(d, false)
	ratio := null.ratio()
	s := summarize(d, true)
	s.use = append([]int{0, 1}, null.use[1:]...)
	t := func(after []bool) float64 { return math.Abs(s.arranged(after).tellingness(ratio)) }
	truth := make([]bool, len(s.days))
	for i := range s.days {
		truth[i] = s.days[i].sum[1] > 0
	}
	least := t(truth) * (1 - 1e-9)
	as := 0
	count := func(after []bool) {
		if !(t(after) < least) {
			as++
		}
	}
	if all := choose(len(s.days), n[After]); all <= MostArrangements {
		eachArrangement(len(s.days), n[After], count)
		return Permutation{P: float64(as) / all, Arrangements: int(all), All: true}
	}
	rnd := rand.New(rand.NewPCG(seed, 0x6461797368756666))
	count(truth)
	after := append([]bool(nil), truth...)
	for range MostArrangements - 1 {
		rnd.Shuffle(len(after), func(i, j int) { after[i], after[j] = after[j], after[i] })
		count(after)
	}
	return Permutation{P: float64(as) / MostArrangements, Arrangements: MostArrangements}
}

// arranged is the same days with other variants.
func (s *sums) arranged(after []bool) *sums {
	out := *s
	out.days = append([]daySums(nil), s.days...)
	for k := range out.days {
		t, v := &out.days[k], 0.0
		if after[k] {
			v = 1
		}
		t.sum[1] = v * t.n
		for j := range t.sum {
			t.product[1][j], t.product[j][1] = v*t.sum[j], v*t.sum[j]
		}
		t.product[1][1] = v * t.n
	}
	return &out
}

// tellingness is the t of the gap at a ratio of the variances; NaN where the
// arrangement can't tell the variant from the condition.
func (s *sums) tellingness(ratio float64) float64 {
	g := s.solve(ratio)
	if !g.ok {
		return math.NaN()
	}
	return g.b[1] / math.Sqrt(g.cov[1][1])
}

// choose is the number of ways to choose k of n.
func choose(n, k int) float64 {
	c := 1.0
	for i := range min(k, n-k) {
		c = c * float64(n-i) / float64(i+1)
	}
	return math.Round(c)
}

// eachArrangement calls f with every way to mark k of n.
func eachArrangement(n, k int, f func([]bool)) {
	marked := make([]bool, n)
	var place func(from, left int)
	place = func(from, left int) {
		if left == 0 {
			f(marked)
			return
		}
		for i := from; i <= n-left; i++ {
			marked[i] = true
			place(i+1, left-1)
			marked[i] = false
		}
	}
	place(0, k)
}
