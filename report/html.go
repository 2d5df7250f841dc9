package report

import (
	"html/template"
	"io"
	"regexp"
	"strconv"
	"strings"

	"ahull/analysis"
)

// page is what page.html is filled with.
type page struct {
	shell
	Boat     string
	Variant  string
	Day      string
	Facts    [][2]string
	Findings [3]Finding
	Doubts   string
	Words    [][2]string
	Sections []section
	Program  string
	Times    string
}

// section is a chapter of the page.
type section struct {
	ID, Title string
	Lead      string
	Blocks    []block
}

// block is one thing in a section: only one field is set.
type block struct {
	Figure *pageFigure
	Table  *table
	Pairs  [][2]string
	List   []string
	Worked *workedGroup
}

// pageFigure is a figure ready to stand in the page. Behind is a long table that
// is folded away under it.
type pageFigure struct {
	ID, Title, Caption string
	Drawing, Phone     template.HTML
	drawn              Figure
	Behind             *table
}

// HTML writes the report as one page that needs nothing else: no network, and no
// script to be read. Everything that comes from a file is escaped.
func HTML(w io.Writer, r *analysis.Results) error { return Units{}.HTML(w, r) }

// HTML writes the page in these units. Times are of the trial file's zone.
func (u Units) HTML(w io.Writer, r *analysis.Results) error {
	r = localTimes(r)
	figures, err := u.Figures(r)
	if err != nil {
		return err
	}
	small, err := u.figuresOf(r, phoneWidth)
	if err != nil {
		return err
	}
	sheet := newInkSheet()
	p := newPage(r, u, sheet.all(append(figures, small...)))
	if p.shell, err = newShell(p.Title, sheet.css(), pageData(r, u)); err != nil {
		return err
	}
	return fill(w, "page.html", p, segmentIDs(r))
}

func newPage(r *analysis.Results, u Units, figures []Figure) page {
	p := page{
		Boat: boatName(r), Variant: clean(r.Trial.Variant), Day: dayText(r), Times: timesText(r), Facts: facts(r, u), Findings: u.Findings(r), Words: glossary, Program: clean(r.ProgramVersion),
	}
	p.Title = p.Boat
	if p.Variant != "" {
		p.Title += ", " + p.Variant
	}
	p.Title += ": trial, " + p.Day
	if n := len(doubtful(r)); n > 0 {
		p.Doubts = count(n, "point is", "points are") + " doubtful or missing"
	}
	for i := range p.Findings {
		f := &p.Findings[i]
		f.Short, f.Text = unbroken(f.Short), unbroken(f.Text)
	}
	p.Sections = sections(r, u, figures)
	return p
}

// unbroken keeps a number, its ± and its unit on one line.
func unbroken(s string) string {
	s = strings.ReplaceAll(s, " ± ", "\u00a0±\u00a0")
	return beforeUnit.ReplaceAllString(s, "$1\u00a0$2")
}

var beforeUnit = regexp.MustCompile(`(\d) (%|(?:kn|mph|km/h|rpm|nm|mi|km|ft|m|gal|L|s|min|points)\b)`)

func boatName(r *analysis.Results) string {
	if r.Trial.Model == "" {
		return "Boat not named"
	}
	return clean(r.Trial.Model)
}

func dayText(r *analysis.Results) string {
	a, b := r.Trial.Start, r.Trial.End
	zone := " " + zoneOf(r)
	switch {
	case a.IsZero():
		return "day not known"
	case !r.Log.Dated:
		return "day not known, " + a.Format("15:04") + " to " + b.Format("15:04") + zone
	case a.YearDay() == b.YearDay() && a.Year() == b.Year():
		return a.Format("2 January 2006, 15:04") + " to " + b.Format("15:04") + zone
	}
	return a.Format("2 January 2006, 15:04") + " to " + b.Format("2 January, 15:04") + zone
}

// facts are the boat, her load, the place and the day's wind, sea and current.
func facts(r *analysis.Results, u Units) [][2]string {
	t, c := r.Trial, r.Conditions
	le := u.length()
	var out [][2]string
	add := func(name, text string) {
		if text != "" && text != missing {
			out = append(out, [2]string{name, clean(text)})
		}
	}
	positive := func(name string, n analysis.Number, decimals int, s scale) {
		if n > 0 {
			add(name, Plain(s.of(n), decimals, s.unit))
		}
	}
	add("Hull", t.Hull)
	size := ""
	if t.LengthM > 0 {
		size = Plain(le.of(t.LengthM), 1, le.unit)
		if t.BeamM > 0 {
			size += " by " + Plain(le.of(t.BeamM), 1, le.unit)
		}
	}
	add("Size", size)
	positive("Displacement", t.DisplacementKg, 0, u.mass())
	positive("Crew", t.Crew, 0, scale{factor: 1})
	positive("Fuel aboard", t.FuelL, 0, u.volume())
	add("Load", t.LoadNote)
	positive("Engine", t.EngineKW, 0, u.power())
	add("Propeller", propellerText(t, u))
	add("Place", place(t))
	if c.Wind10Kn.Known() {
		name := windOf(r, u)
		add(strings.ToUpper(name[:1])+name[1:], speedText(c.Wind10Kn, analysis.Unknown(), u.speed())+" from "+bearing(c.WindFromDeg))
	} else {
		out = append(out, [2]string{"Wind", notKnown})
	}
	add("Waves", waveText(c, u))
	out = append(out, [2]string{"Current", currentWords(r, u)})
	return out
}

// propellerText is pitch and gear, as far as given.
func propellerText(t analysis.Trial, u Units) string {
	var parts []string
	if t.PitchM > 0 {
		decimals := 2
		if u.screw().unit == "in" {
			decimals = 1
		}
		parts = append(parts, "pitch "+Plain(u.screw().of(t.PitchM), decimals, u.screw().unit))
	}
	if t.GearRatio > 0 {
		parts = append(parts, "gear "+Plain(float64(t.GearRatio), 2, ""))
	}
	return strings.Join(parts, ", ")
}

func place(t analysis.Trial) string {
	if !t.LatDeg.Known() || !t.LonDeg.Known() || t.LatDeg == 0 && t.LonDeg == 0 {
		return ""
	}
	return degrees(float64(t.LatDeg), "N", "S") + " " + degrees(float64(t.LonDeg), "E", "W")
}

func degrees(v float64, positive, negative string) string {
	name := positive
	if v < 0 {
		name, v = negative, -v
	}
	minutes := v*60 + 0.0005
	whole := int(minutes / 60)
	return strconv.Itoa(whole) + "° " + strconv.FormatFloat(minutes-float64(whole)*60, 'f', 2, 64) + "′ " + name
}

func waveText(c analysis.Conditions, u Units) string {
	if !c.WaveFromDeg.Known() {
		return notKnown
	}
	text := "from " + bearing(c.WaveFromDeg)
	if c.WaveFromAssumed {
		text += " (as the wind)"
	}
	if le := u.length(); c.WaveHeightM.Known() {
		text += ", " + Plain(le.of(c.WaveHeightM), 1, le.unit) + " high"
	}
	if c.WavePeriodS.Known() {
		text += ", " + Plain(float64(c.WavePeriodS), 1, "s") + " apart"
	}
	return text
}
