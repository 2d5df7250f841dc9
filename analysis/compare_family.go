package analysis

import (
	"fmt"
	"math"
	"slices"

	"ahull/analysis/comparison"
)

// family is a question's place among all that are asked at once: what a change is
// mostly made for is asked first and weighs more, so that it need not be lost
// among all that is looked at as well.
type family struct {
	alpha float64 // its share of the 5 %; NaN without an answer
	tests int     // with an answer, in all
	peers int     // with an answer, in its set
}

// markFirst marks the first questions of a pair of variants: the drift speed, the
// heading spread in a head sea, and the top speed, by itself or at the highest engine
// speed that both ran; of several groups, those without a name or else the first.
func markFirst(all []question) {
	pick := func(name string) {
		at := -1
		for i := range all {
			if all[i].kind.name == name && (at < 0 || all[i].group == all[at].group || all[i].group == "" && all[at].group != "") {
				at = i // of one group the last: the engine speeds rise
			}
		}
		if at >= 0 {
			all[at].first = true
		}
	}
	fastest := "speed_at_rpm"
	if slices.ContainsFunc(all, func(q question) bool { return q.kind.name == topSpeed.name }) {
		fastest = topSpeed.name
	}
	for _, name := range []string{"drift_speed", "head_sea_heading_sd", fastest} {
		pick(name)
	}
}

// share deals the 5 % out (comparison.Share). It gives the weights, which sum to 1
// over the questions with an answer.
func (c *comparer) share(all []trialled) []float64 {
	first, also := 0, 0
	for i := range all {
		switch {
		case math.IsNaN(all[i].p()):
		case all[i].first:
			first++
		default:
			also++
		}
	}
	c.out.Tests, c.out.FirstQuestions = first+also, first
	ofFirst, ofAlso := comparison.Share(first, also)
	weights := make([]float64, len(all))
	for i := range all {
		t, n := &all[i], also
		weights[i] = ofAlso
		if t.first {
			weights[i], n = ofFirst, first
		}
		t.family = family{alpha: comparison.ShownAt * weights[i], tests: c.out.Tests, peers: n}
		if math.IsNaN(t.p()) {
			t.alpha = math.NaN()
		}
	}
	return weights
}

// corrected tells what a p was corrected for.
func (t *trialled) corrected() string {
	switch {
	case t.tests < 2:
		return ""
	case t.peers == t.tests:
		return fmt.Sprintf(", corrected for %d measures", t.tests)
	case t.first && t.peers == 1:
		return ", corrected as the one first question"
	case t.first:
		return fmt.Sprintf(", corrected as one of %d first questions", t.peers)
	}
	return fmt.Sprintf(", corrected as one of %d looked at as well", t.peers)
}

// familyMethod says how several measures at once are corrected for.
func (c *comparer) familyMethod() string {
	const keeps = "so that the chance of a single false claim among all of them is 5 % at most"
	n, first := c.out.Tests, c.out.FirstQuestions
	switch {
	case c.opt.Measures != nil:
		return fmt.Sprintf("Only the measures asked for were tested, each as a first question: %d got a verdict, and each p is corrected for all of them (Holm 1979), %s.", n, keeps)
	case first == 0 || first == n:
		return fmt.Sprintf("Several measures are asked at once: %d got a verdict, and each p is corrected for all of them (Holm 1979), %s.", n, keeps)
	}
	return fmt.Sprintf("Several measures are asked at once: %d got a verdict. The first questions (drift speed, heading spread in a head sea, speed at the highest engine speed or top speed: those of them that could be answered, %d) share %.0f %% of the 5 %%, the %d looked at as well the rest; each p is corrected by the weighted form of Holm's procedure (Holm 1979), %s.",
		n, first, 100*comparison.FirstShare, n-first, keeps)
}
