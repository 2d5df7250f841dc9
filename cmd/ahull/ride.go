package main

import (
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"ahull/analysis"
	"ahull/report"
)

type rideFlags struct {
	out       string
	against   string
	hidePlace bool
	units     string
	json      bool
}

func newRide() *cobra.Command {
	var flags rideFlags
	cmd := &cobra.Command{
		Use:   "ride LOG…|TRIAL",
		Short: "Make the one-page sheet of a ride, for a customer",
		Long: `Ride makes a page that a customer can read: where the ride went, how fast she
was, how fast she got going, how steady and how soft she was in the day's sea,
and how she drifts, each with its ± where one is known. Into a folder it writes

  ride-sheet.html   one page that needs nothing else
  ride-sheet.pdf    the same on one sheet: A4, or Letter where lengths are in feet

With --against, the figures of the model's own trial stand beside the ride's:
RESULTS.json is what ahull analyze wrote for that trial.

With --hide-place the sheet and its JSON say nothing of where it was: no
coordinates, no time of day, no load note, no route within 500 m of where the
ride began and ended. The date, the route's shape with north up, and the names
that the trial file gives stay.`,
		Example: `  ahull ride demo-ride.nmea
  ahull ride demo-ride.nmea --against trials/may14/results.json --units mph,ft,gal
  ahull ride trials/june3 --hide-place --out sheet`,
		Args: atLeastOne,
		RunE: func(cmd *cobra.Command, args []string) error { return ride(cmd, args, flags) },
	}
	cmd.Flags().StringVar(&flags.out, "out", "", "write into `DIR` instead of beside the input")
	cmd.Flags().StringVar(&flags.against, "against", "", "set the figures of the model's own trial beside: `RESULTS.json` of ahull analyze")
	cmd.Flags().BoolVar(&flags.hidePlace, "hide-place", false, "say nothing of where it was")
	addUnits(cmd, &flags.units, "JSON keeps its own")
	cmd.Flags().BoolVar(&flags.json, "json", false, "print the sheet as JSON; without --out, write nothing")
	return cmd
}

func ride(cmd *cobra.Command, args []string, flags rideFlags) error {
	units, err := parseUnits(cmd, flags.units)
	if err != nil {
		return err
	}
	against, err := readAgainst(flags.against)
	if err != nil {
		return err
	}
	in, err := oneInput(cmd, args)
	if err != nil {
		return err
	}
	units = unitsOf(units, in)
	log, err := in.read(cmd.ErrOrStderr())
	if err != nil {
		return err
	}
	stop := working(cmd.ErrOrStderr())
	res, err := in.analyze(log)
	stop()
	if err != nil {
		return err
	}
	sheet := analysis.RideOf(res, analysis.RideOptions{HidePlace: flags.hidePlace, Against: against})
	if a := sheet.Against; a != nil && a.Model != sheet.Model {
		say(cmd.ErrOrStderr(), "%s is of %q, this ride of %q; the sheet says so", flags.against, a.Model, sheet.Model)
	}
	if a := sheet.Against; a != nil && a.SameTime {
		say(cmd.ErrOrStderr(), "%s is of the same hours as this ride; if it is of the same log, name the results of the model's own trial instead", flags.against)
	}
	dir := flags.out
	if dir == "" && !flags.json {
		dir = defaultOut(in.name)
	}
	if dir != "" {
		files, err := rideFiles(sheet, units)
		if err != nil {
			return err
		}
		if err := writeAll(dir, files); err != nil {
			return err
		}
	}
	if flags.json {
		return report.RideJSON(cmd.OutOrStdout(), sheet)
	}
	_, err = fmt.Fprintf(cmd.OutOrStdout(), "Ride sheet: %s\n", filepath.Join(dir, "ride-sheet.pdf"))
	return err
}

// oneInput is the one trial, or the logs of one day.
func oneInput(cmd *cobra.Command, args []string) (input, error) {
	inputs, err := findInputs(args)
	if err != nil {
		return input{}, err
	}
	if len(inputs) > 1 {
		return input{}, usageError{cmd.Name() + " takes one trial, or the logs of one day", cmd.CommandPath()}
	}
	return inputs[0], nil
}

// readAgainst reads the results of the model's own trial, nil for none named.
func readAgainst(path string) (*analysis.Results, error) {
	if path == "" {
		return nil, nil
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, plainPath(err)
	}
	res, err := analysis.ReadResults(data)
	if err != nil {
		return nil, fmt.Errorf("%s: %w; expected a results.json of ahull analyze, schema %q", path, err, analysis.Schema)
	}
	return res, nil
}

// rideFiles are the page and the paper.
func rideFiles(s *analysis.RideSheet, units report.Units) ([]outputFile, error) {
	return rendered(s, part[*analysis.RideSheet]{"ride-sheet.html", units.RideHTML}, part[*analysis.RideSheet]{"ride-sheet.pdf", units.RidePDF})
}
