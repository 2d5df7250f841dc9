package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"ahull/analysis"
	"ahull/analysis/plan"
	"ahull/analysis/trial"
	"ahull/report"
)

// planFlag is a flag that stands for a key of the plan's file.
type planFlag struct{ name, path, usage string }

// planFlags are the keys that a command line may give.
var planFlags = []planFlag{
	{"model", "boat.model", "the boat's `NAME`"},
	{"hull", "boat.hull", "this very boat, as in `TW25-014`"},
	{"length", "boat.length", "her `LENGTH`, as in \"25 ft\""},
	{"test", "plan.test", "what to test, what matters most first, any of drift, head-sea, speed, sea, turns, fuel, all, as in `drift,head-sea`"},
	{"time", "plan.time", "`TIME` from berth to berth, as in \"90 min\""},
	{"way-out", "plan.way_out", "`DISTANCE` to the place, as in \"1.5 nm\""},
	{"cruise", "engine.cruise", "cruising `SPEED`, as in \"22 kn\""},
	{"top", "engine.top", "top `SPEED`"},
	{"power", "engine.power", "the engine's `POWER`, as in \"300 hp\": for the fuel, where no flow is known"},
	{"tank", "engine.tank", "what the tank holds, as in `\"120 gal\"`"},
	{"wind", "conditions.wind", "the `WIND` expected, as in \"12 kn from 310\""},
	{"wave-height", "conditions.wave_height", "the waves' `HEIGHT`, as in \"0.6 m\""},
	{"wave-period", "conditions.wave_period", "the waves' `PERIOD`, as in \"4 s\""},
	{"wave-from", "conditions.wave_from", "where the waves come from, as in `\"300 deg\"` (default: as the wind)"},
	{"current", "conditions.current", "the `CURRENT`, as in \"0.8 kn to 20\""},
	{"leeway", "conditions.leeway", "how fast she drifts, `PERCENT` of the wind, as in 4.5"},
	{"care-drift", "care.drift_speed", "the difference in drift speed that matters, as in `\"0.05 kn\"`"},
	{"care-head-sea", "care.head_sea", "the difference in head-sea heading spread that matters, in `PERCENT`"},
	{"care-speed", "care.speed", "the difference in speed that matters, as in `\"0.3 kn\"`"},
	{"care-fuel", "care.fuel", "the difference in fuel for a mile that matters, in `PERCENT`"},
}

// planOnly are the flags that rehearse has in a sense of its own.
var planOnly = []planFlag{
	{"variant", "boat.variant", "the boat's state, as in `\"as built\"`"},
	{"days", "plan.days", "days planned of each variant, for what a comparison will show, as in `3`"},
}

// plainNumbers are the keys whose values carry no unit.
var plainNumbers = map[string]bool{"conditions.leeway": true, "care.head_sea": true, "care.fuel": true, "plan.days": true}

type planCommand struct {
	out    string
	json   bool
	units  string
	from   []string
	speeds []string
	known  []planFlag
}

func newPlan() *cobra.Command {
	var flags planCommand
	cmd := &cobra.Command{
		Use:   "plan [PLAN.toml]",
		Short: "Make the trial card of a day, and say what the day will show",
		Long: `Plan makes the card of a day on the water: what to do, in which order, on which
headings to the wind, how long, with what fuel; what is left out when time is
short; and how surely the day, and then a comparison of two variants, will know
what was asked. The command that asks a comparison just that stands at the end: asked
for more, it needs larger differences. Cautions stand on the card.

What is asked comes from PLAN.toml, from flags, or from both: flags win.
--from takes the scatter of earlier trials of the boat in the place of usual
scatters and, where nothing else is said, her leeway and her engine speeds. With --out, or with a PLAN.toml, these files are written:

  trial-card.html, trial-card.pdf   the card
  plan.toml                         what was asked; ahull plan and rehearse read it`,
		Example: `  ahull plan --test drift,head-sea --time "90 min" --cruise "22 kn" --wind "12 kn from 310"
  ahull plan tuesday.toml --wind "15 kn from 290" --out tuesday
  ahull plan tuesday.toml --from trials/may14 --from trials/may21`,
		Args: atMostOne,
		RunE: func(cmd *cobra.Command, args []string) error { return makePlan(cmd, args, flags) },
	}
	flags.known = append(planFlags[:len(planFlags):len(planFlags)], planOnly...)
	flags.add(cmd)
	cmd.Flags().StringVar(&flags.out, "out", "", "write into `DIR`")
	cmd.Flags().BoolVar(&flags.json, "json", false, "print the card as JSON; without --out, write nothing")
	addUnits(cmd, &flags.units, "JSON keeps its own")
	return cmd
}

