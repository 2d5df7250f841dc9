package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"ahull/analysis"
)

// addExplanations gives every point of the speed curve, run, drift and turn of the fixture a sheet.
func addExplanations(r *analysis.Results) {
	for i := range r.SpeedCurve {
		p := &r.SpeedCurve[i]
		p.ID = fmt.Sprintf("%.0frpm sock out", float64(p.RPM))
		r.Explanations = append(r.Explanations, sheet(p.ID, "Speed through the water"))
	}
	for i := range r.LeewayFit {
		f := &r.LeewayFit[i]
		f.ID = strings.TrimSpace("leeway " + f.Group)
		if !f.Mixed {
			r.Explanations = append(r.Explanations, sheet(f.ID, "Downwind part in percent of the wind"))
		}
	}
	for _, x := range r.Runs {
		r.Explanations = append(r.Explanations, sheet(x.ID, "Speed through the water"))
	}
	for _, x := range r.Drifts {
		r.Explanations = append(r.Explanations, sheet(x.ID, "Leeway"))
	}
	for _, x := range r.Turns {
		r.Explanations = append(r.Explanations, analysis.Explanation{ID: x.ID, Answers: []analysis.Answer{
			{Name: "Advance: along the approach", Value: 43.2, CI95: analysis.Unknown(), Unit: "m"}}})
	}
}

func sheet(id, name string) analysis.Explanation {
	return analysis.Explanation{
		ID: id,
		Inputs: []analysis.Input{
			{Name: "Measured by", Text: "velocity GP RMC"},
			{Name: "Velocity over ground, toward east", Value: "-6.250", Unit: "kn", CI95: "0.042"},
		},
		Answers: []analysis.Answer{
			{Name: name, Value: 6.4, CI95: 0.076, Unit: "kn",
				Steps: []analysis.Step{{Text: "Told by all runs together"}, {Text: "Less the current", Sum: "√((−6.250)² × 1) − (−0.150)", Result: "6.400", Unit: "kn"}},
				Doubts: []analysis.Doubt{{Source: "the current", SharePct: 66.7, HalfWidth: 0.0621}, {Source: "her own wander", SharePct: 16.7, HalfWidth: 0.031},
					{Source: "all else", SharePct: 16.6, HalfWidth: 0.031}}},
			{Name: "Divergence", Value: -19.2, CI95: 6.1, Unit: "°", Side: "left", Doubts: []analysis.Doubt{{Source: "the current", SharePct: 100, HalfWidth: 6.1}}},
		},
		Notes: []string{"check by the mean of means"},
	}
}

// hostileSheet puts text that wants to be something else into every field.
func hostileSheet(e *analysis.Explanation) {
	e.ID += "<b>"
	for i := range e.Inputs {
		e.Inputs[i].Name, e.Inputs[i].Text, e.Inputs[i].Unit = hostile, hostile, hostile
	}
	for i := range e.Answers {
		a := &e.Answers[i]
		a.Name, a.Side = hostile, hostile
		if i > 0 {
			a.Unit = hostile
		}
		for k := range a.Steps {
			a.Steps[k].Text, a.Steps[k].Sum, a.Steps[k].Unit = hostile, "\x1b[31m"+hostile, hostile
		}
		for k := range a.Doubts {
			a.Doubts[k].Source = "\x1b[31m" + hostile
		}
	}
	e.Notes = []string{hostile, "\xff"}
}

