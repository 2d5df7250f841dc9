package report

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
	"unicode"

	"ahull/analysis"
)

var pdfDay = time.Date(2026, 5, 14, 17, 2, 0, 0, time.UTC)

// everyPart is a document with one of each thing that there is.
func everyPart(t *testing.T) []byte {
	t.Helper()
	d := newDocument(Units{}.pageSize(), "Tidewrack 25 ±°→≥é", pdfDay)
	d.masthead("Sea trial", "Tidewrack 25", "as built", "14 May 2026")
	d.heading("Speed")
	d.paragraph("In 12 kn of wind: 3° ± 1°, −4 × 2 → ≥ 7, Zoë’s.")
	d.numbered([]string{"first this", "then that"})
	d.bullets([]string{"a point"})
	d.pairs([][2]string{{"Engine", "224 kW"}})
	d.note("Note", []string{"something to know"})
	d.caution("Caution", cautions)
	d.tables(currentTable(fullDay(), Units{}), meansTable(fullDay(), Units{}), speedTable(fullDay(), Units{}))
	for _, f := range mustFigures(t, fullDay()) {
		d.figure(f, "What it shows.")
	}
	var b bytes.Buffer
	if err := d.write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// textOf reads a PDF with another program than the one that wrote it.
func textOf(t *testing.T, pdf []byte, options ...string) string {
	t.Helper()
	if _, err := exec.LookPath("pdftotext"); err != nil {
		t.Skip("pdftotext is not there: install poppler-utils")
	}
	path := filepath.Join(t.TempDir(), "a.pdf")
	if err := os.WriteFile(path, pdf, 0o666); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("pdftotext", append(options, path, "-")...)
	var complaints bytes.Buffer
	cmd.Stderr = &complaints
	out, err := cmd.Output()
	if err != nil || complaints.Len() > 0 {
		t.Fatalf("pdftotext: %v: %s", err, complaints.String())
	}
	return string(out)
}

func TestPDFTextIsText(t *testing.T) {
	text := textOf(t, everyPart(t), "-layout")
	for _, want := range []string{
		"In 12 kn of wind: 3° ± 1°, −4 × 2 → ≥ 7, Zoë’s.", "1. first this", "• a point", "Engine", "224 kW",
		"Caution", "page 1 of ", "Tidewrack 25 ±°→≥é", "leeway downwind, kn", "heading spread (standard deviation), °",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
}

func TestPDFIsTheSameEachTime(t *testing.T) {
	a, b := everyPart(t), everyPart(t)
	if !bytes.Equal(a, b) {
		t.Error("two writings differ")
	}
	if !bytes.Contains(a, []byte("D:20260514170200")) || bytes.Contains(a, []byte("/Author")) || !bytes.Contains(a, []byte("/Lang (en)")) {
		t.Error("date, author or language")
	}
}

// Figures are paths: no picture is in the file.
func TestPDFFiguresAreVectors(t *testing.T) {
	if n := len(regexp.MustCompile(`/Subtype /Image`).FindAll(everyPart(t), -1)); n > 0 {
		t.Errorf("%d pictures", n)
	}
}

// The report on paper says what the page says, in its order.
func TestPDFHoldsThePagesContents(t *testing.T) {
	for name, r := range map[string]*analysis.Results{"full": fullDay(), "bare": bareDay(), "hostile": hostileDay(), "empty": emptyDay(), "zero": {}} {
		u := Units{}
		if name == "full" {
			u = Units{Speed: "mph", Length: "ft", Volume: "gal"}
		}
		var b bytes.Buffer
		if err := u.PDF(&b, r); err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		text := squeezed(textOf(t, b.Bytes()))
		from := 0
		for _, want := range pageTexts(newPage(r, u, mustFigures(t, r))) {
			n := strings.Index(text[from:], squeezed(want))
			if n < 0 {
				t.Fatalf("%s: after %q no %q", name, text[max(0, from-60):from], want)
			}
			from += n
		}
		if strings.Contains(text, "NaN") {
			t.Errorf("%s: a number is not one", name)
		}
	}
}

// pageTexts are words of a page in their order, as far as paper has them.
func pageTexts(p page) []string {
	out := []string{p.Boat, "How fast she runs", "How steady she is", "How she drifts"}
	for _, s := range p.Sections {
		out = append(out, s.Title)
		for _, b := range s.Blocks {
			switch {
			case b.Figure != nil:
				out = append(out, b.Figure.Title, b.Figure.Caption)
			case b.Table != nil:
				out = append(out, b.Table.Title)
			case len(b.List) > 0:
				out = append(out, b.List[len(b.List)-1])
			}
		}
	}
	return append(out, "Words used here", "mean of means")
}

// squeezed is text without its line ends and spaces.
func squeezed(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) {
			return -1
		}
		return r
	}, s)
}
