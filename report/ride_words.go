package report

import (
	"math"
	"strconv"
	"strings"
	"time"

	"ahull/analysis"
)

// Letters that a name, a load and a group have on a ride sheet, at most.
const (
	nameRoom  = 44
	loadRoom  = 72
	smallRoom = 24
)

// short cuts text from a file to so many letters.
func shortened(s string, most int) string {
	if letters := []rune(clean(s)); len(letters) > most {
		return strings.TrimSpace(string(letters[:most-1])) + "…"
	}
	return clean(s)
}

// rideBoat names the boat.
func rideBoat(s *analysis.RideSheet) string {
	if s.Model == "" {
		return "Boat not named"
	}
	return shortened(s.Model, nameRoom)
}

// rideDay is the date, and where the place is not hidden the times of day.
func rideDay(s *analysis.RideSheet) string {
	if s.Start == nil || s.End == nil {
		return longDate(s.Date)
	}
	r := &analysis.Results{Trial: analysis.Trial{Start: *s.Start, End: *s.End, Timezone: s.Timezone}}
	r.Log.Dated = s.Date != ""
	return dayText(localTimes(r))
}

func longDate(date string) string {
	day, err := time.Parse(time.DateOnly, date)
	if err != nil {
		return "day not known"
	}
	return day.Format("2 January 2006")
}

func rideWind(s *analysis.RideSheet, u Units) string {
	if !s.Wind10Kn.Known() {
		return notKnown
	}
	text := Plain(u.speed().of(s.Wind10Kn), 0, u.speed().unit)
	if s.WindFromDeg.Known() {
		text += " from " + bearing(s.WindFromDeg)
	}
	return text
}

// rideFacts are the boat, her load, the day's wind and sea, and the place unless
// it is hidden.
func rideFacts(s *analysis.RideSheet, u Units) [][2]string {
	var out [][2]string
	add := func(name, text string) {
		if text != "" && text != missing {
			out = append(out, [2]string{name, text})
		}
	}
	le, vo := u.length(), u.volume()
	add("Hull", shortened(s.Hull, smallRoom))
	if s.LengthM > 0 {
		add("Length", Plain(le.of(s.LengthM), 1, le.unit))
	}
	if s.Crew > 0 {
		add("Aboard", Plain(float64(s.Crew), 0, "people"))
	}
	if s.FuelL > 0 {
		add("Fuel aboard", Plain(vo.of(s.FuelL), 0, vo.unit))
	}
	add("Load", shortened(s.LoadNote, loadRoom))
	ride := duration(float64(s.DurationS))
	if s.DistanceM.Known() {
		ride = Plain(u.distance().of(s.DistanceM/metresPerNM), 1, u.distance().unit) + " in " + ride
	}
	add("Ride", ride)
	if s.WindAsMeasured {
		add("Wind, as measured", rideWind(s, u))
	} else {
		add("Wind, "+u.tenMetres()+" up", rideWind(s, u))
	}
	sea := waveText(analysis.Conditions{WaveFromDeg: s.WaveFromDeg, WaveFromAssumed: s.WaveFromAssumed, WaveHeightM: s.WaveHeightM, WavePeriodS: s.WavePeriodS}, u)
	add("Waves", sea)
	add(rideCurrent(s, u))
	if s.LatDeg != nil && s.LonDeg != nil {
		add("Place", place(analysis.Trial{LatDeg: *s.LatDeg, LonDeg: *s.LonDeg}))
	}
	return out
}

// rideCurrent is the day's current: what it was all day, or from what to what it
// changed.
func rideCurrent(s *analysis.RideSheet, u Units) (name, text string) {
	if !s.CurrentKn.Known() {
		return "", ""
	}
	name, text = "Current", speedText(s.CurrentKn, s.CurrentCI95Kn, u.speed())
	if s.CurrentMinKn.Known() {
		text = rangeText([]float64{u.speed().of(s.CurrentMinKn), u.speed().of(s.CurrentMaxKn)}, 2, u.speed().unit)
	}
	switch {
	case s.CurrentTurned:
		text += ", turning"
	case s.CurrentToDeg != nil && s.CurrentToCI95Deg != nil && *s.CurrentToCI95Deg < 180:
		text += " to " + bearingText(*s.CurrentToDeg, *s.CurrentToCI95Deg)
	}
	return name, text
}

// rideName says what a measure is, in a customer's words.
func rideName(m analysis.RideMeasure, u Units) string {
	v, sp := m.Ride, u.speed()
	mark := Plain(sp.of(v.ToKn), 0, sp.unit)
	name := map[string]string{
		analysis.RideTop:        topName(v, "Top speed", "Fastest steady stretch"),
		analysis.RideBest:       "Cruising, farthest on her fuel",
		analysis.RideHeld:       "Cruising, the speed held longest",
		analysis.RideEconomy:    "Fuel, cruising",
		analysis.RideSpeedUp:    "Speeding up to " + u.mark(v.ToKn) + " " + sp.unit,
		analysis.RidePlane:      "Until she planed (" + mark + ")",
		analysis.RideHeading:    "Heading spread, " + v.Sea + " sea",
		analysis.RidePitch:      "Pitch spread, " + v.Sea + " sea",
		analysis.RideRoll:       "Roll spread, " + v.Sea + " sea",
		analysis.RideJolts:      "Jolts, " + v.Sea + " sea",
		analysis.RideDrift:      "Drift, engine off",
		analysis.RideDriftOver:  "Drift over ground, engine off",
		analysis.RideDriftShare: "Drift straight downwind",
		analysis.RideDriftLies:  "Drifting, the wind on her bow",
		analysis.RideDriftRoll:  "Drifting, roll spread",
	}[m.Name]
	if v.Group != "" {
		name += ", " + shortened(v.Group, smallRoom)
	}
	return name
}

