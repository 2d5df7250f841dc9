package report

import (
	"slices"
	"sort"
	"strconv"
	"strings"

	"ahull/analysis"
)

// logLines account for every line of the log.
func logLines(l analysis.LogAccount) [][2]string {
	out := [][2]string{
		{"Files", joinedOr(l.Files, missing)},
		{"Lines", thousands(l.Lines) + " in " + thousands(l.Bytes) + " bytes"},
		{"Used", thousands(l.Used)},
		{"Understood, not needed", thousands(l.Unneeded)},
		{"Checksum wrong", thousands(l.BadChecksum)},
		{"Malformed", thousands(l.Malformed)},
		{"Not NMEA", thousands(l.NotNMEA)},
	}
	if l.First != nil && l.Last != nil {
		layout := "2006-01-02 15:04:05"
		if !l.Dated {
			layout = "15:04:05"
		}
		out = append(out, [2]string{"From and to", l.First.Format(layout) + " to " + l.Last.Format(layout) + " " + zoneName(*l.First) + undated(l)})
	}
	if clocks := clockText(l); clocks != "" {
		out = append(out, [2]string{"Time", "from " + clocks})
	}
	if len(l.BySentence) > 0 {
		out = append(out, [2]string{"Sentences", sentenceCounts(l.BySentence)})
	}
	if len(l.Gaps) > 0 {
		out = append(out, [2]string{"Silences", gapText(l.Gaps)})
	}
	if len(l.Rests) > 0 {
		out = append(out, [2]string{"Long rests", restText(l.Rests)})
	}
	return out
}

// restText says what was not kept of long rests.
func restText(rests []analysis.Gap) string {
	seconds := 0.0
	for _, r := range rests {
		seconds += r.End.Sub(r.Start).Seconds()
	}
	return "the boat lay still with engines stopped for hours: of " + duration(seconds) + " in the midst of that the lines were counted and checked, and nothing else was kept"
}

func undated(l analysis.LogAccount) string {
	if l.Dated {
		return ""
	}
	return ", day not known"
}

// clockText is what the files' times come from.
func clockText(l analysis.LogAccount) string {
	var out []string
	for _, c := range l.Clocks {
		if c = clean(c); c != "" && !slices.Contains(out, c) {
			out = append(out, c)
		}
	}
	return list(out)
}

func joinedOr(names []string, none string) string {
	if len(names) == 0 {
		return none
	}
	return strings.Join(names, ", ")
}

// sentenceCounts lists sentences, the most frequent first.
func sentenceCounts(by map[string]int64) string {
	names := make([]string, 0, len(by))
	for name := range by {
		names = append(names, name)
	}
	sort.Slice(names, func(i, j int) bool {
		if by[names[i]] != by[names[j]] {
			return by[names[i]] > by[names[j]]
		}
		return names[i] < names[j]
	})
	for i, name := range names {
		names[i] = name + " " + thousands(by[name])
	}
	return strings.Join(names, ", ")
}

func gapText(gaps []analysis.Gap) string {
	var parts []string
	for i, g := range gaps {
		if i == 12 {
			parts = append(parts, "and "+strconv.Itoa(len(gaps)-12)+" more")
			break
		}
		parts = append(parts, clock(g.Start)+" for "+duration(g.End.Sub(g.Start).Seconds()))
	}
	return strings.Join(parts, "; ")
}

// sourceTable is the sensors: which was used for what, and why.
func sourceTable(r *analysis.Results) table {
	type row = analysis.Source
	return build("sources", "Sensors", r.Sources, []col[row]{
		{"quantity", "", func(s row) string { return s.Channel }, ""},
		{"from", "", func(s row) string { return strings.TrimSpace(s.Talker + " " + s.Sentence + " " + s.Name) }, ""},
		{"rate", "Hz", func(s row) string { return hertz(s.RateHz) }, ""},
		{"samples", "", func(s row) string { return thousands(int64(s.Samples)) }, ""},
		{"used", "", func(s row) string {
			if s.Chosen {
				return "yes"
			}
			return "no"
		}, ""},
		{"why", "", func(s row) string { return s.Why }, ""},
	})
}
