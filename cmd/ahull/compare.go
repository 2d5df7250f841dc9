package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"ahull/analysis"
	"ahull/report"
)

type compareFlags struct {
	out      string
	json     bool
	units    string
	figures  string
	measures []string
	atWind   float64
	care     []string
}

func newCompare() *cobra.Command {
	var flags compareFlags
	cmd := &cobra.Command{
		Use:   "compare TRIAL…",
		Short: "Did the change help? Trials before it against trials after it",
		Long: `Compare analyzes the trials named, sorts them by [boat] variant in their trial
files, and says of each measure whether the change made a difference: how large,
with its ±; or that none is shown, and how large a one would have been; or that
there is too little data, and what more is needed. The variant of the first trial
named is the one that the others are compared with.

Each variant needs trials on two days at least, three or four are better: what the
day did can't be told from what the change did otherwise. Sail both variants with
the same load, crew and instruments. A difference that is not shown isn't none.

TRIAL is a trial file (*.toml) or the folder with one. Into a folder are written:

  comparison.html     the verdicts and both variants' figures laid over each other
  comparison.pdf      the same for paper: A4, or Letter where lengths are in feet
  comparison.json     every number, with its unit
  figures/*.svg       the figures; --figures png,pdf writes them so

Without --out it is compare-out in the folder that all the trials lie in. The more
measures are asked about at once, the surer each answer has to be: name beforehand
with --measures what the change was made for. Without --measures the drift speed,
the heading spread in a head sea and the speed at the highest engine speed are the
first questions, and all else is looked at as well and judged more strictly.

The top speed is asked for by itself (top_speed), each day at its own highest
engine speed, where the change moved that: run wide open with both variants.

How much more testing a difference that matters would take is told for a usual
size of it; --care sets another: a speed in any unit, % of what it was before
the change, degrees (deg), L/nm, or points of a percentage.

Measures: ` + wrapNames(analysis.MeasureNames()),
		Example: `  ahull compare trials/as-built-* trials/new-chine-*
  ahull compare as-built-1 as-built-2 new-chine-1 new-chine-2 --out chine
  ahull compare as-built-* new-chine-* --measures drift_speed,head_sea_heading_sd
  ahull compare as-built-* new-chine-* --at-wind 14 --units mph,ft,gal
  ahull compare as-built-* new-chine-* --care "drift_speed=0.05 kn" --care "fuel_per_mile=3 %"
  ahull compare as-built-* new-chine-* --json > chine.json`,
		Args: atLeastOne,
		RunE: func(cmd *cobra.Command, args []string) error {
			return compare(cmd, args, flags)
		},
	}
	cmd.Flags().StringVar(&flags.out, "out", "", "write into `DIR` instead of beside the trials")
	cmd.Flags().BoolVar(&flags.json, "json", false, "print comparison.json; without --out, write nothing")
	addUnits(cmd, &flags.units, "JSON keeps its own")
	cmd.Flags().StringVar(&flags.figures, "figures", "svg", "the figures' `FORMATS`, any of svg, png (for print, 300 dpi), pdf")
	cmd.Flags().StringSliceVar(&flags.measures, "measures", nil, "compare these only, as in `drift_speed,divergence`")
	cmd.Flags().Float64Var(&flags.atWind, "at-wind", 0, "compare drifts at this `WIND` that both variants met, in the speed unit that is read")
	cmd.Flags().StringArrayVar(&flags.care, "care", nil, "the difference that matters for a measure, as in `\"drift_speed=0.05 kn\"`; once for each")
	return cmd
}

// wrapNames sets names into lines of a help text.
func wrapNames(names []string) string {
	var b strings.Builder
	used := len("Measures: ")
	for i, n := range names {
		if i > 0 {
			b.WriteString(",")
			if used++; used+1+len(n) > 80 {
				b.WriteString("\n")
				used = 0
			} else {
				b.WriteString(" ")
				used++
			}
		}
		b.WriteString(n)
		used += len(n)
	}
	return b.String()
}

