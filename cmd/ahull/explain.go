package main

import (
	"fmt"
	"io"
	"strings"

	"ahull/analysis"
	"ahull/report"
)

// explanations finds the sum sheets of the named engine speeds, runs, drifts,
// manoeuvres and lines of leeway ("4000rpm" or "R07,D3"); case, blanks, leading zeros and the word rpm
// don't matter.
func explanations(res *analysis.Results, names []string) ([]analysis.Explanation, error) {
	if names == nil {
		return nil, nil
	}
	var out []analysis.Explanation
	for _, name := range strings.Split(strings.Join(names, ","), ",") {
		e, ok := explanation(res, name)
		if !ok {
			return nil, fmt.Errorf("--explain: %s; %s", notExplained(res, name), whichThere(res))
		}
		out = append(out, e)
	}
	return out, nil
}

// notExplained says why there is no sheet of that name.
func notExplained(res *analysis.Results, name string) string {
	for _, s := range res.Segments {
		switch {
		case plainID(s.ID) != plainID(name):
		case s.Excluded != "":
			return fmt.Sprintf("%s is left out (%s), so nothing of it was worked out", s.ID, s.Excluded)
		case s.Kind == "idle" || s.Kind == "other":
			return fmt.Sprintf("%s is a stretch in which nothing is measured (%s)", s.ID, s.Kind)
		default:
			return fmt.Sprintf("%s is a %s of which nothing could be measured", s.ID, s.Kind)
		}
	}
	return fmt.Sprintf("there is no %q in this trial", name)
}

func explanation(res *analysis.Results, name string) (analysis.Explanation, bool) {
	for _, e := range res.Explanations {
		if plainID(e.ID) == plainID(name) {
			return e, true
		}
	}
	return analysis.Explanation{}, false
}

// plainID is an ID without leading zeros: R7 of r07. A number alone is an engine speed.
func plainID(id string) string {
	id = strings.ToUpper(strings.ReplaceAll(id, " ", ""))
	letter := strings.TrimRight(id, "0123456789")
	if letter == "" && id != "" {
		return id + "RPM"
	}
	return letter + strings.TrimLeft(id[len(letter):], "0")
}

// whichThere says which can be explained: "it has 1500rpm, 4000rpm, R01 to R27, S1".
func whichThere(res *analysis.Results) string {
	var groups [][]string
	kind := ""
	for _, e := range res.Explanations {
		k := strings.TrimRight(e.ID, "0123456789") // of an engine speed all of it, so these are named one by one
		if k != kind || groups == nil {
			groups = append(groups, nil)
		}
		kind = k
		groups[len(groups)-1] = append(groups[len(groups)-1], e.ID)
	}
	var out []string
	for _, ids := range groups {
		switch len(ids) {
		case 1:
			out = append(out, ids[0])
		case 2:
			out = append(out, ids[0], ids[1])
		default:
			out = append(out, ids[0]+" to "+ids[len(ids)-1])
		}
	}
	if len(out) == 0 {
		return "no run, drift, turn, speed-up or stop was found"
	}
	return "it has " + strings.Join(out, ", ")
}

func printExplanations(stdout io.Writer, all []analysis.Explanation, units report.Units) error {
	for i, e := range all {
		if i > 0 {
			fmt.Fprintln(stdout)
		}
		if err := units.Explain(stdout, e, width(stdout)); err != nil {
			return err
		}
	}
	return nil
}