// add gives a command the flags of the plan's keys.
func (p *planCommand) add(cmd *cobra.Command) {
	for _, f := range p.known {
		cmd.Flags().String(f.name, "", f.usage)
	}
	cmd.Flags().StringArrayVar(&p.speeds, "speed", nil, "an engine speed, what she makes and burns, as in \"3500 rpm, 19.8 kn, 37 L/h\"; once for each `POINT`")
	cmd.Flags().StringArrayVar(&p.from, "from", nil, "take scatter, leeway and engine speeds of an earlier trial; once for each `TRIAL`")
}

func atMostOne(cmd *cobra.Command, args []string) error {
	if len(args) > 1 {
		return usageError{"name one plan", cmd.CommandPath()}
	}
	return nil
}

func makePlan(cmd *cobra.Command, args []string, flags planCommand) error {
	units, err := parseUnits(cmd, flags.units)
	if err != nil {
		return err
	}
	request, card, err := flags.card(cmd, args)
	if err != nil {
		return err
	}
	units = units.Or(request.Units)
	request.Units = trial.Units(units) // plan.toml and a rehearsal of it keep them
	shown := analysis.CardOf(card)
	dir := flags.out
	if dir == "" && len(args) == 1 && !flags.json {
		dir = defaultOut(args[0])
	}
	if dir != "" {
		files, err := cardFiles(shown, units)
		if err != nil {
			return err
		}
		if target := filepath.Join(dir, planFile); len(args) == 0 || !sameFile(args[0], target) {
			if err := keepsEdits(target); err != nil {
				return err
			}
			files = append(files, outputFile{planFile, []byte(request.TOML())})
		}
		if err := writeAll(dir, files); err != nil {
			return err
		}
	}
	if flags.json {
		return report.CardJSON(cmd.OutOrStdout(), shown)
	}
	return printCard(cmd.OutOrStdout(), shown, units, dir)
}

// planFile is the name under which a plan is written.
const planFile = "plan.toml"

// keepsEdits refuses to write over a plan that somebody edited: one that is not as
// this program would write it.
func keepsEdits(path string) error {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil
	}
	if request, _, err := plan.Load(path, data); err == nil && request.TOML() == string(data) {
		return nil
	}
	return fmt.Errorf("%s: is there already, and edited; go on with it (ahull plan %s …) or choose another folder with --out", path, path)
}

func printCard(stdout io.Writer, c *analysis.TrialCard, units report.Units, dir string) error {
	if err := units.CardText(coloured(stdout), c, width(stdout)); err != nil {
		return err
	}
	paper := "the same command with --out and the name of a folder"
	if dir != "" {
		paper = filepath.Join(dir, "trial-card.pdf")
	}
	text := "\nFor paper: " + paper + "\n"
	if command := units.CardCompare(c); command != "" {
		text += "To compare, when both variants were out:\n  " + command + "\n"
	}
	_, err := fmt.Fprint(stdout, text)
	return err
}

// cardFiles are the files of a card.
func cardFiles(c *analysis.TrialCard, units report.Units) ([]outputFile, error) {
	return rendered(c, part[*analysis.TrialCard]{"trial-card.html", units.CardHTML}, part[*analysis.TrialCard]{"trial-card.pdf", units.CardPDF})
}

