package main

import (
	"github.com/spf13/cobra"

	"ahull/report"
)

// addUnits gives a command --units; keeps says what doesn't follow it.
func addUnits(cmd *cobra.Command, into *string, keeps string) {
	cmd.Flags().StringVar(into, "units", "", "what people read, any of kn mph km/h, m ft, kg lb, L gal, as in `mph,ft,gal` ("+keeps+"); wins over units in the file")
}

// parseUnits reads the value of --units.
func parseUnits(cmd *cobra.Command, list string) (report.Units, error) {
	u, err := report.ParseUnits(list)
	if err != nil {
		return u, usageError{"--units: " + err.Error(), cmd.CommandPath()}
	}
	return u, nil
}

// unitsOf are the units chosen on the command line and, where it chooses none, by
// the trial file, the first named first.
func unitsOf(flag report.Units, inputs ...input) report.Units {
	for _, in := range inputs {
		flag = flag.Or(in.trial.Units)
	}
	return flag
}
