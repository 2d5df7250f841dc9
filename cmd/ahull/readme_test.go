package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write the README's printed output and figure anew")

// shownRun is a command whose output and figure the README shows under a heading.
type shownRun struct {
	heading string
	args    []string
	drawn   string // the figure in the output folder, "" for none
	kept    string // the same in the repository
}

// What the README shows is what its commands print, but for last digits.
func TestReadmeShowsWhatTheProgramPrints(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round last digits otherwise")
	}
	testdata := filepath.Join("..", "..", "testdata")
	compare := []string{"compare"}
	for _, day := range []string{"as-built-1", "as-built-2", "as-built-3", "new-chine-1", "new-chine-2", "new-chine-3"} {
		compare = append(compare, filepath.Join(testdata, "demo-compare", day))
	}
	for _, r := range []shownRun{
		{"An example", []string{"analyze", filepath.Join(testdata, "demo", "trial.toml")}, "leeway.svg", filepath.Join(testdata, "demo", "leeway.svg")},
		{"Can I go home?", []string{"check", filepath.Join(testdata, "demo", "trial.toml")}, "", ""},
		{"Did the change help?", compare, "compare-differences.svg", filepath.Join(testdata, "demo-compare", "differences.svg")},
	} {
		t.Run(r.heading, r.check)
	}
}

func (r shownRun) check(t *testing.T) {
	out := filepath.Join(t.TempDir(), "out")
	args := r.args
	if r.drawn != "" {
		args = append(args, "--out", out)
	}
	var stdout, stderr bytes.Buffer
	if code := run(args, &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, stderr.String())
	}
	printed, _, _ := strings.Cut(stdout.String(), "\nReport:")
	printed = strings.TrimRight(printed, "\n")
	figure := r.figure(t, out)
	readme := filepath.Join("..", "..", "README.md")
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	head, section, ok0 := strings.Cut(string(text), "\n## "+r.heading+"\n")
	before, rest, ok1 := strings.Cut(section, "```text\n")
	shown, after, ok2 := strings.Cut(rest, "\n```")
	if !ok0 || !ok1 || !ok2 {
		t.Fatalf("the README has no ```text block under %q", r.heading)
	}
	if *update {
		write(t, readme, head+"\n## "+r.heading+"\n"+before+"```text\n"+printed+"\n```"+after)
		if r.drawn != "" {
			write(t, r.kept, figure)
		}
		return
	}
	if layout(shown) != layout(printed) {
		t.Errorf("the README shows\n%s\nthe program prints\n%s\n(go test ./cmd/ahull -run Readme -update writes it anew)", shown, printed)
	}
	if _, err := os.Stat(r.kept); r.drawn != "" && err != nil {
		t.Error(err)
	}
}

// figure is the one drawn into the output folder, "" for a command that draws none.
func (r shownRun) figure(t *testing.T, out string) string {
	t.Helper()
	if r.drawn == "" {
		return ""
	}
	data, err := os.ReadFile(filepath.Join(out, "figures", r.drawn))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// layout is printed text without its figures' last word: numbers and the
// spaces around them differ with every better estimate.
func layout(text string) string {
	text = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`).ReplaceAllString(text, "#")
	return strings.Join(strings.Fields(text), " ")
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// The card's beginning in the README is what ahull plan prints.
func TestReadmeShowsACard(t *testing.T) {
	var stdout, stderr bytes.Buffer
	args := []string{"plan", "--model", "Tidewrack 25", "--test", "drift,head-sea", "--time", "90 min", "--cruise", "22 kn", "--wind", "12 kn from 310"}
	if code := run(args, &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, stderr.String())
	}
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	_, section, ok0 := strings.Cut(string(text), "\n## Plan a day, rehearse it\n")
	_, rest, ok1 := strings.Cut(section, "```text\n")
	shown, _, ok2 := strings.Cut(rest, "\n```")
	if !ok0 || !ok1 || !ok2 {
		t.Fatal("the README shows no card")
	}
	if !strings.HasPrefix(layout(stdout.String()), layout(shown)) {
		t.Errorf("the README shows\n%s\nthe program prints\n%s", shown, stdout.String())
	}
}
