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
	var v any
	if err := json.Unmarshal([]byte(ts.ReadFile(args[0])), &v); err != nil {
		ts.Fatalf("%s is not JSON: %v", args[0], err)
	}
	for step := range strings.SplitSeq(args[1], ".") {
		switch x := v.(type) {
		case map[string]any:
			next, ok := x[step]
			if !ok {
				ts.Fatalf("no %q in %s", step, args[1])
			}
			v = next
		case []any:
			i, err := strconv.Atoi(step)
			if err != nil || i >= len(x) {
				ts.Fatalf("no element %q in %s", step, args[1])
			}
			v = x[i]
		default:
			ts.Fatalf("nothing below %v at %q of %s", v, step, args[1])
		}
	}
	if got := fmt.Sprint(v); args[2] != "?" && got != args[2] {
		ts.Fatalf("%s is %s, want %s", args[1], got, args[2])
	}
}
