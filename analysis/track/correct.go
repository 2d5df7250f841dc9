package track

import (
	"math"

	"ahull/analysis/stat"
)

// Correct gives the track with what was found of the compass's error: deviation
// is what must be added to a logged heading near h (degrees) and its standard
// deviation. Headings turn, and with them a wind that was measured against the
// bow. The receiver is left as it was.
func (t *Track) Correct(deviation func(h float64) (deg, sigma float64)) *Track {
	deviation = everyDegree(deviation)
	out := *t
	out.Heading = make([]float64, t.Len())
	out.WindEast, out.WindNorth = append([]float64(nil), t.WindEast...), append([]float64(nil), t.WindNorth...)
	var squares, n float64
	for i, h := range t.Heading {
		out.Heading[i] = math.NaN()
		if math.IsNaN(h) {
			continue
		}
		d, sigma := deviation(h)
		out.Heading[i] = stat.Wrap360(h + d)
		out.turnWind(i, d)
		squares, n = squares+sigma*sigma, n+1
	}
	if n > 0 {
		out.HeadingSigmaDeg = math.Sqrt(squares / n)
	}
	out.Native.Heading.Value = make([]float64, len(t.Native.Heading.Value))
	for k, h := range t.Native.Heading.Value {
		d, _ := deviation(h)
		out.Native.Heading.Value[k] = stat.Wrap360(h + d)
	}
	return &out
}

// everyDegree reads a smooth curve at whole degrees once and between them along
// straight lines: a day has tens of thousands of headings, and each reading of
// a fitted curve costs a solution of the whole fit.
func everyDegree(curve func(h float64) (deg, sigma float64)) func(h float64) (deg, sigma float64) {
	var deg, sigma [361]float64
	for i := range deg {
		deg[i], sigma[i] = curve(float64(i % 360))
	}
	return func(h float64) (float64, float64) {
		if !(h >= 0 && h < 360) {
			return curve(h)
		}
		i, share := int(h), h-math.Floor(h)
		return deg[i] + share*(deg[i+1]-deg[i]), sigma[i] + share*(sigma[i+1]-sigma[i])
	}
}

// turnWind turns the apparent part of sample i's wind clockwise by deg.
func (t *Track) turnWind(i int, deg float64) {
	if !t.WindOnBow || math.IsNaN(t.VelEast[i]) {
		return
	}
	f := t.WindFactor
	ae, an := t.WindEast[i]/f-t.VelEast[i], t.WindNorth[i]/f-t.VelNorth[i]
	s, c := math.Sincos(deg * radPerDeg)
	t.WindEast[i] = f * (t.VelEast[i] + ae*c + an*s)
	t.WindNorth[i] = f * (t.VelNorth[i] - ae*s + an*c)
}
