package main

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"

	"ahull/analysis"
	"ahull/nmea"
	"ahull/report"
)

type analyzeFlags struct {
	out     string
	json    bool
	units   string
	figures string
	explain []string
}

func newAnalyze() *cobra.Command {
	var flags analyzeFlags
	cmd := &cobra.Command{
		Use:   "analyze LOG…|TRIAL",
		Short: "Work out speed, sea behaviour and drift, and write the report",
		Long: `Analyze finds the runs, drifts, turns, speed-ups and stops in a day's log, takes
the current out, and writes into a folder:

  report.html     the report, one page that needs nothing else
  report.pdf      the same for paper: A4, or Letter where lengths are in feet
  results.json    every number, with its unit in the field's name
  runs.csv        a line for each run
  drifts.csv      a line for each drift
  figures/*.svg   the report's figures; --figures png,pdf writes them so

A summary is printed. TRIAL is a trial file (*.toml) or the folder with one;
all LOGs named, or in a folder without a trial file, are taken as one day.
Without --out the folder lies beside the trial file or the first log and has
its name: may14.toml gives may14-out. What an earlier analysis left in it is
replaced, nothing else in it is touched.

With --explain, how the figures of the named engine speeds, runs, drifts, turns,
speed-ups or stops, or of leeway against the wind (leeway), were worked out is
printed instead: what went in, each step so that it can be done again with
a pocket calculator, and where the ± comes from.`,
		Example: `  ahull analyze 2026-05-14.nmea
  ahull analyze trials/may14 --out reports/may14
  ahull analyze trials/may14 --units mph,ft,gal
  ahull analyze trials/may14 --figures svg,png
  ahull analyze trials/may14 --json > may14.json
  ahull analyze trials/may14 --explain 4000rpm,R07,D3`,
		Args: atLeastOne,
		RunE: func(cmd *cobra.Command, args []string) error {
			return analyze(cmd, args, flags)
		},
	}
	cmd.Flags().StringVar(&flags.out, "out", "", "write into `DIR` instead of beside the input")
	cmd.Flags().BoolVar(&flags.json, "json", false, "print results.json; without --out, write nothing")
	cmd.Flags().StringArrayVar(&flags.explain, "explain", nil, "print how these were worked out, as in `4000rpm,D3`; without --out, write nothing")
	addUnits(cmd, &flags.units, "JSON and CSV keep theirs")
	cmd.Flags().StringVar(&flags.figures, "figures", "svg", "the figures' `FORMATS`, any of svg, png (for print, 300 dpi), pdf")
	return cmd
}

func analyze(cmd *cobra.Command, args []string, flags analyzeFlags) error {
	units, err := parseUnits(cmd, flags.units)
	if err != nil {
		return err
	}
	formats, err := report.ParseFigureFormats(flags.figures)
	if err != nil {
		return usageError{"--figures: " + err.Error(), cmd.CommandPath()}
	}
	if flags.json && flags.explain != nil {
		return usageError{"--explain and --json don't go together: results.json has every explanation", cmd.CommandPath()}
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
	shown := report.LocalTimes(res)
	sheets, err := explanations(shown, flags.explain)
	if err != nil {
		return usageError{err.Error(), cmd.CommandPath()}
	}
	dir := flags.out
	if dir == "" && !flags.json && flags.explain == nil {
		dir = defaultOut(in.name)
	}
	if dir != "" {
		stop := working(cmd.ErrOrStderr())
		files, err := render(res, units, formats)
		stop()
		if err != nil {
			return err
		}
		if err := writeAll(dir, files); err != nil {
			return err
		}
		if err := removeStale(dir, files, false); err != nil {
			return err
		}
	}
	if flags.explain != nil {
		err = printExplanations(cmd.OutOrStdout(), sheets, units)
	} else {
		err = printAnalysis(cmd.OutOrStdout(), res, units, dir, flags.json)
	}
	if err != nil {
		return err
	}
	warn(cmd, !flags.json && flags.explain == nil, shown.Warnings)
	return nil
}

func (in input) analyze(log *nmea.Log) (*analysis.Results, error) {
	res, err := analysis.Analyze(log, in.trial)
	if err != nil {
		return nil, in.analysisError(err)
	}
	return res, nil
}

func printAnalysis(stdout io.Writer, res *analysis.Results, units report.Units, dir string, asJSON bool) error {
	if asJSON {
		return report.JSON(stdout, res)
	}
	if err := units.Summary(coloured(stdout), res, width(stdout)); err != nil {
		return err
	}
	_, err := fmt.Fprintf(stdout, "\nReport: %s\n", filepath.Join(dir, "report.html"))
	return err
}

// render makes every file of the output, results.json last: where it is, the
// others are too.
func render(res *analysis.Results, units report.Units, formats []string) ([]outputFile, error) {
	files, err := renderFigures(res, units, formats)
	if err != nil {
		return nil, err
	}
	type of = part[*analysis.Results]
	all, err := rendered(res, of{"report.html", units.HTML}, of{"report.pdf", units.PDF},
		of{"runs.csv", report.RunsCSV}, of{"drifts.csv", report.DriftsCSV}, of{"results.json", report.JSON})
	return append(files, all...), err
}

func renderFigures(res *analysis.Results, units report.Units, formats []string) ([]outputFile, error) {
	figures, err := units.Figures(res)
	if err != nil {
		return nil, err
	}
	return figureFiles(figures, formats, res.Trial.End)
}

// figureFiles writes each figure in each format; the time is that of the trial.
func figureFiles(figures []report.Figure, formats []string, at time.Time) ([]outputFile, error) {
	var files []outputFile
	for _, f := range figures {
		for _, format := range formats {
			var b bytes.Buffer
			if err := f.Write(&b, format, at); err != nil {
				return nil, err
			}
			files = append(files, outputFile{"figures/" + f.Name + "." + format, b.Bytes()})
		}
	}
	return files, nil
}
