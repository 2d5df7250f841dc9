package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"ahull/analysis"
)

// CheckTable writes for a terminal of the given width whether a log is fit to
// use: what each part of the analysis would get from it, what is in it, and what
// is wrong with it.
func CheckTable(w io.Writer, rep *analysis.CheckReport, width int) error {
	return Units{}.CheckTable(w, rep, width)
}

// CheckTable uses these units.
func (u Units) CheckTable(w io.Writer, rep *analysis.CheckReport, width int) error {
	width = max(width, 40)
	rep = localCheck(rep)
	var b strings.Builder
	checkAccount(&b, rep.Log, width)
	u.checkVerdicts(&b, rep.Verdicts, width)
	checkChannels(&b, rep.Channels, u, width)
	for i, gap := range rep.Log.Gaps {
		if i == 3 {
			fmt.Fprintf(&b, "... and %s\n", count(len(rep.Log.Gaps)-3, "more silence", "more silences"))
			break
		}
		fmt.Fprintf(&b, "silent from %s for %s\n", clock(gap.Start), duration(gap.End.Sub(gap.Start).Seconds()))
	}
	checkSilences(&b, rep.Silences, width)
	if len(rep.Log.Rests) > 0 {
		text := restText(rep.Log.Rests)
		b.WriteString(wrapped("", strings.ToUpper(text[:1])+text[1:]+".", width))
	}
	checkClock(&b, rep, width)
	checkCompass(&b, rep.Compass, u, width)
	checkDeviation(&b, rep.Deviation, width)
	checkVane(&b, rep.WindSensor, width)
	checkWaterSpeed(&b, rep.WaterSpeed, width)
	u.checkWarnings(&b, doubtsHead, rep.Warnings, false, width)
	u.checkWarnings(&b, "Notes on the log", rep.Warnings, true, width)
	return writeTerminal(w, b.String())
}

// checkSilences writes a line for each sensor that was silent for long.
func checkSilences(b *strings.Builder, silences []analysis.Silence, width int) {
	for _, s := range silences {
		text := fmt.Sprintf("%s (%s) silent %s", s.Sensor(), clean(s.Source), s.When(zoneName(s.Spells[0].Start)))
		if s.Hurts() {
			text += ": " + s.Segments()
		}
		b.WriteString(wrapped("", text, width))
	}
}

// Still prints what is still to be run or mended while the boat is on the water, of
// a log whose analysis gives these results.
func (u Units) Still(w io.Writer, r *analysis.Results, width int) error {
	r = localTimes(r)
	lines := slices.DeleteFunc(advice(r), func(text string) bool { return text == adviseWinds(r) }) // today's wind is what it is
	if len(lines) == 0 {
		return nil
	}
	var b strings.Builder
	b.WriteString("\nBefore you go home\n")
	for _, text := range lines {
		b.WriteString(wrapped("  - ", u.inText(text), max(width, 40)))
	}
	return writeTerminal(w, b.String())
}

func (u Units) checkWarnings(b *strings.Builder, title string, warnings []analysis.Warning, aboutLog bool, width int) {
	first := true
	for _, w := range warnings {
		if (w.Kind == analysis.WarnLog) != aboutLog {
			continue
		}
		if first {
			b.WriteString("\n" + title + "\n")
			first = false
		}
		b.WriteString(wrapped("  - ", u.inText(w.Text), width))
	}
}

func checkAccount(b *strings.Builder, l analysis.LogAccount, width int) {
	text := fmt.Sprintf("%s: %s", files(l.Files), count(int(l.Lines), "line", "lines"))
	if l.First != nil && l.Last != nil {
		layout := "2006-01-02 15:04:05"
		if !l.Dated {
			layout = "15:04:05"
		}
		last := layout
		if l.First.Format(time.DateOnly) == l.Last.Format(time.DateOnly) {
			last = "15:04:05"
		}
		text += fmt.Sprintf(", %s to %s %s%s (%s)", l.First.Format(layout), l.Last.Format(last), zoneName(*l.First), undated(l),
			duration(l.Last.Sub(*l.First).Round(time.Second).Seconds()))
	}
	b.WriteString(wrapped("", text, width))
	b.WriteString(wrapped("  ", fmt.Sprintf("%d used, %d not needed, %d with a wrong checksum, %d malformed, %d not NMEA",
		l.Used, l.Unneeded, l.BadChecksum, l.Malformed, l.NotNMEA), width))
}

func files(names []string) string {
	switch len(names) {
	case 0:
		return "log"
	case 1:
		return clean(names[0])
	}
	return fmt.Sprintf("%s and %d more", clean(names[0]), len(names)-1)
}

// verdictHues are the colours of what a log is fit for.
var verdictHues = map[string]string{"ready": hueGood, "weak": hueDoubt, "impossible": hueBad}

func (u Units) checkVerdicts(b *strings.Builder, verdicts []analysis.Verdict, width int) {
	if len(verdicts) == 0 {
		return
	}
	b.WriteString("\nFit for\n")
	for _, v := range verdicts {
		head := fmt.Sprintf("  %-14s %-10s ", clean(v.Part), clean(v.Verdict))
		text := strings.TrimRight(head, " ") + "\n"
		if v.Why != "" {
			text = wrapped(head, u.inText(v.Why), width)
		}
		if hue := verdictHues[v.Verdict]; hue != "" {
			text = strings.Replace(text, " "+v.Verdict, " "+hued(hue, v.Verdict), 1)
		}
		b.WriteString(text)
	}
}
