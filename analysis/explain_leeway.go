package analysis

import (
	"fmt"
	"math"
	"strings"

	"ahull/analysis/drift"
)

// leewayID names the sum sheet of a group's leeway against the wind.
func leewayID(group string) string { return strings.TrimSpace("leeway " + group) }

// leewayFit explains a group's leeway in percent of the wind: the lines through zero.
func (x explainer) leewayFit(s *sheet, f drift.Fit) {
	s.words("Drifts", strings.Join(f.IDs, ", "))
	s.words("A drift counts for more the surer it is and the more it blew; what each counts for, times its wind, sums to", "1")
	x.leewayLine(s, "Downwind part", f.Downwind)
	x.leewayLine(s, "Crosswind part, either side", f.Crosswind)
	if f.Downwind.WithOffset || f.Crosswind.WithOffset {
		s.Notes = append(s.Notes, "The best straight line wherever it starts is fitted to the same drifts with the same weights; its steps are not given here.")
	}
}

func (x explainer) leewayLine(s *sheet, name string, l drift.Line) {
	if math.IsNaN(l.OriginSlope) {
		return
	}
	var said, terms []string
	sum := 0.0
	for _, p := range l.Points {
		wind, part := printed(knots(p.Wind), s.kn()), printed(knots(p.Leeway), s.kn())
		counts := printed(p.Counts*1852/3600, 2+s.kn())
		said = append(said, fmt.Sprintf("%s %s kn in %s kn of wind, counts %s", p.ID, part, wind, counts))
		terms = append(terms, part.in()+" × "+counts.in())
		sum += part.v * counts.v
	}
	s.words(name+" of each drift, and what it counts for", strings.Join(said, "; "))
	w := s.answer(name+" in percent of the wind", 100*l.OriginSlope, 100*l.OriginCI95, "%")
	w.is(w.step("Slope of the line through zero", "100 × ("+strings.Join(terms, " + ")+")", 100*sum, 2+s.fine, "%"))
	w.doubts(driftParts(l.OriginDoubts))
	w.enter()
}
