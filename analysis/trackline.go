package analysis

import (
	"math"

	"ahull/analysis/current"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/wind"
)

// maxTrackPoints bounds the track kept for figures.
const maxTrackPoints = 7200

// trackLine thins the track to a round step and takes the current, as far as it
// is known, out of the speed.
func trackLine(tr *track.Track, waterAt func(t float64) current.Water) TrackLine {
	step := (tr.Len() + maxTrackPoints - 1) / maxTrackPoints
	if step < 1 {
		step = 1
	}
	line := TrackLine{Start: utc(tr.Start), StepS: Number(step)}
	for i := 0; i < tr.Len(); i += step {
		v := math.Hypot(tr.VelEast[i], tr.VelNorth[i])
		water := current.Water{East: math.NaN()}
		if restIn(tr.Rests, tr.Time(i), tr.Time(i)+1) == 0 { // alongside nobody asks how she goes through the water
			water = waterAt(tr.Time(i))
		}
		w := math.Hypot(tr.WindEast[i], tr.WindNorth[i])
		line.EastM = append(line.EastM, rounded(tr.East[i], 0.1))
		line.NorthM = append(line.NorthM, rounded(tr.North[i], 0.1))
		line.SpeedKn = append(line.SpeedKn, rounded(knots(v), 0.01))
		line.WaterKn = append(line.WaterKn, rounded(knots(math.Hypot(tr.VelEast[i]-water.East, tr.VelNorth[i]-water.North)), 0.01))
		line.HeadingDeg = append(line.HeadingDeg, rounded(tr.Heading[i], 0.1))
		line.WindKn = append(line.WindKn, rounded(knots(w), 0.1))
		line.WindFromDeg = append(line.WindFromDeg, rounded(wind.FromDeg(tr.WindEast[i], tr.WindNorth[i]), 0.1))
		line.RPM = append(line.RPM, rounded(tr.RPM[i], 1))
	}
	return line
}

// rounded is x to the nearest step; a figure needs no more.
func rounded(x, step float64) Number {
	return Number(math.Round(x/step) * step)
}

// knotMS is one knot in m/s, exact: 1852 m an hour.
const knotMS = 1852.0 / 3600

// knots turns m/s into knots.
func knots(ms float64) float64 { return ms / knotMS }

// kn is knots as a Number.
func kn(ms float64) Number { return Number(knots(ms)) }

// towardDeg is the direction that a vector points to, degrees true.
func towardDeg(east, north float64) float64 {
	return stat.Wrap360(math.Atan2(east, north) * 180 / math.Pi)
}