func TestSheetsFoldOut(t *testing.T) {
	r := fullDay()
	text := pageOf(t, r)
	if n := strings.Count(text, `<details id="worked-`); n != len(r.Explanations) || n == 0 {
		t.Errorf("%d of %d sheets on the page", n, len(r.Explanations))
	}
	for _, want := range []string{
		"<summary><strong>R1</strong> speed through the water 6.40 ± 0.08 kn</summary>", `id="worked-R1"`, "leeway 6.40 ± 0.08 kn</summary>",
		"<dt>Velocity over ground, toward east</dt><dd>−6.250 ± 0.042 kn</dd>",
		`<li>Less the current <span class="sum">√((−6.250)² × 1) − (−0.150) = 6.400 kn</span></li>`, "<li>Told by all runs together</li>",
		"<td>the current</td><td>67 %</td><td>± 0.062 kn</td>", "<td>100 %</td><td>± 0.076 kn</td>", "Divergence: 19 ± 6° left", "Check by the mean of means.",
		"details:not(.table):not([open])",
	} {
		if !strings.Contains(unescape(text), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if strings.Contains(pageOf(t, emptyDay()), `<details id="worked-`) {
		t.Error("a sheet of an empty day")
	}
}

// A cause's name is broken, not cut.
func TestExplainTellsTheWholeCause(t *testing.T) {
	e := sheet("R01", "Stopping distance")
	e.Answers[0].Doubts[1].Source = "the delays of compass and receiver, and the lines' times"
	var b bytes.Buffer
	if err := (Units{}).Explain(&b, e, 80); err != nil {
		t.Fatal(err)
	}
	if text := strings.Join(strings.Fields(b.String()), " "); !strings.Contains(text, "the delays of compass and receiver, and the lines' 17 % ± 0.031 kn times all else") {
		t.Errorf("%s", b.String())
	}
}

// The tables' rows lead to the sheets of engine speeds and of leeway, and each way that
// leads anywhere leads to a sheet that is there.
func TestTablesLeadToTheirSheets(t *testing.T) {
	r := fullDay()
	text := pageOf(t, r)
	leads := map[string]bool{}
	for _, m := range regexp.MustCompile(`href="#(worked-[^"]+)"`).FindAllStringSubmatch(text, -1) {
		leads[m[1]] = true
		if !strings.Contains(text, `<details id="`+m[1]+`">`) {
			t.Errorf("a row leads to %s, which isn't there", m[1])
		}
	}
	for _, e := range r.Explanations {
		if id := "worked-" + strings.ReplaceAll(e.ID, " ", "-"); !leads[id] && (kindOf(e.ID) == "rpm" || strings.HasPrefix(e.ID, "leeway")) {
			t.Errorf("no row leads to %s", id)
		}
	}
}

func TestExplainOnTheTerminal(t *testing.T) {
	for _, name := range []string{"full", "hostile"} {
		for _, e := range days[name]().Explanations {
			var b bytes.Buffer
			if err := (Units{Speed: "mph", Length: "ft"}).Explain(&b, e, 80); err != nil {
				t.Fatal(err)
			}
			for line := range strings.Lines(b.String()) {
				line = strings.TrimRight(line, "\n")
				if utf8.RuneCountInString(line) > 80 && strings.Contains(strings.TrimSpace(line), " ") {
					t.Errorf("%s: %d wide: %q", name, utf8.RuneCountInString(line), line)
				}
				for _, r := range line {
					if r < 0x20 || r > 0x7e && r != '±' && r != '°' && r != '\ufffd' {
						t.Errorf("%s: letter %q in %q", name, r, line)
					}
				}
			}
			if name == "full" && strings.HasPrefix(e.ID, "R") {
				for _, want := range []string{
					e.ID + ": how it was worked out\n", "Speed through the water: 6.40 ± 0.08 kn (7.36 ± 0.09 mph)\n",
					"  Less the current: sqrt((-6.250)^2 x 1) - (-0.150) = 6.400 kn\n", "the current                                    67 %  ± 0.062 kn\n",
				} {
					if !strings.Contains(b.String(), want) {
						t.Errorf("lacks %q:\n%s", want, b.String())
					}
				}
			}
		}
	}
}

func TestWholePercents(t *testing.T) {
	for _, c := range []struct {
		shares []float64
		want   []int
	}{
		{[]float64{100.0 / 3, 100.0 / 3, 100.0 / 3}, []int{34, 33, 33}},
		{[]float64{94.7, 4.9, 0.4}, []int{95, 5, 0}},
		{[]float64{12.5, 12.5, 75}, []int{13, 12, 75}},
		{[]float64{100}, []int{100}},
		{nil, []int{}},
		{[]float64{math.NaN(), 40}, []int{0, 40}},
	} {
		got := wholePercents(c.shares)
		for i := range c.want {
			if len(got) != len(c.want) || got[i] != c.want[i] {
				t.Errorf("%v gives %v, want %v", c.shares, got, c.want)
				break
			}
		}
	}
}

// Laying out changes the white space and nothing else.
func TestLaidOut(t *testing.T) {
	for _, compact := range []string{
		`{}`, `[]`, `7`, `"a, b: {[\\\""`, `{"a":{},"b":[]}`, `[[1,2],[3]]`, `{"a":"x,\"}]","b":[{"c":1,"d":null},{"e":[]}]}`,
		`{"long":"` + strings.Repeat("word ", 60) + `","n":-1.50}`, `{"row":[` + strings.Repeat("-12.345,", 100) + `0]}`,
	} {
		text := laidOut([]byte(compact))
		var back bytes.Buffer
		if err := json.Compact(&back, text); err != nil || strings.TrimSpace(back.String()) != compact {
			t.Errorf("%s\nbecomes %s (%v)", compact, back.String(), err)
		}
		for line := range strings.Lines(string(text)) {
			if len(line) > 320 || line != strings.TrimRight(line, " \n")+"\n" {
				t.Errorf("line %q", line)
			}
		}
	}
	want := "{\n  \"a\": {\"b\": 1, \"c\": \"x\"},\n  \"d\": [\n    {\"e\": [1, 2]}\n  ]\n}\n"
	if got := string(laidOut([]byte(`{"a":{"b":1,"c":"x"},"d":[{"e":[1,2]}]}`))); got != want && !strings.Contains(got, "\"e\": [1, 2]") {
		t.Errorf("%s", got)
	}
}
