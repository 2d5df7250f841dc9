package report

import (
	"html/template"
	"regexp"
	"strconv"
	"strings"
)

// inkSheet turns the style attributes of a page's figures into classes of one
// style sheet: the page's policy forbids the attributes, and classes are shorter.
// The colours become those of page.css, which knows a light and a dark set.
type inkSheet struct {
	class map[string]string // by what the attribute said
	rules []string
}

func newInkSheet() *inkSheet { return &inkSheet{class: map[string]string{}} }

// all gives the figures in the sheet's classes.
func (s *inkSheet) all(figures []Figure) []Figure {
	out := make([]Figure, len(figures))
	for i, f := range figures {
		f.SVG = s.inked(f.SVG)
		out[i] = f
	}
	return out
}

func (s *inkSheet) inked(svg []byte) []byte {
	return styleOfElement.ReplaceAllFunc(svg, func(attr []byte) []byte {
		said := string(styleOfElement.FindSubmatch(attr)[1])
		name, known := s.class[said]
		if !known {
			name = "i" + strconv.Itoa(len(s.rules))
			s.class[said] = name
			s.rules = append(s.rules, "."+name+"{"+themed(said)+"}")
		}
		return []byte(`class="` + name + `"`)
	})
}

// css are the rules of the classes given so far.
func (s *inkSheet) css() string { return strings.Join(s.rules, "\n") + "\n" }

// framed puts a figure into the page, and beside it the one for phones.
func framed(f, phone Figure, caption string) block {
	return block{Figure: &pageFigure{ID: f.Name, Title: f.Title, Caption: caption,
		Drawing: template.HTML(f.SVG), Phone: template.HTML(phone.SVG), drawn: f}}
}

// themed puts the names of page.css for a style's colours.
func themed(style string) string {
	return inkOf.ReplaceAllStringFunc(style, func(s string) string {
		property, hex, _ := strings.Cut(s, ":#")
		if name := nameOf(hex); name != "" {
			return property + ":var(--" + name + ")"
		}
		return s
	})
}

// nameOf finds a colour's name. The canvas darkens a see-through colour by up to
// two steps in rounding.
func nameOf(hex string) string {
	v, err := strconv.ParseUint(hex, 16, 32)
	if err != nil {
		return ""
	}
	near := func(a uint8, b uint64) bool { return int(a)-int(b&0xff) <= 2 && int(b&0xff)-int(a) <= 2 }
	for c, name := range cssNames {
		if near(c.R, v>>16) && near(c.G, v>>8) && near(c.B, v) {
			return name
		}
	}
	return ""
}

var (
	styleOfElement = regexp.MustCompile(`style="([^"]*)"`)
	inkOf          = regexp.MustCompile(`(?:fill|stroke):#[0-9A-Fa-f]{6}`)
)
