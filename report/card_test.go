package report

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"ahull/analysis"
	trialplan "ahull/analysis/plan"
)

func someCard(t *testing.T, minutes float64, tests ...trialplan.Test) *analysis.TrialCard {
	t.Helper()
	r := trialplan.NewRequest()
	r.Model, r.Variant, r.Length = "Tidewrack <25>", "as built", 7.6
	r.Tests, r.TimeS, r.Cruise, r.Top, r.Power = tests, minutes*60, 10, 17, 220e3
	r.WindMS, r.WindFromDeg, r.WaveM, r.OutM = 6, 310, 0.6, 2000
	c, err := trialplan.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	return analysis.CardOf(c)
}

// A usual day's card is one sheet, A4 and Letter, and every step of it stands on
// the page.
func TestCardIsOneSheet(t *testing.T) {
	for _, u := range []Units{{}, {Speed: "mph", Length: "ft", Volume: "gal"}} {
		for _, c := range []*analysis.TrialCard{
			someCard(t, 60, trialplan.Drift), someCard(t, 90, trialplan.Drift, trialplan.HeadSea, trialplan.Speed), someCard(t, 120, trialplan.Drift, trialplan.Sea),
			someCard(t, 180, trialplan.Tests...), someCard(t, 240, trialplan.Tests...),
		} {
			var b bytes.Buffer
			if err := u.CardPDF(&b, c); err != nil {
				t.Fatal(err)
			}
			if n := len(regexp.MustCompile(`/Type /Page\b[^s]`).FindAll(b.Bytes(), -1)); n != 1 {
				t.Errorf("%v, %v: %d pages", c.TimeS, u, n)
			}
		}
	}
}

// The page says what the card says, with names escaped, cautions before the day.
func TestCardPage(t *testing.T) {
	c := someCard(t, 120, trialplan.Tests...)
	var b bytes.Buffer
	if err := (Units{}).CardHTML(&b, c); err != nil {
		t.Fatal(err)
	}
	page := b.String()
	if strings.Contains(page, "<25>") {
		t.Error("a name is not escaped")
	}
	if at := strings.Index(page, "lanyard"); at < 0 || at > strings.Index(page, "The day in order") {
		t.Error("the cautions don't come before the day")
	}
	for _, s := range c.Steps {
		if !strings.Contains(page, hourMin(s.BeginS)) && s.Pair == 0 {
			t.Errorf("%s at %s is not on the page", s.Kind, hourMin(s.BeginS))
		}
	}
	for _, f := range c.Foretold {
		if !strings.Contains(page, f.Title) {
			t.Errorf("%s is not on the page", f.Title)
		}
	}
}

// The terminal's card keeps to the width, and its headings are those of the steps.
func TestCardText(t *testing.T) {
	for _, width := range []int{80, 100, 160} {
		c := someCard(t, 120, trialplan.Tests...)
		var b bytes.Buffer
		if err := (Units{}).CardText(&b, c, width); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(b.String()) {
			if n := utf8.RuneCountInString(strings.TrimRight(line, "\n")); n > width {
				t.Errorf("%d letters in %d: %s", n, width, line)
			}
			if strings.Contains(line, "...") {
				t.Errorf("cut at %d: %s", width, line)
			}
		}
		for _, s := range c.Steps {
			if s.Kind == "run" && !strings.Contains(b.String(), fmt.Sprintf("%03.0f", float64(s.HeadingDeg))) {
				t.Errorf("heading %v is not told", s.HeadingDeg)
			}
		}
	}
}

