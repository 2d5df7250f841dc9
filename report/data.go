package report

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"reflect"
	"strings"
	"time"

	"ahull/analysis"
)

// JSON writes the results as indented JSON. The same results give the same bytes.
func JSON(w io.Writer, r *analysis.Results) error { return writeJSON(w, r) }

// CardJSON writes a trial card as indented JSON.
func CardJSON(w io.Writer, c *analysis.TrialCard) error { return writeJSON(w, c) }

func writeJSON(w io.Writer, v any) error {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return err
	}
	_, err := w.Write(laidOut(bytes.TrimSpace(b.Bytes())))
	return err
}

// RunsCSV writes one row a run. Columns are the fields of analysis.Run by their
// JSON names, which carry the unit; an empty cell is a number not known. The interval
// of a spread is not even about it, so it stands in two columns more: behind
// heading_sd_ci95_deg come heading_sd_from_deg and heading_sd_to_deg.
func RunsCSV(w io.Writer, r *analysis.Results) error { return writeCSV(w, r.Runs) }

// DriftsCSV writes one row a drift, like RunsCSV; the 10-minute windows of a
// drift are only in the JSON.
func DriftsCSV(w io.Writer, r *analysis.Results) error { return writeCSV(w, r.Drifts) }

// writeCSV writes the fields of a struct type that fit into one cell.
func writeCSV[T any](w io.Writer, rows []T) error {
	columns := cellFields(reflect.TypeFor[T]())
	out := csv.NewWriter(w)
	var header []string
	for _, f := range columns {
		header = append(header, jsonName(f))
		if spread, ok := strings.CutSuffix(jsonName(f), spreadCI); ok {
			header = append(header, spread+"_sd_from_deg", spread+"_sd_to_deg")
		}
	}
	if err := out.Write(header); err != nil {
		return err
	}
	for _, row := range rows {
		var cells []string
		sd := analysis.Unknown()
		for _, f := range columns {
			v := reflect.ValueOf(row).FieldByIndex(f.Index).Interface()
			cells = append(cells, cell(v))
			if ci, ok := v.(analysis.Number); ok && strings.HasSuffix(jsonName(f), spreadCI) {
				from, to := analysis.SpreadRange(sd, ci)
				cells = append(cells, cell(from), cell(to))
			} else if ok {
				sd = ci // a spread stands right before its ±
			}
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// spreadCI is how the JSON name of a spread's ± ends.
const spreadCI = "_sd_ci95_deg"

func jsonName(f reflect.StructField) string {
	name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
	return name
}

// cellFields are the fields of a struct that cell can print.
func cellFields(t reflect.Type) []reflect.StructField {
	var fields []reflect.StructField
	for i := range t.NumField() {
		f := t.Field(i)
		switch reflect.Zero(f.Type).Interface().(type) {
		case string, []string, time.Time, analysis.Number, bool, int:
			fields = append(fields, f)
		}
	}
	return fields
}

// cell prints a value as it stands in the JSON, without quotes.
func cell(v any) string {
	switch v := v.(type) {
	case string:
		return v
	case []string:
		return strings.Join(v, "; ")
	case time.Time:
		return v.UTC().Format(time.RFC3339Nano)
	case analysis.Number:
		b, err := v.MarshalJSON()
		if err != nil || string(b) == "null" {
			return ""
		}
		return string(b)
	}
	return fmt.Sprint(v)
}
