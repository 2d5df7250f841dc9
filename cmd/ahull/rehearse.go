package main

import (
	"bytes"
	"cmp"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"ahull/analysis/plan"
	"ahull/analysis/rehearse"
	"ahull/report"
)

type rehearseCommand struct {
	planCommand
	seed    uint64
	days    int
	variant string
	change  string
	date    string
}

func newRehearse() *cobra.Command {
	var flags rehearseCommand
	cmd := &cobra.Command{
		Use:   "rehearse [PLAN.toml]",
		Short: "Sail a plan by simulation, and write the log it would give",
		Long: `Rehearse sails the card of a plan in the wind, sea and current expected, with a
boat that does what the plan says of her, a helmsman and instruments that err as
usual, and writes into a folder what the day would leave: the log, a trial file
beside it, and truth.json with what an analysis ought to find. So the answer's
shape can be seen before fuel is burnt:

  ahull plan tuesday.toml          what to do
  ahull rehearse tuesday.toml      tuesday-rehearsal/…
  ahull analyze tuesday-rehearsal  what it would show

With --days each day has a folder of its own, and weather, sea and load of its
own. With --change she differs from the plan's boat by these parts: drift,
drift-yaw, drift-roll, head-sea, head-sea-loss, speed, top-speed, fuel. The same
--seed gives the same bytes; before and after are best rehearsed with one seed,
which keeps the boat's instruments the same. It is arithmetic, not a prediction
of the hull.`,
		Example: `  ahull rehearse tuesday.toml
  ahull rehearse tuesday.toml --days 3 --out before
  ahull rehearse tuesday.toml --days 3 --variant "new chine" --change "drift -15 %, head-sea -25 %" --out after
  ahull compare before/* after/*`,
		Args: atMostOne,
		RunE: func(cmd *cobra.Command, args []string) error { return makeRehearsal(cmd, args, flags) },
	}
	flags.known = planFlags
	flags.add(cmd)
	cmd.Flags().StringVar(&flags.out, "out", "", "write into `DIR` instead of beside the plan")
	cmd.Flags().Uint64Var(&flags.seed, "seed", 1, "another `NUMBER` makes other chances")
	cmd.Flags().IntVar(&flags.days, "days", 1, "how many days to sail, as in `3`")
	cmd.Flags().StringVar(&flags.variant, "variant", "", "name the boat's state otherwise than the plan, as in `\"new chine\"`")
	cmd.Flags().StringVar(&flags.change, "change", "", "what she differs by, each `PART` in percent, as in \"drift -15 %, top-speed -2 %\"")
	cmd.Flags().StringVar(&flags.date, "date", "", "the first `DAY`, as in 2026-06-01")
	return cmd
}

func makeRehearsal(cmd *cobra.Command, args []string, flags rehearseCommand) error {
	wrong := func(text string) error { return usageError{text, cmd.CommandPath()} }
	change, err := parseChange(flags.change)
	if err != nil {
		return wrong("--change: " + err.Error())
	}
	if flags.days < 1 || flags.days > 31 {
		return wrong("--days: expected 1 to 31 days")
	}
	start := time.Date(2026, time.June, 1, 9, 0, 0, 0, time.UTC)
	if change != (rehearse.Change{}) {
		start = start.AddDate(0, 1, 0) // a change takes time
	}
	if flags.date != "" {
		day, err := time.Parse(time.DateOnly, flags.date)
		if err != nil {
			return wrong(fmt.Sprintf("--date: %q is no day, as in 2026-06-01", flags.date))
		}
		start = day.Add(9 * time.Hour)
	}
	_, card, err := flags.card(cmd, args)
	if err != nil {
		return err
	}
	days := rehearse.FromCard(card, rehearse.Rehearsal{
		Seed: flags.seed, Start: start, Days: flags.days, Change: change, Variant: flags.variant,
	})
	dir := flags.out
	if dir == "" && len(args) == 1 {
		dir = strings.TrimSuffix(defaultOut(args[0]), "-out") + "-rehearsal"
	} else if dir == "" {
		dir = "rehearsal"
	}
	stop := working(cmd.ErrOrStderr())
	files, folders, err := rehearsed(days)
	stop()
	if err != nil {
		return err
	}
	if err := onlyRehearsals(dir, folders); err != nil {
		return err
	}
	if err := writeAll(dir, files); err != nil {
		return err
	}
	for _, f := range folders {
		fmt.Fprintf(cmd.OutOrStdout(), "Rehearsed: %s\n", filepath.Join(dir, f))
	}
	if what := madeUp(card); what != "" {
		fmt.Fprintf(cmd.OutOrStdout(), "Made up, as the plan doesn't say: %s.\n", what)
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "What it would show: ahull analyze %s\n", filepath.Join(dir, folders[0]))
	return err
}

