package main

import (
	"errors"
	"os/exec"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"ahull": main})
}

// The scripts run the real program; each says in its first lines what it is
// about.
func TestScripts(t *testing.T) {
	testdata, err := filepath.Abs("../../testdata")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata",
		Setup: func(env *testscript.Env) error {
			env.Setenv("DEMO", filepath.Join(testdata, "demo"))
			env.Setenv("COMPARE", filepath.Join(testdata, "demo-compare"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits": exits, "json": jsonFile, "samecount": sameCount,
		},
	})
}

// exits STATUS COMMAND… runs a command that must end with that exit status.
func exits(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: exits STATUS COMMAND...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	var status *exec.ExitError
	if err := ts.Exec(args[1], args[2:]...); errors.As(err, &status) {
		got = status.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("exit status %d, want %d", got, want)
	}
}
