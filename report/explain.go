package report

import (
	"cmp"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"ahull/analysis"
)

// worked is an explanation as people read it.
type worked struct {
	ID, Head string // "R07", "speed through the water 8.53 ± 0.08 kn"
	Name     string // of what it is about: "R07", "4000 rpm"
	Given    [][2]string
	Answers  []workedAnswer
	Notes    []string
}

type workedAnswer struct {
	Name, Figure string
	Steps        []workedStep
	Doubts       []workedDoubt
	Together     string // the ± that several doubts make
}

// workedStep is what is done and the sum with its result, "a − b = c kn".
type workedStep struct{ Text, Sum string }

type workedDoubt struct{ Source, Share, Half string }

// sumsNote stands over every sum sheet.
const sumsNote = "Sums are in knots and degrees true, with more decimals than are known, so that a pocket calculator closes them. " +
	"Toward east and north is the way boat, water or air moves; a minus sign is toward west or south."

// work puts an explanation into words. The sums are in knots; a result that
// people read in another unit is given in that too.
func (u Units) work(e analysis.Explanation) worked {
	out := worked{ID: clean(e.ID), Name: clean(e.ID)}
	if kindOf(e.ID) == "rpm" {
		out.Name = strings.Replace(out.Name, "rpm", " rpm", 1)
	}
	for _, in := range e.Inputs {
		out.Given = append(out.Given, [2]string{clean(in.Name), inputText(in)})
	}
	for _, a := range e.Answers {
		w := workedAnswer{Name: clean(a.Name), Figure: u.answerText(a, true)}
		for _, s := range a.Steps {
			w.Steps = append(w.Steps, workedStep{clean(s.Text), sumText(s)})
		}
		w.Doubts = doubtTexts(a)
		if len(w.Doubts) > 1 {
			w.Together = "± " + halfText(a, a.CI95)
		}
		out.Answers = append(out.Answers, w)
	}
	for _, n := range e.Notes {
		out.Notes = append(out.Notes, sentence(n))
	}
	if a, ok := headline(e); ok {
		name, _, _ := strings.Cut(clean(a.Name), ":")
		out.Head = strings.ToLower(name[:1]) + name[1:] + " " + u.answerText(a, false)
	}
	return out
}

// headline is the answer that a sheet is opened for.
func headline(e analysis.Explanation) (analysis.Answer, bool) {
	for _, name := range []string{"Speed through the water", "Leeway", ""} {
		for _, a := range e.Answers {
			if a.Name != "" && (a.Name == name || name == "") {
				return a, true
			}
		}
	}
	return analysis.Answer{}, false
}

func inputText(in analysis.Input) string {
	if in.Value == "" {
		return clean(in.Text)
	}
	text := numberText(in.Value)
	if in.CI95 != "" {
		text += " ± " + numberText(in.CI95)
	}
	return withUnit(text, clean(in.Unit))
}

// numberText prints a number as it stands, with a true minus sign.
func numberText(n json.Number) string { return strings.Replace(clean(string(n)), "-", "−", 1) }

func sumText(s analysis.Step) string {
	if s.Sum == "" {
		return ""
	}
	return clean(s.Sum) + " = " + withUnit(numberText(s.Result), clean(s.Unit))
}

// answerText prints an answer as the rest of the report does; in the sums' own
// unit first where both are wanted.
func (u Units) answerText(a analysis.Answer, both bool) string {
	own := scale{factor: 1, unit: clean(a.Unit)}
	theirs := own
	switch a.Unit {
	case "kn":
		theirs = u.speed()
	case "m":
		theirs = u.length()
	case "nm":
		theirs = u.distance()
	case "L/h":
		theirs = u.flow()
	case "L/nm":
		e := u.economy() // of nautical miles a litre
		theirs = scale{factor: e.factor, unit: e.unit, turned: !e.turned}
	}
	text := figureText(a, theirs)
	if both && own != theirs {
		text = figureText(a, own) + " (" + text + ")"
	}
	if a.Side != "" && a.Value.Known() {
		text += " " + clean(a.Side)
	}
	return text
}

// plainTo is the decimals of an answer without a ±, by unit, as in the tables.
var plainTo = map[string]int{"kn": 2, "mph": 2, "km/h": 2, "m": 0, "ft": 0, "°": 0, "%": 0, "s": 1, "°/s": 1}

func figureText(a analysis.Answer, s scale) string {
	v := s.of(a.Value)
	if a.Side != "" {
		v = math.Abs(v)
	}
	if !a.CI95.Known() || a.CI95 <= 0 {
		if d, ok := plainTo[s.unit]; ok {
			return Plain(v, d, s.unit)
		}
	}
	if a.Spread {
		return spreadText(analysis.Number(v), analysis.Number(s.half(a.Value, a.CI95)), s.unit)
	}
	return Estimate(v, s.half(a.Value, a.CI95), s.unit)
}

// doubtTexts prints the shares in whole percents that sum to 100.
func doubtTexts(a analysis.Answer) []workedDoubt {
	shares := make([]float64, len(a.Doubts))
	for i, d := range a.Doubts {
		shares[i] = float64(d.SharePct)
	}
	whole := wholePercents(shares)
	var out []workedDoubt
	for i, d := range a.Doubts {
		out = append(out, workedDoubt{clean(d.Source), fmt.Sprintf("%d %%", whole[i]), "± " + halfText(a, d.HalfWidth)})
	}
	return out
}

