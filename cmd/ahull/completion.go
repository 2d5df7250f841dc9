package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ahull/analysis"
	"ahull/analysis/plan"
	"ahull/analysis/trial"
)

// What a shell completes: arguments by command, values by flag. A command or flag
// that isn't named here completes to any file.
var (
	logEndings   = []string{"toml", "nmea", "log", "txt", "gz", "zst"}
	argEndings   = map[string][]string{"analyze": logEndings, "check": logEndings, "ride": logEndings, "compare": {"toml"}, "plan": {"toml"}, "rehearse": {"toml"}}
	valueEndings = map[string][]string{"from": {"toml"}, "against": {"json"}}
	valueWords   = map[string][][]string{
		"units":    trial.UnitNames,
		"figures":  {{"svg"}, {"png"}, {"pdf"}},
		"measures": each(analysis.MeasureNames()),
		"test":     each(testNames()),
	}
)

// completions tells the shell about every command.
func completions(root *cobra.Command) {
	for _, cmd := range root.Commands() {
		if endings := argEndings[cmd.Name()]; endings != nil {
			cmd.ValidArgsFunction = filesOf(endings)
		}
		for name, endings := range valueEndings {
			complete(cmd, name, filesOf(endings))
		}
		for name, kinds := range valueWords {
			complete(cmd, name, listOf(kinds))
		}
		complete(cmd, "out", func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
			return nil, cobra.ShellCompDirectiveFilterDirs
		})
	}
}

// complete gives a flag its completion if the command has that flag.
func complete(cmd *cobra.Command, flag string, f cobra.CompletionFunc) {
	if cmd.Flags().Lookup(flag) == nil {
		return
	}
	if err := cmd.RegisterFlagCompletionFunc(flag, f); err != nil {
		panic(err) // two completions for one flag
	}
}

func filesOf(endings []string) cobra.CompletionFunc {
	return func(*cobra.Command, []string, string) ([]cobra.Completion, cobra.ShellCompDirective) {
		return endings, cobra.ShellCompDirectiveFilterFileExt
	}
}

// listOf completes a list with commas, at most one word of each kind.
func listOf(kinds [][]string) cobra.CompletionFunc {
	return func(_ *cobra.Command, _ []string, typed string) ([]cobra.Completion, cobra.ShellCompDirective) {
		head := typed[:strings.LastIndex(typed, ",")+1]
		chosen := strings.Split(head, ",")
		var out []cobra.Completion
		for _, kind := range kinds {
			if slices.ContainsFunc(kind, func(word string) bool { return slices.Contains(chosen, word) }) {
				continue
			}
			for _, word := range kind {
				if strings.HasPrefix(head+word, typed) {
					out = append(out, head+word)
				}
			}
		}
		return out, cobra.ShellCompDirectiveNoFileComp | cobra.ShellCompDirectiveNoSpace | cobra.ShellCompDirectiveKeepOrder
	}
}

// each makes a kind of its own of each word.
func each(words []string) [][]string {
	var out [][]string
	for _, w := range words {
		out = append(out, []string{w})
	}
	return out
}

func testNames() []string {
	var out []string
	for _, t := range plan.Tests {
		out = append(out, string(t))
	}
	return append(out, "all")
}