// card is the request that file and flags make, and its card.
func (p *planCommand) card(cmd *cobra.Command, args []string) (plan.Request, *plan.Card, error) {
	var path string
	var data []byte
	if len(args) == 1 {
		path = args[0]
		var err error
		if data, err = os.ReadFile(path); err != nil {
			return plan.Request{}, nil, plainPath(err)
		}
	}
	values, err := p.values(cmd)
	if err != nil {
		return plan.Request{}, nil, err
	}
	if path == "" && len(values) == 0 {
		return plan.Request{}, nil, usageError{"nothing asked: name a plan's file, or say what to test and how long (--test, --time, --cruise, --wind)", cmd.CommandPath()}
	}
	request, odd, err := plan.Load(path, data, values...)
	if err != nil && onlyFlags(err) {
		err = usageError{err.Error(), cmd.CommandPath()}
	}
	if err != nil {
		return request, nil, err
	}
	for _, text := range odd {
		say(cmd.ErrOrStderr(), "%s", text)
	}
	if len(p.from) > 0 {
		trials, err := earlierTrials(cmd.ErrOrStderr(), p.from)
		if err != nil {
			return request, nil, err
		}
		request.Scatter = analysis.ScatterOf(trials)
		analysis.FillPlan(&request, trials)
	}
	card, err := plan.Make(request)
	return request, card, err
}

// onlyFlags tells whether all that is wrong stands on the command line.
func onlyFlags(err error) bool {
	all, ok := err.(interface{ Unwrap() []error })
	return ok && !slices.ContainsFunc(all.Unwrap(), func(e error) bool { return !strings.HasPrefix(e.Error(), "--") })
}

// values are what the flags give.
func (p *planCommand) values(cmd *cobra.Command) ([]plan.Value, error) {
	var out []plan.Value
	for _, f := range p.known {
		flag := cmd.Flags().Lookup(f.name)
		if !flag.Changed {
			continue
		}
		v := plan.Value{Path: f.path, Value: flag.Value.String(), Where: "--" + f.name}
		switch {
		case f.name == "test":
			v.Value = commaList(flag.Value.String())
		case plainNumbers[f.path]:
			if x, err := strconv.ParseFloat(strings.TrimRight(flag.Value.String(), " %"), 64); err == nil {
				v.Value = x
			}
		}
		out = append(out, v)
	}
	if len(p.speeds) > 0 {
		var points []any
		for _, text := range p.speeds {
			point, err := speedPoint(text)
			if err != nil {
				return nil, usageError{err.Error(), cmd.CommandPath()}
			}
			points = append(points, point)
		}
		out = append(out, plan.Value{Path: "speed", Value: points, Where: "--speed"})
	}
	return out, nil
}

func commaList(text string) []any {
	var out []any
	for _, w := range strings.Split(text, ",") {
		out = append(out, strings.TrimSpace(w))
	}
	return out
}

// speedPoint reads "3500 rpm, 19.8 kn, 37 L/h" as a [[speed]] of the file.
func speedPoint(text string) (map[string]any, error) {
	point := map[string]any{}
	for _, part := range strings.Split(text, ",") {
		part = strings.TrimSpace(part)
		if digits, ok := strings.CutSuffix(part, "rpm"); ok {
			rpm, err := strconv.ParseFloat(strings.TrimSpace(digits), 64)
			if err != nil {
				return nil, fmt.Errorf("--speed: %q is no engine speed, as in \"3500 rpm, 19.8 kn, 37 L/h\"", part)
			}
			point["rpm"] = rpm
			continue
		}
		key := "speed"
		if _, given := point["speed"]; given {
			key = "fuel_flow"
		}
		if _, given := point[key]; given {
			return nil, fmt.Errorf("--speed: %q is one too many, as in \"3500 rpm, 19.8 kn, 37 L/h\"", part)
		}
		point[key] = part
	}
	return point, nil
}

// earlierTrials analyzes earlier trials of the boat.
func earlierTrials(stderr io.Writer, names []string) ([]*analysis.Results, error) {
	inputs, err := findInputs(names)
	if err != nil {
		return nil, err
	}
	stop := working(stderr)
	defer stop()
	var all []*analysis.Results
	for _, in := range inputs {
		log, err := in.read(io.Discard)
		if err != nil {
			return nil, err
		}
		res, err := analysis.Analyze(log, in.trial)
		if err != nil {
			return nil, in.analysisError(err)
		}
		all = append(all, res)
	}
	return all, nil
}

func sameFile(a, b string) bool {
	infoA, errA := os.Stat(a)
	infoB, errB := os.Stat(b)
	return errA == nil && errB == nil && os.SameFile(infoA, infoB)
}
