package trial

import (
	"fmt"
	"slices"
	"strings"
)

// meant are other words for what a trial file says, each with the words it may
// stand for. Keys and the values of kind and water share the list.
var meant = map[string][]string{
	"reason": {"why"}, "because": {"why"}, "comment": {"note", "why"}, "remark": {"note", "why"}, "remarks": {"note", "why"}, "notes": {"note", "why"}, "note": {"why"}, "why": {"note"},
	"start": {"from"}, "begin": {"from"}, "end": {"to"}, "stop": {"to"}, "until": {"to"}, "time": {"at", "from"},
	"name": {"model"}, "boat": {"model"}, "version": {"variant"}, "number": {"hull"}, "hin": {"hull"}, "label": {"group"}, "type": {"kind"},
	"loa": {"length"}, "width": {"beam"}, "breadth": {"beam"}, "draught": {"draft"}, "depth": {"draft"},
	"weight": {"displacement"}, "mass": {"displacement"}, "people": {"crew"}, "persons": {"crew"},
	"hp": {"power"}, "horsepower": {"power"}, "kw": {"power"}, "gear": {"gear_ratio"}, "ratio": {"gear_ratio"}, "reduction": {"gear_ratio"},
	"pitch": {"propeller_pitch"}, "prop_pitch": {"propeller_pitch"}, "capacity": {"tank"}, "fuel_tank": {"tank"}, "tank_size": {"tank"}, "fuel_capacity": {"tank"},
	"file": {"files"}, "log": {"files", "logs"}, "logs": {"files"}, "day": {"date"}, "tz": {"timezone"}, "zone": {"timezone"}, "time_zone": {"timezone"},
	"height": {"anemometer_height", "wave_height"}, "wind_height": {"anemometer_height"}, "mast_height": {"anemometer_height"}, "compass": {"heading"},
	"wave_direction": {"wave_from"}, "waves_from": {"wave_from"}, "period": {"wave_period"}, "wave": {"wave_height"}, "waves": {"wave_height"},
	"engine_speed": {"rpm"}, "revs": {"rpm"}, "flow": {"fuel_flow"}, "consumption": {"fuel_flow"}, "noise": {"sound"},
	"unit": {"units"}, "mark": {"segment"}, "marks": {"segment"}, "sensors": {"instruments"}, "weather": {"conditions"}, "sea": {"conditions", "salt"}, "motor": {"engine"}, "loading": {"load"},

	"anchor": {"idle"}, "anchored": {"idle"}, "at anchor": {"idle"}, "moored": {"idle"}, "mooring": {"idle"}, "alongside": {"idle"}, "berth": {"idle"}, "dock": {"idle"}, "docked": {"idle"}, "harbour": {"idle", "other"},
	"troll": {"run"}, "trolling": {"run"}, "cruise": {"run"}, "cruising": {"run"}, "steady": {"run"}, "idling": {"run"}, "drifting": {"drift"}, "circle": {"turn"}, "turning": {"turn"},
	"acceleration": {"speed-up"}, "accelerate": {"speed-up"}, "speedup": {"speed-up"}, "stopping": {"stop"}, "crash stop": {"stop"}, "manoeuvring": {"other"}, "maneuvering": {"other"},
	"seawater": {"salt"}, "sea water": {"salt"}, "saltwater": {"salt"}, "sweet": {"fresh"}, "lake": {"fresh"}, "river": {"fresh"}, "freshwater": {"fresh"},
}

// Suggest is the known word that was likely meant, "" if none is near.
func Suggest(word string, known []string) string {
	for _, k := range known {
		if plainWord(k) == plainWord(word) {
			return k
		}
	}
	for _, k := range meant[strings.ToLower(word)] {
		if slices.Contains(known, k) {
			return k
		}
	}
	best, least := "", min(2, (len(word)-1)/2)+1
	for _, k := range known {
		if d := edits(word, k); d < least {
			best, least = k, d
		}
	}
	return best
}

// plainWord is a word without the ways to write it: Gear-Ratio of gear_ratio.
func plainWord(s string) string {
	return strings.ToLower(strings.NewReplacer("_", "", "-", "", " ", "").Replace(s))
}

// edits is the least number of letters to add, drop or change to make b of a
// (Levenshtein's distance).
func edits(a, b string) int {
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			change := diagonal
			if a[i] != b[j] {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, diagonal+1)
		}
	}
	return row[len(b)]
}

// unknownKey is a key that nobody asked for.
type unknownKey struct {
	table, key string
	known      []string
}

// tellUnknown reports the unknown keys, when all tables have been read: a key
// may only stand in the wrong one.
func (r *reader) tellUnknown() {
	for _, u := range r.unknown {
		text, expected := "unknown key", "expected one of "+strings.Join(u.known, ", ")
		if near := Suggest(u.key, u.known); near != "" {
			text, expected = fmt.Sprintf("unknown key; did you mean %q?", near), "("+expected+")"
		} else if home := r.home(u.key); home != "" {
			text, expected = fmt.Sprintf("unknown key here; it belongs under [%s]", home), "("+expected+")"
		} else {
			text += ";"
		}
		r.fail(join(u.table, u.key), "%s %s", text, expected)
	}
}

// home is the table that has the key, "" if none or several have it.
func (r *reader) home(key string) string {
	found := ""
	for table, keys := range r.knownIn {
		if table == "" || !slices.Contains(keys, key) {
			continue
		}
		if found != "" {
			return ""
		}
		found = table
	}
	return found
}