// halfText prints a part of a ± to one decimal more than the ± has.
func halfText(a analysis.Answer, half analysis.Number) string {
	if !a.CI95.Known() || a.CI95 <= 0 {
		return missing
	}
	return Plain(float64(half), max(0, analysis.Decimals(float64(a.Value), float64(a.CI95), a.Unit)+1), clean(a.Unit))
}

// wholePercents rounds shares of 100 so that they still sum to it: those with
// the largest rests are rounded up.
func wholePercents(shares []float64) []int {
	out, order := make([]int, len(shares)), make([]int, len(shares))
	left, sum := 0, 0.0
	for i, s := range shares {
		if !finite(s) {
			s = 0
		}
		order[i] = i
		out[i] = int(s)
		left -= out[i]
		sum += s
	}
	left += int(math.Round(sum))
	rest := func(i int) float64 { return shares[i] - float64(out[i]) }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(rest(b), rest(a)) })
	for _, i := range order[:max(0, min(left, len(order)))] {
		out[i]++
	}
	return out
}

// Explain writes how one stretch's results were worked out, for a terminal of
// the given width, with letters that any terminal has.
func (u Units) Explain(w io.Writer, e analysis.Explanation, width int) error {
	width = max(width, 40)
	e0 := u.work(e)
	var b strings.Builder
	b.WriteString(e0.ID + ": how it was worked out\n" + wrapped("", sumsNote, width) + "\n")
	b.WriteString("What went in\n")
	for _, g := range e0.Given {
		b.WriteString(pair("  ", g[0]+":", g[1], width))
	}
	for _, a := range e0.Answers {
		b.WriteString("\n" + wrapped("", a.Name+": "+a.Figure, width))
		for _, s := range a.Steps {
			if s.Sum == "" {
				b.WriteString(wrapped("  ", s.Text, width))
				continue
			}
			b.WriteString(pair("  ", s.Text+":", plainSums(s.Sum), width))
		}
		writeDoubts(&b, a, width)
	}
	if len(e0.Notes) > 0 {
		b.WriteString("\n")
	}
	for _, n := range e0.Notes {
		b.WriteString(wrapped("", n, width))
	}
	_, err := io.WriteString(w, plainSums(b.String()))
	return err
}

// pair sets a name and what it is on one line, or the one under the other.
func pair(indent, name, text string, width int) string {
	if line := indent + name + " " + text; utf8.RuneCountInString(line) <= width {
		return line + "\n"
	}
	return wrapped(indent, name, width) + wrapped(indent+"    ", text, width)
}

const together = "together: the root of the sum of the squares"

// writeDoubts sets the sources of an answer's ± in columns.
func writeDoubts(b *strings.Builder, a workedAnswer, width int) {
	if len(a.Doubts) == 0 {
		return
	}
	room := 0
	for _, d := range a.Doubts {
		room = max(room, utf8.RuneCountInString(d.Source))
	}
	if a.Together != "" {
		room = max(room, utf8.RuneCountInString(together))
	}
	room = max(20, min(room, width-28))
	b.WriteString("  Where the ± comes from\n")
	line := func(source, share, half string) {
		lines := strings.Split(strings.TrimRight(wrapped("", source, room), "\n"), "\n")
		for i, part := range lines {
			part = strings.TrimRight(cut(part, room), "\n")
			if i == 0 {
				part = fmt.Sprintf("%s%s  %5s  %s", part, strings.Repeat(" ", room-utf8.RuneCountInString(part)), share, half)
			}
			b.WriteString(cut("    "+part, width))
		}
	}
	for _, d := range a.Doubts {
		line(d.Source, d.Share, d.Half)
	}
	if a.Together != "" {
		line(together, "100 %", a.Together)
	}
}

// plainSums is plainText for sums: their signs in plain letters too.
func plainSums(s string) string {
	return plainText(strings.NewReplacer("×", "x", "√", "sqrt", "²", "^2").Replace(s))
}

// workedGroup is the sum sheets of one kind on the page.
type workedGroup struct {
	Title string
	All   []worked
}

// workedSection has a sheet to fold out for each explanation.
func workedSection(r *analysis.Results, u Units) section {
	s := section{ID: "worked", Title: "Each engine speed, run, drift and manoeuvre, step by step"}
	for _, g := range []struct{ title, kinds string }{{"The speed curve's points", "rpm"}, {"Runs", "R"}, {"Drifts", "D"}, {"Turns, speed-ups and stops", ""}} {
		group := workedGroup{Title: g.title}
		for _, e := range r.Explanations {
			if kindOf(e.ID) == g.kinds {
				group.All = append(group.All, u.work(e))
			}
		}
		if len(group.All) > 0 {
			s.Blocks = append(s.Blocks, block{Worked: &group})
		}
	}
	if len(s.Blocks) > 0 {
		s.Lead = "Open one to see what went in, every step, and where its ± comes from. " + sumsNote + " On paper stand those that are open when it is printed."
	}
	return s
}

// kindOf is the first letter of a run's or a drift's ID, that of drifts for their
// lines of leeway too; "rpm" for a point of the speed curve, whose ID begins with a
// number; "" for any other.
func kindOf(id string) string {
	if id != "" && id[0] >= '0' && id[0] <= '9' {
		return "rpm"
	}
	if strings.HasPrefix(id, "leeway") {
		return "D"
	}
	if strings.HasPrefix(id, "R") || strings.HasPrefix(id, "D") {
		return id[:1]
	}
	return ""
}