// options are what the flags ask of the comparison.
func (f compareFlags) options(cmd *cobra.Command) (analysis.CompareOptions, error) {
	opt := analysis.CompareOptions{Measures: f.measures}
	if cmd.Flags().Changed("at-wind") {
		if !(f.atWind > 0 && f.atWind < 200) {
			return opt, usageError{"--at-wind: expected a wind speed above 0", cmd.CommandPath()}
		}
	}
	known := analysis.MeasureNames()
	for _, m := range f.measures {
		if !slices.Contains(known, m) {
			return opt, usageError{fmt.Sprintf("--measures: no measure %q: there are %s", m, strings.Join(known, ", ")), cmd.CommandPath()}
		}
	}
	var err error
	if opt.Care, err = parseCare(f.care); err != nil {
		return opt, usageError{"--care: " + err.Error(), cmd.CommandPath()}
	}
	return opt, nil
}

func compare(cmd *cobra.Command, args []string, flags compareFlags) error {
	units, err := parseUnits(cmd, flags.units)
	if err != nil {
		return err
	}
	formats, err := report.ParseFigureFormats(flags.figures)
	if err != nil {
		return usageError{"--figures: " + err.Error(), cmd.CommandPath()}
	}
	opt, err := flags.options(cmd)
	if err != nil {
		return err
	}
	inputs, err := findInputs(args)
	if err != nil {
		return err
	}
	units = unitsOf(units, inputs...)
	opt.WindKn = units.Knots(flags.atWind)
	trials, err := analyzeAll(cmd.ErrOrStderr(), inputs)
	if err != nil {
		return err
	}
	stop := working(cmd.ErrOrStderr())
	c, err := analysis.Compare(trials, opt)
	stop()
	if err != nil {
		return err
	}
	dir := flags.out
	if dir == "" && !flags.json {
		dir = filepath.Join(commonFolder(inputs), "compare-out")
	}
	if dir != "" {
		stop := working(cmd.ErrOrStderr())
		files, err := renderComparison(c, units, formats)
		stop()
		if err != nil {
			return err
		}
		if err := writeAll(dir, files); err != nil {
			return err
		}
		if err := removeStale(dir, files, true); err != nil {
			return err
		}
	}
	if err := printComparison(cmd.OutOrStdout(), c, units, dir, flags.json); err != nil {
		return err
	}
	warn(cmd, !flags.json, c.Warnings)
	return nil
}

// analyzeAll analyzes the trials one after the other.
func analyzeAll(stderr io.Writer, inputs []input) ([]analysis.CompareTrial, error) {
	var out []analysis.CompareTrial
	for i, in := range inputs {
		if isTerminal(stderr) {
			fmt.Fprintf(stderr, "trial %d of %d: %s\n", i+1, len(inputs), in.name)
		}
		log, err := in.read(stderr)
		if err != nil {
			return nil, err
		}
		stop := working(stderr)
		res, err := in.analyze(log)
		stop()
		if err != nil {
			return nil, err
		}
		out = append(out, analysis.CompareTrial{Name: in.name, Results: res})
	}
	return out, nil
}

// commonFolder is the folder that all the inputs lie in or below.
func commonFolder(inputs []input) string {
	dir := filepath.Dir(inputs[0].name)
	for _, in := range inputs[1:] {
		for !within(dir, in.name) && dir != filepath.Dir(dir) {
			dir = filepath.Dir(dir)
		}
	}
	return dir
}

func within(dir, file string) bool {
	rel, err := filepath.Rel(dir, file)
	return err == nil && rel != ".." && !strings.HasPrefix(rel, ".."+string(filepath.Separator))
}

func printComparison(stdout io.Writer, c *analysis.Comparison, units report.Units, dir string, asJSON bool) error {
	if asJSON {
		return report.ComparisonJSON(stdout, c)
	}
	if err := units.ComparisonSummary(coloured(stdout), c, width(stdout)); err != nil {
		return err
	}
	_, err := fmt.Fprintf(stdout, "\nReport: %s\n", filepath.Join(dir, "comparison.html"))
	return err
}

// renderComparison makes every file of the output, comparison.json last: where it
// is, the others are too.
func renderComparison(c *analysis.Comparison, units report.Units, formats []string) ([]outputFile, error) {
	figures, err := units.ComparisonFigures(c)
	if err != nil {
		return nil, err
	}
	files, err := figureFiles(figures, formats, c.LastDay())
	if err != nil {
		return nil, err
	}
	type of = part[*analysis.Comparison]
	all, err := rendered(c, of{"comparison.html", units.ComparisonHTML}, of{"comparison.pdf", units.ComparisonPDF},
		of{"comparison.json", report.ComparisonJSON})
	return append(files, all...), err
}
