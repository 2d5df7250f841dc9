package analysis_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"ahull/analysis"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// The demo trial, told differently: at 18:16 to 18:26 she drifted, at 17:30 to
// 17:33 too, and the run of 17:14 has its rpm and fuel in the log (truth.json).
const toldDifferently = `[logs]
files = ["2026-05-14.nmea.gz"]
date = 2026-05-13
[[segment]]
kind = "drift"
from = "18:04:13"
to = "18:13:58"
group = "sock out"
[[segment]]
kind = "run"
from = "18:16:04"
to = "18:20:49"
[[exclude]]
from = "17:35:00"
to = "17:41:00"
why = "ferry wake"
[[exclude]]
from = "17:02:05"
to = "17:02:30"
[[reading]]
at = "17:14:30"
rpm = 3500
fuel_flow = "9.8 gal/h"
sound = "84 dB"
[[reading]]
at = "18:10:30"
rpm = 3500
[[reading]]
at = "17:36:20"
rpm = 3500
`

func TestNotesOnWhatTheTrialFileChanged(t *testing.T) {
	f, err := os.Open("../testdata/demo/2026-05-14.nmea.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	log, err := nmea.Read([]nmea.Input{{Name: "day.nmea.gz", Reader: f}}, nmea.Options{})
	if err != nil {
		t.Fatal(err)
	}
	tri, err := trial.Load("trial.toml", []byte(toldDifferently))
	if err != nil {
		t.Fatal(err)
	}
	res, err := analysis.Analyze(log, tri)
	if err != nil {
		t.Fatal(err)
	}
	if !slices.ContainsFunc(res.Warnings, func(w analysis.Warning) bool {
		return w.Code == "date-kept" && strings.Contains(w.Text, "2026-05-13") && strings.Contains(w.Text, "2026-05-14")
	}) {
		t.Errorf("no warning of the day given: %v", res.Warnings)
	}
	for _, want := range [][]string{
		{"[logs] date 2026-05-13: not taken, the log's own 2026-05-14 (UTC) was kept."},
		{`[[segment]] 18:04:13 to 18:13:58 UTC (drift, group "sock out"): applied, as D`, "the program by itself found the same"},
		{"[[segment]] 18:16:04 to 18:20:49 UTC (run): applied, as R", "contradicts the program, which by itself found a drift there"},
		{"[[exclude]] 17:35:00 to 17:41:00 UTC (ferry wake): applied, leaves out ", "R"},
		{"[[exclude]] 17:02:05 to 17:02:30 UTC: applied, but nothing that would be measured lies in it."},
		{"[[reading]] at 17:14:30 UTC: sound used for R", "rpm and fuel flow not: the log has them."},
		{"[[reading]] at 18:10:30 UTC: not used, no run has it in it"},
		{"[[reading]] at 17:36:20 UTC: not used, an [[exclude]] leaves that time out."},
	} {
		i := slices.IndexFunc(res.Method, func(line string) bool { return strings.HasPrefix(line, want[0]) })
		if i < 0 || len(want) > 1 && !strings.Contains(res.Method[i], want[1]) {
			t.Errorf("no line %q in\n%s", want, strings.Join(res.Method, "\n"))
		}
	}
	withSound := 0
	for _, r := range res.Runs {
		if r.SoundDB.Known() {
			withSound++
			if r.SoundDB < 83.999 || r.SoundDB > 84.001 || !slices.Equal(r.ByHand, []string{"sound_db"}) {
				t.Errorf("%s: sound %v by hand %v", r.ID, r.SoundDB, r.ByHand)
			}
		}
	}
	if withSound != 1 {
		t.Errorf("%d runs with a sound level", withSound)
	}
}
