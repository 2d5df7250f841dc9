package rehearse

import (
	"bytes"
	"fmt"
	"io"
)

// Equipped is a long day on a boat with much on her wires: heading and attitude
// ten times a second, positions and velocities five times, the rest once, with
// satellites and other ships in between. She goes out once and lies alongside
// otherwise, from midnight to midnight.
func Equipped(seed uint64) Scenario {
	s := Default(seed)
	s.Name = "well-equipped boat"
	s.Start = s.Start.Truncate(daySeconds * 1e9)
	d := &s.Sensors
	d.GPSHz, d.GGAHz, d.VTGHz, d.HeadingHz, d.AttitudeHz = 5, 5, 5, 10, 10
	d.WindHz, d.RPMHz, d.FuelHz, d.WaterSpeedHz, d.DepthHz = 1, 1, 1, 1, 1
	s.Faults.Others = true
	s.Plan = Plan(Alongside(10*3600), DefaultPlan(), Alongside(daySeconds))
	return s
}

const daySeconds = 24 * 3600

// Repeat writes at least size bytes of log: the voyage's, told again day after
// day with the dates moved on.
func (v *Voyage) Repeat(w io.Writer, size int64) error {
	var day bytes.Buffer
	if err := v.WriteLog(&day); err != nil {
		return err
	}
	for k, left := 0, size; left > 0; k++ {
		n, err := v.writeDay(w, day.Bytes(), k, left)
		if err != nil {
			return err
		}
		left -= n
	}
	return nil
}

// writeDay writes a day's log with its dates moved on, up to the end of the line in
// which size bytes are full.
func (v *Voyage) writeDay(w io.Writer, log []byte, later int, size int64) (int64, error) {
	if int64(len(log)) > size {
		log = log[:int(size)+bytes.IndexByte(log[size-1:], '\n')]
	}
	start := v.Scenario.Start
	n, err := w.Write(redate(log, start.Format("020106"), start.AddDate(0, 0, later).Format("020106")))
	if err != nil {
		return 0, fmt.Errorf("writing the log: %w", err)
	}
	return int64(n), nil
}

// redate gives a log with one date (ddmmyy) for another, checksums made right.
func redate(log []byte, from, to string) []byte {
	out := make([]byte, 0, len(log))
	old, date := []byte(","+from+","), []byte(","+to+",")
	for line := range bytes.Lines(log) {
		body, _, ok := bytes.Cut(line, []byte("*"))
		if !ok || !bytes.Contains(body, old) {
			out = append(out, line...)
			continue
		}
		body = bytes.ReplaceAll(body, old, date)
		out = append(out, seal(body[0], string(body[1:]))...)
	}
	return out
}
