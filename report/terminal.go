package report

import (
	"io"
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

// easyWidth is as long as a line of text may be on a wide screen: the eye loses
// its way back from the end of a longer one.
const easyWidth = 100

// wrapped sets text after a head, its further lines under the text's beginning,
// none wider than width.
func wrapped(head, text string, width int) string {
	indent := utf8.RuneCountInString(head)
	room := max(min(width, easyWidth)-indent, 20)
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

// Colours is a terminal that shows colours. Text written to anything else has
// none; no colour says what the words don't.
type Colours struct{ io.Writer }

// A hue is a mark before a word that a terminal colours; hueEnd follows the word.
// The marks are of Unicode's private use.
const (
	hueGood  = "\ue010"
	hueDoubt = "\ue011"
	hueBad   = "\ue012"
	hueEnd   = "\ue01f"
)

func hued(hue, word string) string { return hue + word + hueEnd }

var (
	withHues    = strings.NewReplacer(hueGood, "\x1b[32m", hueDoubt, "\x1b[33m", hueBad, "\x1b[31m", hueEnd, "\x1b[0m")
	withoutHues = strings.NewReplacer(hueGood, "", hueDoubt, "", hueBad, "", hueEnd, "")
)

// writeTerminal writes laid-out text, coloured where w can show it.
func writeTerminal(w io.Writer, text string) error {
	hues := withoutHues
	if _, ok := w.(Colours); ok {
		hues = withHues
	}
	_, err := io.WriteString(w, hues.Replace(plainText(text)))
	return err
}

// doubtsHead is the head over doubts.
const doubtsHead = hueDoubt + "Doubtful or missing" + hueEnd
