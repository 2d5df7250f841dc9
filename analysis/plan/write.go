package plan

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// TOML writes the request as a file that Load reads back, with quantities as
// they were written where they were.
func (r *Request) TOML() string {
	var b strings.Builder
	b.WriteString("# A plan: ahull plan makes its card, ahull rehearse sails it.\n")
	if names := r.Units.String(); names != "" {
		fmt.Fprintf(&b, "units = %q\n", names)
	}
	section(&b, "boat", text("model", r.Model), text("variant", r.Variant), text("hull", r.Hull), r.amount("length", r.Length, "m", 1))
	lines := []string{}
	if len(r.Tests) > 0 {
		var names []string
		for _, t := range r.Tests {
			names = append(names, strconv.Quote(string(t)))
		}
		lines = append(lines, "test = ["+strings.Join(names, ", ")+"]  # what matters most first")
	}
	lines = append(lines, r.amount("time", r.TimeS, "min", 60), r.amount("way_out", r.OutM, "m", 1))
	if r.Days > 0 {
		lines = append(lines, fmt.Sprintf("days = %d  # of each variant", r.Days))
	}
	section(&b, "plan", lines...)
	section(&b, "engine", r.amount("cruise", r.Cruise, "kn", knot), r.amount("top", r.Top, "kn", knot), r.amount("power", r.Power, "kW", 1000), r.amount("tank", r.TankL, "L", 1))
	section(&b, "conditions", r.flow("wind", r.WindMS, "from", r.WindFromDeg),
		r.amount("wave_height", r.WaveM, "m", 1), r.amount("wave_period", r.WavePeriodS, "s", 1), r.amount("wave_from", r.WaveFromDeg, "deg", 1),
		r.flow("current", r.CurrentMS, "to", r.CurrentToDeg), plain("leeway", r.LeewayPct))
	section(&b, "care", r.amount("drift_speed", r.Care.DriftMS, "kn", knot), plain("head_sea", r.Care.HeadSeaPct),
		r.amount("speed", r.Care.SpeedMS, "kn", knot), plain("fuel", r.Care.FuelPct))
	for _, p := range r.Points {
		b.WriteString("\n[[speed]]\n")
		for _, l := range []string{plain("rpm", p.RPM), r.amount("speed", p.Speed, "kn", knot), r.amount("fuel_flow", p.FuelLH, "L/h", 1)} {
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

// digits gives a number as far as a boat can tell: six digits.
func digits(x float64) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 6, 64), 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// amount is a quantity as it was written or, where it was not, in a unit of the
// given size.
func (r *Request) amount(key string, x float64, unit string, size float64) string {
	if math.IsNaN(x) {
		return ""
	}
	as, ok := r.typed[keyOf(key, x, noDirection)]
	if !ok {
		as = digits(x/size) + " " + unit
	}
	return text(key, as)
}

func plain(key string, x float64) string {
	if math.IsNaN(x) {
		return ""
	}
	return key + " = " + digits(x)
}

// flow is a wind or a current.
func (r *Request) flow(key string, speed float64, word string, deg float64) string {
	if math.IsNaN(speed) {
		return ""
	}
	as, ok := r.typed[keyOf(key, speed, deg)]
	if !ok {
		as = digits(speed/knot) + " kn"
		if !math.IsNaN(deg) {
			as += " " + word + " " + digits(deg)
		}
	}
	return text(key, as)
}
