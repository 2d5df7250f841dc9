package plan

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// TOML writes the request as a file that Load reads back.
func (r *Request) TOML() string {
	var b strings.Builder
	b.WriteString("# A plan: ahull plan makes its card, ahull rehearse sails it.\n")
	if names := r.Units.String(); names != "" {
		fmt.Fprintf(&b, "units = %q\n", names)
	}
	section(&b, "boat", text("model", r.Model), text("variant", r.Variant), text("hull", r.Hull), amount("length", r.Length, "m"))
	lines := []string{}
	if len(r.Tests) > 0 {
		var names []string
		for _, t := range r.Tests {
			names = append(names, strconv.Quote(string(t)))
		}
		lines = append(lines, "test = ["+strings.Join(names, ", ")+"]  # what matters most first")
	}
	lines = append(lines, amount("time", r.TimeS/60, "min"), amount("way_out", r.OutM, "m"))
	if r.Days > 0 {
		lines = append(lines, fmt.Sprintf("days = %d  # of each variant", r.Days))
	}
	section(&b, "plan", lines...)
	section(&b, "engine", amount("cruise", r.Cruise/knot, "kn"), amount("top", r.Top/knot, "kn"), amount("power", r.Power/1000, "kW"), amount("tank", r.TankL, "L"))
	section(&b, "conditions", vector("wind", r.WindMS, "from", r.WindFromDeg),
		amount("wave_height", r.WaveM, "m"), amount("wave_period", r.WavePeriodS, "s"), amount("wave_from", r.WaveFromDeg, "deg"),
		vector("current", r.CurrentMS, "to", r.CurrentToDeg), plain("leeway", r.LeewayPct))
	section(&b, "care", amount("drift_speed", r.Care.DriftMS/knot, "kn"), plain("head_sea", r.Care.HeadSeaPct),
		amount("speed", r.Care.SpeedMS/knot, "kn"), plain("fuel", r.Care.FuelPct))
	for _, p := range r.Points {
		b.WriteString("\n[[speed]]\n")
		for _, l := range []string{plain("rpm", p.RPM), amount("speed", p.Speed/knot, "kn"), amount("fuel_flow", p.FuelLH, "L/h")} {
			if l != "" {
				b.WriteString(l + "\n")
			}
		}
	}
	return b.String()
}

func section(b *strings.Builder, name string, lines ...string) {
	all := strings.Join(lines, "")
	if all == "" {
		return
	}
	fmt.Fprintf(b, "\n[%s]\n", name)
	for _, l := range lines {
		if l != "" {
			b.WriteString(l + "\n")
		}
	}
}

func text(key, value string) string {
	if value == "" {
		return ""
	}
	return key + " = " + strconv.Quote(value)
}

// digits keeps enough of a number to read the same one back, within rounding
// that no boat can tell.
func digits(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

func rounded(x float64) float64 {
	r := math.Round(x*1e6) / 1e6
	if math.Abs(r-x) < 1e-9*math.Abs(x)+1e-12 {
		return r
	}
	return x
}

func amount(key string, x float64, unit string) string {
	if math.IsNaN(x) {
		return ""
	}
	return fmt.Sprintf("%s = %q", key, digits(rounded(x))+" "+unit)
}

func plain(key string, x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return key + " = " + digits(rounded(x))
}

func vector(key string, speed float64, word string, deg float64) string {
	if math.IsNaN(speed) {
		return ""
	}
	v := digits(rounded(speed/knot)) + " kn"
	if !math.IsNaN(deg) {
		v += " " + word + " " + digits(rounded(deg))
	}
	return fmt.Sprintf("%s = %q", key, v)
}