// topName tells the top speed, which is of runs both ways, from the speed of one
// stretch.
func topName(v analysis.RideValue, both, one string) string {
	if v.OneWay || v.NotOpposite || v.OverGround || v.Singles == 1 {
		return one
	}
	return both
}

// rideFigureText prints a value with its ±.
func rideFigureText(m analysis.RideMeasure, v analysis.RideValue, u Units) string {
	sp := u.speed()
	switch {
	case m.Name == analysis.RideBest && v.From.Known() && v.From < v.To:
		return Plain(sp.of(v.Value), 1, sp.unit) + " (best " + rangeText([]float64{sp.of(v.From), sp.of(v.To)}, 1, "") + ")"
	case m.Name == analysis.RideDriftLies && (v.BothSides || otherSide(m)):
		return wholeSide(max(v.Value, -v.Value), v.CI95, "", "")
	case m.Name == analysis.RideDriftLies:
		return wholeSide(v.Value, v.CI95, "to starboard", "to port")
	case m.Unit == "kn":
		return orNoWidth(speedText(v.Value, v.CI95, sp), v)
	case m.Unit == "nm/L":
		return orNoWidth(scaledText(v.Value, v.CI95, u.economy()), v)
	case m.Unit == "°":
		return orNoWidth(spreadText(v.Value, v.CI95, "°"), v)
	}
	return orNoWidth(Estimate(float64(v.Value), float64(v.CI95), m.Unit), v)
}

// otherSide tells that the model lay with the wind on the other side, or on both: a
// side is the tack she was on that day, and nothing to compare.
func otherSide(m analysis.RideMeasure) bool {
	return m.Model != nil && (m.Model.BothSides || m.Ride.Value*m.Model.Value < 0)
}

// orNoWidth says of a figure without a ± that there is none.
func orNoWidth(text string, v analysis.RideValue) string {
	if v.Value.Known() && !(v.CI95 > 0) {
		return text + " (± not known)"
	}
	return text
}

// offCurve is said of what no run was made at.
const offCurve = "off the curve between runs"

// liesText is how she lay in the drifts of a group: "94 to 98° to either side".
func liesText(v analysis.RideValue) string {
	text := rangeText([]float64{math.Abs(float64(v.SinglesFrom)), math.Abs(float64(v.SinglesTo))}, 0, "°")
	if v.BothSides {
		text += " to either side"
	}
	return text
}

// windHeights are what is said of the height of this ride's wind and of the model's
// where they are not of one height, so that a strong wind beside a weak one isn't taken
// for another day.
func windHeights(s *analysis.RideSheet, u Units) (ride, model string) {
	up := " at " + u.tenMetres()
	switch a := s.Against; {
	case a == nil || a.WindAsMeasured == s.WindAsMeasured:
		return "", ""
	case a.WindAsMeasured:
		return up, " at the sensor"
	}
	return " at the sensor", up
}

// rideHow says under what a value was measured; height is said of the wind.
func rideHow(m analysis.RideMeasure, v analysis.RideValue, height string, u Units) string {
	sp := u.speed()
	var parts []string
	add := func(ok bool, text string) {
		if ok {
			parts = append(parts, text)
		}
	}
	switch m.Name {
	case analysis.RideTop, analysis.RideBest, analysis.RideHeld:
		add(v.RPM.Known(), rpmText(v.RPM)+" rpm")
		add(v.OneWay && !v.OverGround, "one way only")
		add(v.NotOpposite, "no two runs on opposite courses")
		add(m.Name == analysis.RideTop && v.Singles > 1 && !v.OneWay && !v.NotOpposite && !v.BothMeans,
			"mean of both ways ("+rangeText([]float64{sp.of(v.SinglesFrom), sp.of(v.SinglesTo)}, 1, "")+")")
		add(v.OffCurve, offCurve)
		add(v.BothMeans, "mean of there and back")
	case analysis.RideEconomy:
		add(v.SpeedKn.Known(), "at "+Plain(sp.of(v.SpeedKn), 1, sp.unit))
		add(v.OffCurve, offCurve)
	case analysis.RideSpeedUp, analysis.RidePlane:
		add(v.FromKn.Known(), "from "+Plain(sp.of(v.FromKn), 1, sp.unit))
	case analysis.RideHeading, analysis.RidePitch, analysis.RideRoll, analysis.RideJolts:
		add(v.SpeedKn.Known(), "at "+Plain(sp.of(v.SpeedKn), 1, sp.unit))
		add(m.Name == analysis.RideJolts, "mean of the hardest tenth")
	default:
		add(v.WindKn.Known() && !(m.Name == analysis.RideDriftLies && v.Singles > 1), "in "+Plain(sp.of(v.WindKn), 0, sp.unit)+" of wind"+height)
		add(m.Name == analysis.RideDrift && v.Singles > 1, "longest of "+strconv.Itoa(v.Singles)+" ("+
			rangeText([]float64{sp.of(v.SinglesFrom), sp.of(v.SinglesTo)}, 2, "")+")")
		add(m.Name == analysis.RideDriftLies && v.Singles > 1, "longest of "+strconv.Itoa(v.Singles)+" ("+liesText(v)+")")
		add(m.Name == analysis.RideDriftLies && v.Singles == 1 && otherSide(m), "on either side")
		add(m.Name == analysis.RideDriftShare && len(v.Of) > 1, count(len(v.Of), "drift", "drifts"))
		add(m.Name == analysis.RideDriftShare, "of the wind’s speed")
		add(m.Name == analysis.RideDriftOver, "wind and current together")
	}
	add(v.OverGround && m.Name != analysis.RideDriftOver, "over ground, current in it")
	return strings.Join(parts, ", ")
}
