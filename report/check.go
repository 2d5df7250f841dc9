package report

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"ahull/analysis"
)

// CheckTable writes for a terminal of the given width whether a log is fit to use: what each part of
// the analysis would get from it, what is in it, and what is wrong with it.
func CheckTable(w io.Writer, rep *analysis.CheckReport, width int) error {
	return Units{}.CheckTable(w, rep, width)
}

// CheckTable uses these units.
func (u Units) CheckTable(w io.Writer, rep *analysis.CheckReport, width int) error {
	width = max(width, 40)
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
	checkCompass(&b, rep.Compass, u, width)
	checkVane(&b, rep.WindSensor, width)
	u.checkWarnings(&b, doubtsHead, rep.Warnings, false, width)
	u.checkWarnings(&b, "Notes on the log", rep.Warnings, true, width)
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
	text := fmt.Sprintf("%s: %d lines", files(l.Files), l.Lines)
	if l.First != nil && l.Last != nil {
		layout := "2006-01-02 15:04:05"
		if !l.Dated {
			layout = "15:04:05"
		}
		text += fmt.Sprintf(", %s to %s UTC%s (%s)", l.First.UTC().Format(layout), l.Last.UTC().Format("15:04:05"), undated(l),
			duration(l.Last.Sub(*l.First).Round(time.Second).Seconds()))
	}
	b.WriteString(wrapped("", text, width))
	if clocks := clockText(l); clocks != "" {
		b.WriteString(wrapped("  ", "time from "+clocks, width))
	}
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

func checkChannels(b *strings.Builder, channels []analysis.CheckChannel, u Units, width int) {
	if len(channels) == 0 {
		return
	}
	type row = analysis.CheckChannel
	b.WriteString("\n")
	fitted(b, build("", "", channels, []col[row]{
		{"quantity", "", func(c row) string {
			if c.Used {
				return clean(c.Quantity) + "*"
			}
			return clean(c.Quantity)
		}, ""},
		{"from", "", func(c row) string { return clean(strings.TrimSpace(c.Talker + " " + c.Sentence)) }, ""},
		{"samples", "", func(c row) string { return strconv.Itoa(c.Samples) }, ""},
		{"Hz", "", func(c row) string { return hertz(c.RateHz) }, ""},
		{"holes", "", holes, ""},
		{"smallest", "", func(c row) string { return readable(c.Min, c.Unit, u) }, ""},
		{"largest", "", func(c row) string { return readable(c.Max, c.Unit, u) }, ""},
		{"unit", "", func(c row) string { return clean(u.readable(c.Unit).unit) }, ""},
	}), width, []string{"samples", "smallest", "largest", "unit"})
	b.WriteString(wrapped("", "* used by the analysis; holes with the longest in brackets", width))
}

// metresPerSecond is a knot.
const metresPerSecond = metresPerNM / 3600

// readable converts from the unit of a channel to what people read.
func (u Units) readable(unit string) scale {
	switch unit {
	case "m/s":
		return scale{factor: u.speed().factor / metresPerSecond, unit: u.speed().unit}
	case "m":
		return u.length()
	case "L/h":
		return u.flow()
	}
	return scale{factor: 1, unit: unit}
}

// readable prints one end of a channel's range; whole numbers of revolutions.
func readable(n analysis.Number, unit string, u Units) string {
	decimals := 2
	switch unit {
	case "rpm":
		decimals = 0
	case "m/s", "L/h", "m":
		decimals = 1
	}
	s := u.readable(unit)
	return Plain(s.of(n), decimals, "")
}

// holes are how many and how long the longest.
func holes(c analysis.CheckChannel) string {
	if c.Holes == 0 {
		return "0"
	}
	return fmt.Sprintf("%d (%s)", c.Holes, duration(float64(c.LongestHoleS)))
}

func hertz(n analysis.Number) string {
	if n.Known() && n < 1 {
		return Plain(float64(n), 2, "")
	}
	return Plain(float64(n), 1, "")
}
