package report

import (
	"strings"
	"unicode/utf8"
)

// plainText keeps to what any terminal shows: ASCII, ± and °, and whatever
// letters names are written in.
func plainText(s string) string {
	s = strings.NewReplacer("−", "-", "—", "-", "–", "-", "\u202f", " ", "\u00a0", " ", "…", "...").Replace(s)
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

// wrapped sets text after a head, its further lines under the text's beginning,
// none wider than width.
func wrapped(head, text string, width int) string {
	indent := utf8.RuneCountInString(head)
	room := max(width-indent, 20)
	var b strings.Builder
	b.WriteString(head)
	used := 0
	for _, word := range strings.Fields(text) {
		n := utf8.RuneCountInString(word)
		if used > 0 && used+1+n > room {
			b.WriteString("\n" + strings.Repeat(" ", indent))
			used = 0
		}
		if used > 0 {
			b.WriteByte(' ')
			used++
		}
		b.WriteString(word)
		used += n
	}
	b.WriteString("\n")
	return b.String()
}
