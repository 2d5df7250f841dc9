package report

import (
	"io"
	"slices"
	"strings"

	"ahull/analysis"
)

// RideJSON writes a ride sheet as indented JSON.
func RideJSON(w io.Writer, s *analysis.RideSheet) error { return writeJSON(w, s) }

// What stands on every ride sheet.
const (
	rideFlowMeter = "The ± of fuel is how far like runs differ; the flow meter’s own error is not in it."
	rideNoPromise = "Measured on this ride, in this wind and sea, with this load; another day differs. None of it is promised of this boat or of another."
	rideReading   = "± is half the width of a 95 % interval: in 95 of 100 such rides the true figure of that ride lies within it. Two figures in brackets after a spread, and after “best”, are such an interval; behind “both ways” and “longest of” they are the least and the most of the single ones. " +
		"Spread: two thirds of the time she is within so much of her mean. Speeds are through the water, the current taken out, unless they say otherwise."
	rideCaution = "A lookout, lifejackets and the engine cut-off lanyard on; while drifting, mind other traffic: the collision rules still bind. How she rolls is no assessment of her stability."
)

// rideReads is how the sheet's figures are to be read.
func rideReads(s *analysis.RideSheet) string {
	if _, ok := find(s, analysis.RideEconomy); ok {
		return rideReading + " " + rideFlowMeter
	}
	return rideReading
}

// rideMeasured has a row for each thing measured.
func rideMeasured(s *analysis.RideSheet, u Units) table {
	t := table{ID: "measured", Title: "Measured on this ride", Columns: []heading{
		{"what", "", true}, {"this ride", "", true}, {"how", "", true}, {"the model’s own trial", "", true},
	}}
	for i := 0; i < len(s.Measures); i++ {
		n := i + 1
		for s.Measures[i].Name == analysis.RideSpeedUp && n < len(s.Measures) && s.Measures[n].Name == analysis.RideSpeedUp {
			n++
		}
		t.Rows = append(t.Rows, rideRow(s, s.Measures[i:n], u))
		i = n - 1
	}
	if s.Against == nil {
		t = table{ID: t.ID, Title: t.Title, Columns: t.Columns[:3], Rows: t.without("the model’s own trial").Rows}
	}
	return t
}

// rideRow is the row of a measure, or of the times of one speed-up together.
func rideRow(s *analysis.RideSheet, ms []analysis.RideMeasure, u Units) []string {
	m := ms[0]
	name, value, beside := rideName(m, u), rideFigureText(m, m.Ride, u), missing
	if m.Model != nil {
		beside = rideFigureText(m, *m.Model, u)
	}
	if len(ms) > 1 {
		name, value, beside = speedUpCells(ms, u)
	}
	height, itsHeight := windHeights(s, u)
	how := rideHow(m, m.Ride, height, u)
	if m.Model != nil {
		bare := func(v analysis.RideValue, height string) string { // what single runs and drifts were stands for the ride only
			v.Singles = 0
			return rideHow(m, v, height, u)
		}
		if its := bare(*m.Model, itsHeight); its != "" && its != bare(m.Ride, height) {
			beside += " " + bracketed(its)
		}
	}
	return []string{name, unbroken(value), unbroken(how), unbroken(beside)}
}

// speedUpCells put the times to each mark together: they have one ±.
func speedUpCells(ms []analysis.RideMeasure, u Units) (name, value, beside string) {
	var marks []string
	var rides, models []analysis.RideValue
	for _, m := range ms {
		marks = append(marks, u.mark(m.Ride.ToKn))
		rides = append(rides, m.Ride)
		its := analysis.RideValue{Value: analysis.Unknown()}
		if m.Model != nil {
			its = *m.Model
		}
		models = append(models, its)
	}
	return "Speeding up to " + strings.Join(marks, ", ") + " " + u.speed().unit, secondsText(rides), secondsText(models)
}

// secondsText is "2.7, 7.1, — s, each ± 0.7 s"; "—" where no time is known.
func secondsText(times []analysis.RideValue) string {
	var all []string
	half := ""
	for _, v := range times {
		number, width, ok := strings.Cut(Estimate(float64(v.Value), float64(v.CI95), "s"), " ± ")
		if ok {
			half = ", each ± " + width
		}
		all = append(all, strings.TrimSuffix(number, " s"))
	}
	if !slices.ContainsFunc(times, func(v analysis.RideValue) bool { return v.Value.Known() }) {
		return missing
	}
	if half == "" {
		half = " (± not known)"
	}
	return strings.Join(all, ", ") + " s" + half
}

func bracketed(s string) string { return "(" + s + ")" }

// rideAgainst says which trial the model's figures are of.
func rideAgainst(s *analysis.RideSheet, u Units) string {
	a := s.Against
	if a == nil {
		return ""
	}
	name := "a boat not named"
	if a.Model != "" {
		name = shortened(a.Model, nameRoom)
	}
	parts := []string{name}
	for _, more := range []string{shortened(a.Variant, smallRoom), shortened(a.Hull, smallRoom), longDate(a.Date)} {
		if more != "" {
			parts = append(parts, more)
		}
	}
	if a.Wind10Kn.Known() {
		parts = append(parts, Plain(u.speed().of(a.Wind10Kn), 0, u.speed().unit)+" of wind")
	}
	if a.WaveM.Known() {
		parts = append(parts, "waves of "+Plain(u.length().of(a.WaveM), 1, u.length().unit))
	}
	if a.Crew > 0 {
		parts = append(parts, Plain(float64(a.Crew), 0, "people")+" aboard")
	}
	text := "The model’s own trial: " + strings.Join(parts, ", ") + "."
	if a.SameTime {
		text += " It is of the same hours as this ride: if it is the same log, nothing is compared here."
	}
	if a.Model != s.Model {
		text += " That is not the name of the boat of this ride."
	}
	return text + " Its figures stand beside this ride’s as they are: day, load, wind and sea differ, so that a difference alone says little."
}

