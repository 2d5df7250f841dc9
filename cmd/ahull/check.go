package main

import (
	"encoding/json"
	"errors"
	"io"

	"github.com/spf13/cobra"

	"ahull/analysis"
	"ahull/nmea"
	"ahull/report"
)

func newCheck() *cobra.Command {
	var asJSON bool
	var unitNames string
	cmd := &cobra.Command{
		Use:   "check LOG|TRIAL…",
		Short: "Is this log fit to use?",
		Long: `Check reads the logs and says what is in them: which sensors, how often, with
which holes, how many bad lines, and whether speed, sea behaviour, drift, fuel
and turns can be worked out from it, or what is missing. It sets the compass, the
wind sensor and the water-speed sensor against the day's own runs and gives the
lines for the trial file that mend them, and what is still to be run. Do it
before you go home.

TRIAL is a trial file (*.toml) or the folder with one. All LOGs named, or in a
folder without a trial file (*.nmea, *.log, *.txt, also .gz or .zst), are taken as
one day. Nothing is written.

The JSON (schema ahull.check/1) has log (every line accounted for), channels (each
quantity from each sensor: samples, rate_hz, holes, silent_s, frozen_spells, noise,
min, max), clock, compass (against the course over ground, by octant), deviation,
wind_sensor, water_speed, verdicts (ready, weak or impossible, and why) and
warnings.`,
		Example: `  ahull check 2026-05-14.nmea
  ahull check morning.nmea.gz afternoon.nmea
  ahull check trials/may14
  ahull check --json 2026-05-14.nmea`,
		Args: atLeastOne,
		RunE: func(cmd *cobra.Command, args []string) error {
			units, err := parseUnits(cmd, unitNames)
			if err != nil {
				return err
			}
			inputs, err := findInputs(args)
			if err != nil {
				return err
			}
			var problems []error
			for _, in := range inputs {
				problems = append(problems, check(cmd, in, unitsOf(units, in), asJSON))
			}
			return errors.Join(problems...)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print JSON instead of a table")
	addUnits(cmd, &unitNames, "JSON keeps its own")
	return cmd
}

func check(cmd *cobra.Command, in input, units report.Units, asJSON bool) error {
	log, err := in.read(cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	stop := working(cmd.ErrOrStderr())
	rep, err := analysis.Check(log, in.trial)
	res := in.still(log, err != nil || asJSON)
	stop()
	if err != nil {
		return in.analysisError(err)
	}
	stdout := cmd.OutOrStdout()
	if err := printCheck(stdout, rep, units, asJSON); err != nil {
		return err
	}
	if res != nil {
		if err := units.Still(coloured(stdout), res, width(stdout)); err != nil {
			return err
		}
	}
	warn(cmd, !asJSON, report.LocalWarnings(rep))
	return nil
}

// mostHours is the longest log of which a check also says what is still to be run: a
// day's.
const mostHours = 24

// still is the analysis that tells what is still to be run, nil where it isn't
// wanted or can't be had.
func (in input) still(log *nmea.Log, unwanted bool) *analysis.Results {
	if unwanted || !(log.Last-log.First < mostHours*3600) {
		return nil
	}
	res, err := analysis.Analyze(log, in.trial)
	if err != nil {
		return nil
	}
	return res
}

func printCheck(stdout io.Writer, rep *analysis.CheckReport, units report.Units, asJSON bool) error {
	if !asJSON {
		return units.CheckTable(coloured(stdout), rep, width(stdout))
	}
	enc := json.NewEncoder(stdout)
	enc.SetIndent("", "  ")
	enc.SetEscapeHTML(false)
	return enc.Encode(rep)
}