// madeUp names what a rehearsal had to make up of the engine, "" for nothing.
func madeUp(c *plan.Card) string {
	without := func(of func(plan.Point) float64) bool {
		return slices.ContainsFunc(c.Request.Points, func(p plan.Point) bool { return math.IsNaN(of(p)) })
	}
	switch {
	case without(func(p plan.Point) float64 { return p.RPM }):
		text := "engine speeds and fuel"
		if math.IsNaN(c.Request.Top) {
			units := report.Units(c.Request.Units)
			text = fmt.Sprintf("a top speed of %.0f %s, ", rehearse.TopOf(&c.Request)/plan.Knot/units.Knots(1), cmp.Or(units.Speed, "kn")) + text
		}
		return text
	case without(func(p plan.Point) float64 { return p.FuelLH }):
		return "fuel"
	}
	return ""
}

// truthFile lies in the folder of each rehearsal, and in no other.
const truthFile = "truth.json"

// onlyRehearsals refuses to write where something else than an earlier rehearsal of
// as many days lies.
func onlyRehearsals(dir string, folders []string) error {
	for _, f := range folders {
		folder := filepath.Join(dir, f)
		for _, pattern := range []string{"*.toml", "*.nmea*", "*.log", "*.txt"} {
			found, _ := filepath.Glob(filepath.Join(folder, pattern))
			found = slices.DeleteFunc(found, func(path string) bool { return filepath.Base(path) == planFile })
			if len(found) > 0 && !exists(filepath.Join(folder, truthFile)) {
				return fmt.Errorf("%s: is there already and is no rehearsal's; choose another folder with --out", found[0])
			}
		}
	}
	others := []string{"", dayFolder(len(folders) + 1)}
	if folders[0] == "" {
		others = []string{dayFolder(1)}
	}
	for _, other := range others {
		if exists(filepath.Join(dir, other, truthFile)) {
			return fmt.Errorf("%s: holds a rehearsal of another number of days, which would stay beside this one; choose another folder with --out", filepath.Clean(filepath.Join(dir, other)))
		}
	}
	return nil
}

// dayFolder is the folder of a day of several, from 1.
func dayFolder(day int) string { return fmt.Sprintf("day-%d/", day) }

func exists(path string) bool {
	_, err := os.Stat(path)
	return err == nil
}

// rehearsed sails the days and gives their files, and the folder of each.
func rehearsed(days []rehearse.RehearsedDay) (files []outputFile, folders []string, err error) {
	for i, day := range days {
		folder := ""
		if len(days) > 1 {
			folder = dayFolder(i + 1)
		}
		v := rehearse.Simulate(day.Scenario)
		name := day.Scenario.Start.Format(time.DateOnly) + ".nmea"
		var log, truth bytes.Buffer
		if err := v.WriteLog(&log); err != nil {
			return nil, nil, err
		}
		if err := v.Truth.Write(&truth); err != nil {
			return nil, nil, err
		}
		files = append(files,
			outputFile{folder + name, log.Bytes()},
			outputFile{folder + "trial.toml", []byte(v.TrialFile(day.Head, name))},
			outputFile{folder + truthFile, truth.Bytes()})
		folders = append(folders, folder)
	}
	return files, folders, nil
}

// changeForm asks for sign and %: "drift 15" is as likely meant to be less as more,
// and may be meant in another unit.
var changeForm = regexp.MustCompile(`^([a-z-]+?)\s+([+−-]\s*[0-9.]+)\s*%$`)

// parseChange reads "drift -15 %, top-speed -2 %".
func parseChange(text string) (rehearse.Change, error) {
	var c rehearse.Change
	into := map[string]*float64{
		"drift": &c.Drift, "drift-yaw": &c.DriftYaw, "drift-roll": &c.DriftRoll, "head-sea": &c.HeadSea,
		"head-sea-loss": &c.HeadSeaLoss, "speed": &c.Speed, "top-speed": &c.TopSpeed, "fuel": &c.Fuel,
	}
	if strings.TrimSpace(text) == "" {
		return c, nil
	}
	for _, part := range strings.Split(text, ",") {
		m := changeForm.FindStringSubmatch(strings.TrimSpace(part))
		if m == nil {
			return c, fmt.Errorf("%q: expected a name and a percentage with its sign (\"drift -15 %%, top-speed +2 %%\")", strings.TrimSpace(part))
		}
		at := into[m[1]]
		if at == nil {
			return c, fmt.Errorf("%q can't be changed; expected drift, drift-yaw, drift-roll, head-sea, head-sea-loss, speed, top-speed or fuel", m[1])
		}
		pct, err := strconv.ParseFloat(strings.NewReplacer("−", "-", " ", "", "+", "").Replace(m[2]), 64)
		if err != nil || math.Abs(pct) > 90 {
			return c, fmt.Errorf("%q: expected a percentage between -90 and 90", strings.TrimSpace(part))
		}
		*at = pct / 100
	}
	return c, nil
}