// rideMissing is what this ride can't tell, and what would.
func rideMissing(s *analysis.RideSheet) []string {
	var out []string
	for _, m := range s.Missing {
		out = append(out, sentence(m.Text))
	}
	return out
}

// find gives the first measure of one of the names.
func find(s *analysis.RideSheet, names ...string) (analysis.RideMeasure, bool) {
	for _, name := range names {
		for _, m := range s.Measures {
			if m.Name == name {
				return m, true
			}
		}
	}
	return analysis.RideMeasure{}, false
}

// lacking is why a box has no figure.
func lacking(s *analysis.RideSheet, names ...string) string {
	for _, name := range names {
		for _, m := range s.Missing {
			if m.Name == name {
				return "Not known: " + m.Text + "."
			}
		}
	}
	return "Not known from this ride."
}

// rideFindings are the three answers in a customer's words.
func rideFindings(s *analysis.RideSheet, u Units) [3]Finding {
	out := [3]Finding{rideFast(s, u), rideCalm(s, u), rideStopped(s, u)}
	for i := range out {
		out[i].Short, out[i].Of, out[i].Text = unbroken(out[i].Short), unbroken(out[i].Of), unbroken(out[i].Text)
	}
	return out
}

func rideFast(s *analysis.RideSheet, u Units) Finding {
	f := Finding{Topic: "How fast", Short: notKnown}
	m, ok := find(s, analysis.RideTop)
	if !ok {
		f.Text = lacking(s, analysis.RideTop)
		return f
	}
	f.Short, f.Of = rideFigureText(m, m.Ride, u), topName(m.Ride, "her top speed today", "her fastest steady stretch today")
	if how := rideHow(m, m.Ride, "", u); how != "" {
		f.Of += ", " + how
	}
	if c, ok := find(s, analysis.RideBest); ok {
		f.Text = "Her fuel takes her farthest at " + rideFigureText(c, c.Ride, u) + ". "
	} else if c, ok := find(s, analysis.RideHeld); ok {
		f.Text = "Cruising, she was held longest at " + rideFigureText(c, c.Ride, u) + ". "
	}
	if up, ok := lastSpeedUp(s); ok {
		f.Text += "From " + Plain(u.speed().of(up.Ride.FromKn), 1, u.speed().unit) + " she was at " + u.mark(up.Ride.ToKn) + " " + u.speed().unit +
			" in " + rideFigureText(up, up.Ride, u) + "."
	}
	return f
}

// lastSpeedUp is the time to the highest mark.
func lastSpeedUp(s *analysis.RideSheet) (analysis.RideMeasure, bool) {
	var best analysis.RideMeasure
	found := false
	for _, m := range s.Measures {
		if m.Name == analysis.RideSpeedUp {
			best, found = m, true
		}
	}
	return best, found
}

func rideCalm(s *analysis.RideSheet, u Units) Finding {
	f := Finding{Topic: "How steady, how soft", Short: notKnown}
	m, ok := find(s, analysis.RideHeading)
	if !ok {
		f.Text = lacking(s, analysis.RideHeading)
		return f
	}
	f.Short = rideFigureText(m, m.Ride, u)
	f.Of = "from her heading two thirds of the time, into a " + m.Ride.Sea + " sea " + rideHow(m, m.Ride, "", u)
	if m.Ride.Sea != "head" && m.Ride.Sea != "bow" {
		f.Of = strings.Replace(f.Of, "into a", "in a", 1)
	}
	var parts []string
	for _, part := range [][2]string{{analysis.RidePitch, "pitched"}, {analysis.RideRoll, "rolled"}} {
		if p, ok := find(s, part[0]); ok {
			parts = append(parts, part[1]+" by "+rideFigureText(p, p.Ride, u)+" in a "+p.Ride.Sea+" sea")
		}
	}
	if len(parts) > 0 {
		f.Text = "Two thirds of the time she " + list(parts) + " or less. "
	}
	if j, ok := find(s, analysis.RideJolts); ok {
		f.Text += "Hardest tenth of the jolts: " + rideFigureText(j, j.Ride, u) + "."
	}
	return f
}

func rideStopped(s *analysis.RideSheet, u Units) Finding {
	f := Finding{Topic: "Stopped to fish", Short: notKnown}
	m, ok := find(s, analysis.RideDrift, analysis.RideDriftOver)
	if !ok {
		f.Text = lacking(s, analysis.RideDrift)
		return f
	}
	f.Short, f.Of = rideFigureText(m, m.Ride, u), "drift with the engine off"
	if how := rideHow(m, m.Ride, "", u); how != "" {
		f.Of += ", " + how
	}
	if m.Name == analysis.RideDrift {
		f.Text = "That is wind and waves alone; the current comes on top. "
	}
	if l, ok := find(s, analysis.RideDriftLies); ok {
		side := " of her bow. "
		if l.Ride.BothSides || otherSide(l) {
			side = " off her bow. "
		}
		f.Text += "She lay with the wind " + rideFigureText(l, l.Ride, u) + side
	}
	if r, ok := find(s, analysis.RideDriftRoll); ok {
		f.Text += "Two thirds of the time she rolled by " + rideFigureText(r, r.Ride, u) + " or less."
	}
	return f
}

// notToldText joins what the ride can't tell.
func notToldText(lines []string) string {
	if len(lines) == 0 {
		return ""
	}
	return "Not told by this ride: " + strings.Join(lines, " ")
}
