package report

import (
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"time"

	"ahull/analysis"
)

// CheckTable writes for a terminal whether a log is fit to use: what each part of
// the analysis would get from it, what is in it, and what is wrong with it.
func CheckTable(w io.Writer, rep *analysis.CheckReport) error { return Units{}.CheckTable(w, rep) }

// CheckTable uses these units.
func (u Units) CheckTable(w io.Writer, rep *analysis.CheckReport) error {
	var b strings.Builder
	checkAccount(&b, rep.Log)
	checkVerdicts(&b, rep.Verdicts)
	checkChannels(&b, rep.Channels, u)
	for i, gap := range rep.Log.Gaps {
		if i == 3 {
			fmt.Fprintf(&b, "... and %s\n", count(len(rep.Log.Gaps)-3, "more silence", "more silences"))
			break
		}
		fmt.Fprintf(&b, "silent from %s for %s\n", clock(gap.Start), duration(gap.End.Sub(gap.Start).Seconds()))
	}
	checkCompass(&b, rep.Compass)
	checkVane(&b, rep.WindSensor)
	checkWarnings(&b, "Doubtful or missing", rep.Warnings, false)
	checkWarnings(&b, "Notes on the log", rep.Warnings, true)
	_, err := io.WriteString(w, plainText(b.String()))
	return err
}

func checkWarnings(b *strings.Builder, title string, warnings []analysis.Warning, aboutLog bool) {
	first := true
	for _, w := range warnings {
		if (w.Kind == analysis.WarnLog) != aboutLog {
			continue
		}
		if first {
			b.WriteString("\n" + title + "\n")
			first = false
		}
		b.WriteString(wrapped("  - ", clean(w.Text), 80))
	}
}

func checkAccount(b *strings.Builder, l analysis.LogAccount) {
	fmt.Fprintf(b, "%s: %d lines", files(l.Files), l.Lines)
	if l.First != nil && l.Last != nil {
		layout := "2006-01-02 15:04:05"
		if !l.Dated {
			layout = "15:04:05"
		}
		fmt.Fprintf(b, ", %s to %s UTC%s (%s)", l.First.UTC().Format(layout), l.Last.UTC().Format("15:04:05"), undated(l),
			duration(l.Last.Sub(*l.First).Round(time.Second).Seconds()))
	}
	if clocks := clockText(l); clocks != "" {
		b.WriteString("\n  time from " + clocks)
	}
	fmt.Fprintf(b, "\n  %d used, %d not needed, %d with a wrong checksum, %d malformed, %d not NMEA\n",
		l.Used, l.Unneeded, l.BadChecksum, l.Malformed, l.NotNMEA)
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

func checkVerdicts(b *strings.Builder, verdicts []analysis.Verdict) {
	if len(verdicts) == 0 {
		return
	}
	b.WriteString("\nFit for\n")
	for _, v := range verdicts {
		head := fmt.Sprintf("  %-14s %-10s ", clean(v.Part), clean(v.Verdict))
		if v.Why == "" {
			b.WriteString(strings.TrimRight(head, " ") + "\n")
			continue
		}
		b.WriteString(wrapped(head, clean(v.Why), 80))
	}
}

func checkChannels(b *strings.Builder, channels []analysis.CheckChannel, u Units) {
	if len(channels) == 0 {
		return
	}
	b.WriteString("\n")
	t := tabwriter.NewWriter(b, 0, 8, 2, ' ', 0)
	fmt.Fprintln(t, "quantity\tfrom\tsamples\tHz\tholes\tlongest\tsmallest\tlargest\tunit\t")
	for _, c := range channels {
		used := ""
		if c.Used {
			used = "*"
		}
		fmt.Fprintf(t, "%s%s\t%s\t%d\t%s\t%d\t%s\t%s\t%s\t%s\t\n", clean(c.Quantity), used,
			clean(strings.TrimSpace(c.Talker+" "+c.Sentence)), c.Samples, hertz(c.RateHz), c.Holes,
			longest(c), readable(c.Min, c.Unit, u), readable(c.Max, c.Unit, u), clean(u.readable(c.Unit).unit))
	}
	t.Flush()
	b.WriteString("* used by the analysis\n")
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

func longest(c analysis.CheckChannel) string {
	if c.Holes == 0 {
		return missing
	}
	return duration(float64(c.LongestHoleS))
}

func hertz(n analysis.Number) string {
	if n.Known() && n < 1 {
		return Plain(float64(n), 2, "")
	}
	return Plain(float64(n), 1, "")
}
