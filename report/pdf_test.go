package report

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
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

var wordBox = regexp.MustCompile(`<word xMin="([-0-9.]+)" yMin="([-0-9.]+)" xMax="([-0-9.]+)" yMax="([-0-9.]+)">(.*?)</word>`)

// Whatever the words are, they stay inside the margins.
func TestPDFWordsStayInside(t *testing.T) {
	for name, r := range map[string]*analysis.Results{"full": fullDay(), "hostile": hostileDay(), "long": longDay()} {
		var b bytes.Buffer
		if err := (Units{Length: "ft"}).PDF(&b, r); err != nil {
			t.Fatal(err)
		}
		words := wordBox.FindAllStringSubmatch(textOf(t, b.Bytes(), "-bbox"), -1)
		if len(words) < 1000 {
			t.Fatalf("%s: %d words", name, len(words))
		}
		for _, w := range words {
			var at [4]float64
			for i := range at {
				at[i], _ = strconv.ParseFloat(w[i+1], 64)
			}
			if at[0] < marginSide-1 || at[2] > pageLetter.width-marginSide+1 || at[1] < marginTop-4 || at[3] > pageLetter.height-12 {
				t.Errorf("%s: %q at %v", name, w[5], at)
			}
		}
	}
}

// longDay has names as long as a fool can make them.
func longDay() *analysis.Results {
	r := fullDay()
	long := strings.Repeat("longname ", 60)
	unbroken := strings.Repeat("Wordwithoutend", 30)
	r.Trial.Model, r.Trial.Variant, r.Trial.LoadNote, r.Trial.Hull = unbroken, long, unbroken, long
	for i := range r.Drifts {
		r.Drifts[i].Group, r.Drifts[i].Note = unbroken, long
	}
	r.Sources[0].Why, r.Log.Files = long, []string{unbroken}
	return r
}

// A table over several pages has its head on each.
func TestPDFTableRepeatsItsHead(t *testing.T) {
	long := table{Title: "Long", Columns: []heading{{Name: "headword", Text: true}, {Name: "value", Unit: "kn"}}}
	for i := range 200 {
		long.Rows = append(long.Rows, []string{"row", strconv.Itoa(i)})
	}
	d := newDocument(pageA4, "Long", pdfDay)
	d.table(long)
	var b bytes.Buffer
	if err := d.write(&b); err != nil {
		t.Fatal(err)
	}
	pages := strings.Split(strings.TrimSuffix(textOf(t, b.Bytes()), "\f"), "\f")
	if len(pages) < 3 || len(pages) != d.pdf.PageCount() {
		t.Fatalf("%d pages", len(pages))
	}
	for i, p := range pages {
		if strings.Count(p, "headword") != 1 || !strings.Contains(p, fmt.Sprintf("page %d of %d", i+1, len(pages))) {
			t.Errorf("page %d:\n%s", i+1, p)
		}
	}
}

// A letter that no font has is shown as a box, whatever plane it is from.
func TestPDFLettersThatAreNotThere(t *testing.T) {
	d := newDocument(pageA4, "", time.Time{})
	if got, want := d.safe("Zoë 日😀\xff\x1b±"), "Zoë □□□±"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

// Every letter that the report uses is in all the faces.
func TestPDFFacesHaveTheReportsLetters(t *testing.T) {
	d := newDocument(pageA4, "", time.Time{})
	for f := range d.glyphs {
		for _, r := range "±°−×→≥≤½²√·…–—“”’′•□\u00a0éøß" {
			if d.glyphs[f].width(r) < 0 {
				t.Errorf("face %d has no %q", f, r)
			}
		}
	}
}
