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

// What the README shows is what its command prints, but for last digits.
func TestReadmeShowsWhatTheProgramPrints(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Skip("other processors round last digits otherwise")
	}
	demo := filepath.Join("..", "..", "testdata", "demo")
	out := filepath.Join(t.TempDir(), "out")
	var stdout, stderr bytes.Buffer
	if code := run([]string{"analyze", filepath.Join(demo, "trial.toml"), "--out", out}, &stdout, &stderr); code != 0 {
		t.Fatalf("exit %d: %s", code, stderr.String())
	}
	printed, _, _ := strings.Cut(stdout.String(), "\nReport:")
	printed = strings.TrimRight(printed, "\n")
	figure, err := os.ReadFile(filepath.Join(out, "figures", "leeway.svg"))
	if err != nil {
		t.Fatal(err)
	}
	readme := filepath.Join("..", "..", "README.md")
	text, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok1 := strings.Cut(string(text), "```text\n")
	shown, after, ok2 := strings.Cut(rest, "\n```")
	if !ok1 || !ok2 {
		t.Fatal("the README has no ```text block")
	}
	if *update {
		write(t, readme, before+"```text\n"+printed+"\n```"+after)
		write(t, filepath.Join(demo, "leeway.svg"), string(figure))
		return
	}
	if layout(shown) != layout(printed) {
		t.Errorf("the README shows\n%s\nthe program prints\n%s\n(go test ./cmd/ahull -run Readme -update writes it anew)", shown, printed)
	}
	if _, err := os.Stat(filepath.Join(demo, "leeway.svg")); err != nil {
		t.Error(err)
	}
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
