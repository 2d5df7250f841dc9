package analysis_test

import (
	"bufio"
	"bytes"
	"fmt"
	"testing"

	gonmea "github.com/adrianmo/go-nmea"

	"ahull/analysis"
	"ahull/analysis/rehearse"
	"ahull/analysis/trial"
	"ahull/nmea"
)

// bigLog is a log of at least size bytes: one busy trial, told again day after
// day with the dates moved on.
func bigLog(b *testing.B, size int) []byte {
	b.Helper()
	s := rehearse.Default(1)
	d := &s.Sensors
	d.GPSHz, d.GGAHz, d.VTGHz, d.HeadingHz, d.WindHz = 10, 10, 10, 10, 10
	d.RPMHz, d.AttitudeHz, d.RateOfTurnHz, d.WaterSpeedHz, d.FuelHz = 10, 10, 10, 10, 10
	s.Faults.Others = true
	var day bytes.Buffer
	if err := rehearse.Simulate(s).WriteLog(&day); err != nil {
		b.Fatal(err)
	}
	var out []byte
	for k := 0; len(out) < size; k++ {
		out = appendDay(out, day.Bytes(), s.Start.Format("020106"), s.Start.AddDate(0, 0, k).Format("020106"))
	}
	return out
}

// appendDay appends a log with one date for another, checksums made right.
func appendDay(out, log []byte, from, to string) []byte {
	for line := range bytes.Lines(log) {
		body, _, ok := bytes.Cut(bytes.TrimSpace(line), []byte("*"))
		if !ok || !bytes.Contains(body, []byte(from)) {
			out = append(out, line...)
			continue
		}
		body = bytes.ReplaceAll(body, []byte(from), []byte(to))
		var sum byte
		for _, c := range body[1:] {
			sum ^= c
		}
		out = fmt.Appendf(out, "%s*%02X\r\n", body, sum)
	}
	return out
}

const benchBytes = 200 << 20

// BenchmarkCheck is what `ahull check` does with a log of 200 MB; set it beside
// BenchmarkParseEachLine.
func BenchmarkCheck(b *testing.B) {
	log := bigLog(b, benchBytes)
	b.SetBytes(int64(len(log)))
	for b.Loop() {
		l, err := nmea.Read([]nmea.Input{{Name: "big.nmea", Reader: bytes.NewReader(log), Size: int64(len(log))}}, nmea.Options{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := analysis.Check(l, trial.Bare()); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkParseEachLine parses each line of the same log with the library, in
// one goroutine, and keeps nothing.
func BenchmarkParseEachLine(b *testing.B) {
	log := bigLog(b, benchBytes)
	b.SetBytes(int64(len(log)))
	for b.Loop() {
		lines := bufio.NewScanner(bytes.NewReader(log))
		for lines.Scan() {
			_, _ = gonmea.Parse(lines.Text())
		}
	}
}

// BenchmarkAnalyzeDay is the analysis of a day's log of about 100 minutes.
func BenchmarkAnalyzeDay(b *testing.B) {
	var day bytes.Buffer
	if err := rehearse.Simulate(rehearse.Default(1)).WriteLog(&day); err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(day.Len()))
	for b.Loop() {
		l, err := nmea.Read([]nmea.Input{{Name: "day.nmea", Reader: bytes.NewReader(day.Bytes())}}, nmea.Options{})
		if err != nil {
			b.Fatal(err)
		}
		if _, err := analysis.Analyze(l, trial.Bare()); err != nil {
			b.Fatal(err)
		}
	}
}
