package report

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"strings"
)

// pageFiles are the templates, the style and the script of every page: parts.html
// holds what pages share, the others are a page each.
//
//go:embed page/*.html page/*.css page/*.js
var pageFiles embed.FS

var (
	pageStyle  = mustRead("page.css") + mustRead("live.css") + mustRead("print.css")
	pageScript = scriptOf("day.js", "scale.js", "timeline.js", "track.js", "stretch.js")
)

func mustRead(name string) string {
	b, err := pageFiles.ReadFile("page/" + name)
	if err != nil {
		panic(err) // a file of the program itself
	}
	return string(b)
}

// scriptOf joins files into one script with names of its own.
func scriptOf(names ...string) string {
	var b strings.Builder
	b.WriteString("(() => {\n\"use strict\";\n")
	for _, n := range names {
		b.WriteString(mustRead(n))
	}
	b.WriteString("})();\n")
	return b.String()
}

// shell is what every page stands in: its head with the policy that lets nothing
// but its own style and script in, and its data.
type shell struct {
	Title  string
	Policy string
	Style  template.CSS
	Script template.JS
	Data   template.JS // JSON, "" for none
}

// newShell is a page's head; style is added to the pages' own, data is for the
// script.
func newShell(title, style string, data any) (shell, error) {
	sh := shell{Title: title, Style: template.CSS(pageStyle + style), Script: template.JS(pageScript)}
	sh.Policy = "default-src 'none'; style-src '" + hashOf(string(sh.Style)) + "'; script-src '" + hashOf(string(sh.Script)) +
		"'; base-uri 'none'; form-action 'none'"
	if data != nil {
		b, err := json.Marshal(data) // escapes <, > and &, so that no text ends the block
		if err != nil {
			return sh, fmt.Errorf("data of the page: %w", err)
		}
		sh.Data = template.JS(b)
	}
	return sh, nil
}

// hashOf names a style or script in a content-security policy.
func hashOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "sha256-" + base64.StdEncoding.EncodeToString(sum[:])
}

// fill writes a page. In tables, rows that begin with the ID of a stretch of the
// day can be picked; where there is a sum sheet for it (true) they lead there.
func fill(w io.Writer, name string, data any, stretches map[string]bool) error {
	t, err := template.New(name).Funcs(template.FuncMap{
		"stretch": func(id string) bool { _, there := stretches[id]; return there },
		"sums":    func(id string) bool { return stretches[id] },
		"held":    func(text string) string { return strings.ReplaceAll(text, ")°", ")\u2060°") }, // or a line might begin with °
		"sheet":   func(id string) string { return "worked-" + strings.ReplaceAll(id, " ", "-") },
	}).ParseFS(pageFiles, "page/parts.html", "page/"+name)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	var b bytes.Buffer
	if err := t.Execute(&b, data); err != nil {
		return fmt.Errorf("filling %s: %w", name, err)
	}
	_, err = w.Write(b.Bytes())
	return err
}
