package analysis

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"ahull/nmea"
)

// The kinds of warning, from the weightiest down.
const (
	WarnMissing  = "missing"  // a sensor or a result isn't there
	WarnDoubtful = "doubtful" // a result is there, but look at it twice
	WarnLog      = "log"      // how the log was read; no result hangs on it
)

// warningOrder is all codes by weight within their kind.
var warningOrder = []struct{ kind, codes string }{
	{WarnMissing, "no-nmea no-time no-fix no-heading no-current leeway-withheld no-wind no-wind-in-drift no-velocity no-rpm no-date " +
		"no-anemometer-height no-variation source-not-found shaft-speed ride-withheld few-days not-compared engine-speed-alone"},
	{WarnDoubtful, "trial-twice set-up-differs top-engine-speeds-differ same-day date-missing date-kept several-days sensor-silent sentences-lost frozen-sensor unusual-value heading-not-believed rpm-not-believed heading-far-off file-cut-short current-weak sea-unknown current-shear wind-angle-offset wind-speed-scale mark-doubtful mark-rest drifts-differ roll-doubtful leeway-doubtful odd-run no-way no-slip negative-slip " +
		"segments-without-heading segments-without-rpm drift-or-troll drift-or-anchor drift-short jibed wind-seen instrument-wind current-given " +
		"log-ignored simulator not-measured clocks-differ clock-set-back date-odd several-engines gps-week logger-clock logger-clock-stepped no-deviation"},
	{WarnLog, "files-overlap talker-changed units-differ date-given time-out-of-order time-backward bad-checksum no-checksum stray-source tag-block " +
		"field-refused no-time-near"},
}

// weight is a code's place in the order and its kind; a code that isn't listed
// comes after the doubtful ones that are.
func weight(code string) (rank int, kind string) {
	for i, group := range warningOrder {
		if j := slices.Index(strings.Fields(group.codes), code); j >= 0 {
			return 1000*i + j, group.kind
		}
	}
	return 1999, WarnDoubtful
}

// trifle is the share of a log's samples or lines up to which what was wrong
// with them is only worth a note. Our own choice.
const trifle = 0.005

var firstCount = regexp.MustCompile(`: (\d+) `)

// resultWarnings puts the weightiest first, drops repeats and what another says
// too, and joins what is said of several segments alike.
func resultWarnings(ws []nmea.Warning, used int64) []Warning {
	out := []Warning{}
	seen := map[nmea.Warning]bool{}
	codes := map[string]bool{}
	for _, w := range ws {
		codes[w.Code] = true
	}
	for _, w := range ws {
		if seen[w] || w.Code == "leeway-withheld" && codes["no-current"] {
			continue
		}
		seen[w] = true
		_, kind := weight(w.Code)
		if n := firstCount.FindStringSubmatch(w.Text); kind == WarnLog && n != nil {
			if lost, err := strconv.ParseInt(n[1], 10, 64); err == nil && float64(lost) > trifle*float64(used) {
				kind = WarnDoubtful
			}
		}
		out = append(out, Warning{Code: w.Code, Kind: kind, Text: w.Text})
	}
	kinds := []string{WarnMissing, WarnDoubtful, WarnLog}
	slices.SortStableFunc(out, func(a, b Warning) int {
		ra, _ := weight(a.Code)
		rb, _ := weight(b.Code)
		return cmp.Or(cmp.Compare(slices.Index(kinds, a.Kind), slices.Index(kinds, b.Kind)), cmp.Compare(ra, rb), cmp.Compare(a.Text, b.Text))
	})
	return joinAlike(out)
}

// ofSegment parts "D1: she jibed" into the segment and what is said of it.
var ofSegment = regexp.MustCompile(`^([A-Z]\d+)(: .*)$`)

// joinAlike makes one warning of those that differ only in their segment.
func joinAlike(ws []Warning) []Warning {
	out := []Warning{}
	ids := map[int][]string{} // by place in out
	at := map[[2]string]int{} // by code and what is said
	for _, w := range ws {
		m := ofSegment.FindStringSubmatch(w.Text)
		if m == nil {
			out = append(out, w)
			continue
		}
		key := [2]string{w.Code, m[2]}
		i, ok := at[key]
		if !ok {
			i = len(out)
			at[key] = i
			out = append(out, w)
		}
		ids[i] = append(ids[i], m[1])
		out[i].Text = IDList(ids[i]) + m[2]
	}
	return out
}

// IDList writes segment IDs in short, those in a row as from … to: "R01 to R04,
// R26 and R27".
func IDList(ids []string) string {
	var parts []string
	for i := 0; i < len(ids); {
		j := i
		for j+1 < len(ids) && follows(ids[j], ids[j+1]) {
			j++
		}
		switch {
		case j-i >= 2:
			parts = append(parts, ids[i]+" to "+ids[j])
		default:
			parts = append(parts, ids[i:j+1]...)
		}
		i = j + 1
	}
	return listOf(parts)
}

// listOf writes "a, b and c".
func listOf(parts []string) string {
	if len(parts) < 2 {
		return strings.Join(parts, "")
	}
	return strings.Join(parts[:len(parts)-1], ", ") + " and " + parts[len(parts)-1]
}

// follows tells whether b is the next ID after a.
func follows(a, b string) bool {
	la, lb := strings.TrimRight(a, "0123456789"), strings.TrimRight(b, "0123456789")
	na, errA := strconv.Atoi(a[len(la):])
	nb, errB := strconv.Atoi(b[len(lb):])
	return la == lb && errA == nil && errB == nil && nb == na+1
}
