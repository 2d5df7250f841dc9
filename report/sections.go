package report

import "ahull/analysis"

// sections is the page in its order.
func sections(r *analysis.Results, u Units, figures []Figure) []section {
	drawn := map[string]Figure{}
	for _, f := range figures {
		drawn[f.Name] = f
	}
	all := []section{
		daySection(r, u, drawn),
		speedSection(r, u, drawn),
		seaSection(r, u, drawn),
		driftSection(r, u, drawn),
		handlingSection(r, u),
		{ID: "all-runs", Title: "All runs", Blocks: tables(runTable(r, u), motionTable(r), rideTable(r))},
		doubtSection(r, u),
		{ID: "next-time", Title: "What to do better next time", Blocks: lists(each(advice(r), u.inText))},
		{ID: "trial-file", Title: "What the trial file changed", Blocks: lists(changes(r))},
		methodSection(r, u),
		workedSection(r, u),
		logSection(r),
		{ID: "cautions", Title: "Cautions", Blocks: []block{{List: cautions}}},
	}
	var out []section
	for _, s := range all {
		if s.Lead != "" || len(s.Blocks) > 0 {
			out = append(out, s)
		}
	}
	return out
}

// tables are those that have rows and say more than their names.
func tables(all ...table) []block {
	var out []block
	for _, t := range all {
		if len(t.Rows) > 0 && len(t.Columns) > 1 {
			out = append(out, block{Table: &t})
		}
	}
	return out
}

// lists is a block with lines, none without.
func lists(lines []string) []block {
	if len(lines) == 0 {
		return nil
	}
	return []block{{List: lines}}
}

// figureBlocks are those that could be drawn.
func figureBlocks(drawn map[string]Figure, nameAndCaption ...[2]string) []block {
	var out []block
	for _, f := range nameAndCaption {
		if fig, ok := drawn[f[0]]; ok {
			out = append(out, framed(fig, drawn[f[0]+phoneSuffix], f[1]))
		}
	}
	return out
}

// putBehind folds a table away under a figure.
func putBehind(blocks []block, figure string, t table) {
	for _, b := range blocks {
		if b.Figure != nil && b.Figure.ID == figure && len(t.Rows) > 0 {
			b.Figure.Behind = &t
		}
	}
}

// folding are tables that stand open under the figure that shows them.
func folding(blocks []block) []block {
	for _, b := range blocks {
		b.Table.Folds = true
	}
	return blocks
}

func daySection(r *analysis.Results, u Units, drawn map[string]Figure) section {
	s := section{ID: "day", Title: "The day"}
	s.Lead = "Found in the log: " + list([]string{
		count(len(r.Runs), "run", "runs"), count(len(r.Drifts), "drift", "drifts"), count(len(r.Turns), "turn", "turns"),
		count(len(r.SpeedUps), "speed-up", "speed-ups"), count(len(r.Stops), "stop", "stops")}) + "."
	s.Blocks = figureBlocks(drawn,
		[2]string{"track", "The track over ground. Runs and drifts carry their numbers, which the tables use."},
		[2]string{"timeline", "The bars at the top say what she was doing; speed, heading, wind and engine speed stand under them on the same clock."})
	putBehind(s.Blocks, "track", segmentTable(r, u))
	putBehind(s.Blocks, "timeline", momentTable(r, u))
	s.Blocks = append(s.Blocks, tables(currentTable(r, u), meansTable(r, u))...)
	return s
}

func speedSection(r *analysis.Results, u Units, drawn map[string]Figure) section {
	s := section{ID: "speed", Title: "Speed"}
	s.Blocks = figureBlocks(drawn, [2]string{"speed",
		"Each point is a group of like runs with its 95 % interval, in this day's sea; the short bars are single runs. The curve goes through the points and never beyond them; between them its band widens with the gap, by a rule found on known boats, and where a gap is too wide for it the curve is broken." + brokenText(r)})
	s.Blocks = append(s.Blocks, folding(tables(speedTable(r, u)))...)
	if lines := economyLines(r, u); len(lines) > 0 {
		s.Blocks = append(s.Blocks, block{Pairs: lines})
	}
	if len(s.Blocks) == 0 {
		s.Lead = runFinding(r, u).Text
	}
	return s
}

