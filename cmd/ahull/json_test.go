package main

import (
	"encoding/json"
	"fmt"
	"strconv"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// json FILE PATH VALUE checks that a file (or stdout) is one JSON value, and
// what it holds at a path such as "log.lines" or "runs.0.id"; the value "?"
// will do for any.
func jsonFile(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: json FILE PATH VALUE")
	}
	if got := fmt.Sprint(at(ts, args[0], args[1])); args[2] != "?" && got != args[2] {
		ts.Fatalf("%s is %s, want %s", args[1], got, args[2])
	}
}

// samecount FILE1 FILE2 PATH… checks that the lists at each path are of one
// length, and not empty.
func sameCount(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 3 {
		ts.Fatalf("usage: samecount FILE1 FILE2 PATH...")
	}
	for _, path := range args[2:] {
		a, okA := at(ts, args[0], path).([]any)
		b, okB := at(ts, args[1], path).([]any)
		if !okA || !okB || len(a) == 0 || len(a) != len(b) {
			ts.Fatalf("%s: %d in %s, %d in %s", path, len(a), args[0], len(b), args[1])
		}
	}
}

// at is what a JSON file holds at a path.
func at(ts *testscript.TestScript, file, path string) any {
	var v any
	if err := json.Unmarshal([]byte(ts.ReadFile(file)), &v); err != nil {
		ts.Fatalf("%s is not JSON: %v", file, err)
	}
	for step := range strings.SplitSeq(path, ".") {
		switch x := v.(type) {
		case map[string]any:
			next, ok := x[step]
			if !ok {
				ts.Fatalf("no %q in %s", step, path)
			}
			v = next
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i >= len(x) {
				ts.Fatalf("no element %q in %s", step, path)
			}
			v = x[i]
		default:
			ts.Fatalf("nothing below %v at %q of %s", v, step, path)
		}
	}
	return v
}