// No row of the day is like the one before it, all steps are in a row, and on paper
// and page each can be ticked off with its real time; the terminal has no such column.
func TestCardRows(t *testing.T) {
	for _, tests := range [][]trialplan.Test{
		{trialplan.HeadSea}, {trialplan.Speed, trialplan.Sea}, {trialplan.Drift, trialplan.HeadSea, trialplan.Speed}, trialplan.Tests,
	} {
		c := someCard(t, 180, tests...)
		rows, steps := cardSteps(c, Units{}), 0
		for rest := c.Steps; len(rest) > 0; rest = rest[len(cardLegs(rest)):] {
			steps++
		}
		if len(rows.Rows) != steps {
			t.Errorf("%v: %d rows of %d", tests, len(rows.Rows), steps)
		}
		same := func(a, b []string) bool { // but for clock, hold, way and why
			return strings.HasPrefix(a[1], "runs") && strings.Join(a[1:4], "|") == strings.Join(b[1:4], "|")
		}
		for i, row := range rows.Rows[1:] {
			if same(rows.Rows[i], row) {
				t.Errorf("%v: twice %q", tests, row)
			}
		}
		var page, paper, terminal bytes.Buffer
		for _, err := range []error{Units{}.CardHTML(&page, c), Units{}.CardPDF(&paper, c), Units{}.CardText(&terminal, c, 100)} {
			if err != nil {
				t.Fatal(err)
			}
		}
		if n := strings.Count(page.String(), "__:__"); n != len(rows.Rows) {
			t.Errorf("%v: %d of %d rows can be ticked off on the page", tests, n, len(rows.Rows))
		}
		if n := strings.Count(textOf(t, paper.Bytes()), "__:__"); n != len(rows.Rows) {
			t.Errorf("%v: %d of %d rows can be ticked off on paper", tests, n, len(rows.Rows))
		}
		if strings.Contains(terminal.String(), "__:__") {
			t.Error("the terminal's card has places to write in")
		}
	}
}

// A card's command asks a comparison for just what the card foretells, with the
// differences that matter to the person.
func TestCardCompareCommand(t *testing.T) {
	r := trialplan.NewRequest()
	r.Tests, r.TimeS, r.Cruise, r.WindMS, r.WindFromDeg = []trialplan.Test{trialplan.Drift, trialplan.HeadSea}, 5400, 10, 6, 310
	r.Care.DriftMS = 0.05 * trialplan.Knot
	plain, err := trialplan.Make(r)
	if err != nil {
		t.Fatal(err)
	}
	c := analysis.CardOf(plain)
	const want = `ahull compare before/* after/* --measures drift_speed,head_sea_heading_sd --care "drift_speed=0.05 kn"`
	if got := (Units{}).CardCompare(c); got != want {
		t.Errorf("%s", got)
	}
	var page, paper bytes.Buffer
	if err := errors.Join(Units{}.CardHTML(&page, c), Units{}.CardPDF(&paper, c)); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(unescape(page.String()), want) || !strings.Contains(squeezed(textOf(t, paper.Bytes())), squeezed(want)) {
		t.Error("page or paper lack the command")
	}
	if c.Days = 1; (Units{}).CardCompare(c) != "" {
		t.Error("one day of each is to be compared")
	}
}

// Nobody is sent out with a jar of fuel: what to have aboard is rounded up, from a
// floor on, and what is burnt is not taken for it.
func TestCardFuel(t *testing.T) {
	gal, no := Units{Volume: "gal"}, analysis.Unknown()
	for _, c := range []struct {
		u                Units
		used, wayM, tank analysis.Number
		want             string
	}{
		{Units{}, 1.6, 2000, no, "it burns some 2 L; have at least 10 L aboard, of which a third stays in reserve"},
		{Units{}, 20, 2000, no, "it burns some 20 L; have at least 30 L aboard, of which a third stays in reserve"},
		{Units{}, 20.4, 2000, no, "it burns some 21 L; have at least 35 L aboard, of which a third stays in reserve"},
		{Units{}, 20, 0, no, "it burns some 20 L, the way out and back not counted; have at least 30 L aboard, of which a third stays in reserve"},
		{gal, 1.6, 2000, no, "it burns some 1 gal; have at least 3 gal aboard, of which a third stays in reserve"},
		{gal, 40, 2000, no, "it burns some 11 gal; have at least 16 gal aboard, of which a third stays in reserve"},
		{Units{}, 20.4, 2000, 200, "it burns some 21 L; have at least 35 L aboard, of which a third stays in reserve; the tank holds 200 L"},
		{Units{}, 1.6, 2000, 8, "it burns some 2 L; have at least 8 L aboard, of which a third stays in reserve; the tank holds 8 L"},
		{Units{}, 20, 2000, 25, "it burns some 20 L; have at least 30 L aboard, of which a third stays in reserve; the tank holds 25 L"},
		{Units{}, no, 2000, no, "not known; a third of what is aboard stays in reserve"},
	} {
		card := someCard(t, 120, trialplan.Drift)
		card.Fuel.UsedL, card.Fuel.NeedL, card.Fuel.Estimated, card.Fuel.TankL, card.WayOutM = c.used, 1.5*c.used, false, c.tank, c.wayM
		if got := cardFuel(card, c.u.volume()); got != c.want {
			t.Errorf("%v L: %s", c.used, got)
		}
	}
}