func seaSection(r *analysis.Results, u Units, drawn map[string]Figure) section {
	s := section{ID: "sea", Title: "In the sea"}
	s.Blocks = figureBlocks(drawn, [2]string{"heading-spread",
		"The spread of her heading about its slow trend with its 95 % interval, by where the sea comes from. Lower is steadier. Drawn are the engine speeds tried in most seas; the table has all."})
	s.Blocks = append(s.Blocks, folding(tables(seaTable(r, u)))...)
	s.Blocks = append(s.Blocks, tables(seaMotionTable(r, u))...)
	if len(s.Blocks) == 0 {
		s.Lead = seaFinding(r, u).Text
	}
	return s
}

func driftSection(r *analysis.Results, u Units, drawn map[string]Figure) section {
	s := section{ID: "drift", Title: "Adrift"}
	s.Blocks = figureBlocks(drawn, [2]string{"drift-rose",
		"Each line is one drift's leeway, the current taken out, seen from above with the wind blowing up the page, so that right on the page is right as one looks downwind: " +
			"rings are speed, the shaded spot its 95 % interval, the boat how she lay."})
	s.Lead = twoKinds(r)
	s.Blocks = append(s.Blocks, folding(tables(driftTable(r, u)))...)
	s.Blocks = append(s.Blocks, tables(lyingTable(r))...)
	if lines := rollLines(r, u); len(lines) > 0 {
		s.Blocks = append(s.Blocks, block{Pairs: lines})
	}
	s.Blocks = append(s.Blocks, tables(overGroundTable(r, u), piecesTable(r, u))...)
	s.Blocks = append(s.Blocks, figureBlocks(drawn, [2]string{"leeway",
		"Leeway against the " + windOf(r, u) + ", split into downwind and crosswind. Shaded: where the line lies with 95 % confidence. " +
			"Dotted: published lines of like craft, for scale."})...)
	s.Blocks = append(s.Blocks, folding(tables(fitTable(r, u)))...)
	s.Blocks = append(s.Blocks, tables(similarTable(r, u))...)
	if len(r.Drifts) == 0 || len(s.Blocks) == 0 {
		s.Lead = driftFinding(r, u).Text
	}
	return s
}

func handlingSection(r *analysis.Results, u Units) section {
	return section{ID: "handling", Title: "Turns, speed-ups and stops",
		Blocks: tables(turnTable(r, u), speedUpTable(r, u), stopTable(r, u))}
}

// doubtful are the warnings that a result hangs on; those that only tell about
// the log stand with the log.
func doubtful(r *analysis.Results) (lines []string) { return warningsOf(r, false) }

func logNotes(r *analysis.Results) (lines []string) { return warningsOf(r, true) }

func warningsOf(r *analysis.Results, aboutLog bool) (lines []string) {
	for _, w := range r.Warnings {
		if (w.Kind == analysis.WarnLog) == aboutLog {
			lines = append(lines, sentence(w.Text))
		}
	}
	return lines
}

func doubtSection(r *analysis.Results, u Units) section {
	s := section{ID: "doubts", Title: "What was doubtful or missing", Blocks: lists(each(doubtful(r), u.inText))}
	if len(s.Blocks) == 0 {
		s.Lead = "Nothing was found to be doubtful or missing."
	}
	return s
}

func logSection(r *analysis.Results) section {
	s := section{ID: "log", Title: "The log and its sensors", Lead: "Every line of the log is accounted for."}
	s.Blocks = append(s.Blocks, block{Pairs: logLines(r.Log)})
	s.Blocks = append(s.Blocks, lists(logNotes(r))...)
	s.Blocks = append(s.Blocks, tables(sourceTable(r))...)
	if lines := vaneLines(r.WindSensor); len(lines) > 0 {
		s.Blocks = append(s.Blocks, block{Pairs: lines})
	}
	return s
}
