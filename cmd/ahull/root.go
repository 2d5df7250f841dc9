package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"ahull/analysis"
	"ahull/analysis/trial"
)

const about = `ahull reads the NMEA 0183 log of a day's trial and says how fast the boat is,
how she behaves in a sea, and how she drifts: with the current taken out. Speeds,
fuel, spreads, leeway and manoeuvres have a ±; what has none, such as the
wind, roll or trim of a single run or the path of a drift, is as it was measured.

A trial is a log, several logs of one day, or a trial file (TOML) beside its
logs that says what was tried. A log alone will do to begin with.

Exit status: 0 done, 1 the input can't be used, 2 wrong usage.`

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "ahull",
		Short: "Speed, sea behaviour and drift of a boat, from her log",
		Long:  about,
		Example: `  ahull check 2026-05-14.nmea        is this log fit to use?
  ahull analyze 2026-05-14.nmea      the report of a log alone
  ahull analyze trials/may14         the report of a trial folder
  ahull compare old-1 old-2 new-1 new-2   did the change help?`,
		Version:       analysis.Version,
		SilenceErrors: true, // run prints them
		SilenceUsage:  true,

		DisableFlagsInUseLine:      true,
		SuggestionsMinimumDistance: 2,

		Args: noCommand,
		RunE: func(cmd *cobra.Command, _ []string) error {
			cmd.SetOut(cmd.ErrOrStderr())
			if err := cmd.Help(); err != nil {
				return err
			}
			return usageError{"no command given", cmd.CommandPath()}
		},
	}
	root.SetVersionTemplate("ahull {{.Version}}\n")
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return usageError{err.Error() + flagMeant(cmd, err), cmd.CommandPath()}
	})
	root.AddCommand(newPlan(), newRehearse(), newCheck(), newAnalyze(), newCompare(), newRide(), newMan())
	completions(root)
	fitHelp(root)
	return root
}

// flagMeant names the flag that was likely meant by one that there is not.
func flagMeant(cmd *cobra.Command, err error) string {
	var unknown *pflag.NotExistError
	if !errors.As(err, &unknown) {
		return ""
	}
	var names []string
	cmd.Flags().VisitAll(func(f *pflag.Flag) { names = append(names, f.Name) })
	if near := trial.Suggest(unknown.GetSpecifiedName(), names); near != "" {
		return ", did you mean --" + near + "?"
	}
	return ""
}

// fitHelp breaks the lines of the flags in a help text at the terminal's width.
func fitHelp(root *cobra.Command) {
	cobra.AddTemplateFunc("fitted", func(flags *pflag.FlagSet) string {
		return flags.FlagUsagesWrapped(width(root.OutOrStdout()))
	})
	root.SetUsageTemplate(strings.ReplaceAll(root.UsageTemplate(), ".LocalFlags.FlagUsages", ".LocalFlags | fitted"))
}

// noCommand refuses a first word that is no command, with what was likely meant.
func noCommand(cmd *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	text := fmt.Sprintf("unknown command %q", args[0])
	if near := cmd.SuggestionsFor(args[0]); len(near) > 0 {
		text += fmt.Sprintf(", did you mean %s?", strings.Join(near, " or "))
	} else if _, err := os.Stat(args[0]); err == nil {
		text += fmt.Sprintf(", did you mean: ahull analyze %s?", args[0])
	}
	return usageError{text, cmd.CommandPath()}
}

// atLeastOne wants an input.
func atLeastOne(cmd *cobra.Command, args []string) error {
	if len(args) > 0 {
		return nil
	}
	return usageError{"no input given: name a log, a trial file or a trial's folder", cmd.CommandPath()}
}
