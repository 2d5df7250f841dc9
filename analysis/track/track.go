package track

import (
	"ahull/analysis/geo"
	"ahull/nmea"
)

// Track is a trial on one time base: sample i is the mean over the second
// around Start+i. A value that was not measured is NaN; nothing is carried
// across a hole. All slices have the same length; a quantity that the log has
// not at all is a slice of NaN.
type Track struct {
	Start     float64   // Unix seconds, UTC, of sample 0
	Plane     geo.Plane // where East and North count from
	East      []float64 // m
	North     []float64 // m
	VelEast   []float64 // m/s over ground
	VelNorth  []float64 // m/s over ground
	Heading   []float64 // degrees true
	WindEast  []float64 // m/s over ground at 10 m, the way the air moves (toward)
	WindNorth []float64 // m/s
	RPM       []float64 // mean of the engines that turn
	STW       []float64 // m/s through the water, as the water-speed sensor says
	FuelFlow  []float64 // litres an hour, all engines
	Native    Native
	Sources   []SourceChoice
	Rests     []nmea.Gap // in which the boat lay still and nothing else is known
	// HeadingSigmaDeg is what the heading may be off as a whole (variation,
	// unknown deviation), one standard deviation, degrees.
	HeadingSigmaDeg float64
	WindAt10m       bool      // false: no anemometer height was given, so no height correction
	WindNote        string    // how the wind came to 10 m, or why it did not
	Variation       Variation // the magnetic variation used
	Warnings        []nmea.Warning

	WindOnBow  bool    // the wind was measured against the bow, so it turns with the heading
	WindFactor float64 // from the anemometer's height to 10 m

	// WindTheoretical: the wind is the instrument's own sum, not what it felt.
	WindTheoretical bool
	// VelocityLag is by how much the velocity is late.
	VelocityLag Lag
	// LineLag is by how much lines that carry no time were sent later than it is
	// said of them.
	LineLag Lag

	// What the wind sensor may be off, one standard deviation, where somebody
	// looked: its angle, degrees, and its speed as a share; and, together with the
	// compass, the wind's direction, degrees. 0: not looked at.
	WindAngleSigmaDeg, WindSpeedSigma, WindDirectionSigmaDeg float64
}

// Native holds what must not be averaged before its spread is taken, at the
// sensor's own rate. Empty where not logged.
type Native struct {
	Heading      Series // degrees true, 0–360
	RateOfTurn   Series // degrees a second, to starboard positive
	Pitch        Series // degrees, bow up positive
	Roll         Series // degrees, starboard down positive
	Acceleration Series // m/s², up positive, as logged
	Speed        Series // m/s over ground
	EngineSpeed  Series // rpm, of one engine
	EngineTrim   Series // of one engine's drive: percent or degrees, as logged
}

// Series is one quantity at its own times (Unix seconds, UTC, increasing).
type Series struct{ Time, Value []float64 }

// Between returns the part of s with from ≤ time < to. It shares memory with s.
func (s Series) Between(from, to float64) Series {
	lo, hi := search(s.Time, from), search(s.Time, to)
	return Series{Time: s.Time[lo:hi], Value: s.Value[lo:hi]}
}

func search(t []float64, x float64) int {
	lo, hi := 0, len(t)
	for lo < hi {
		mid := int(uint(lo+hi) >> 1)
		if t[mid] < x {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	return lo
}

// SourceChoice says which source serves a channel of the track and why.
type SourceChoice struct {
	Channel string // "heading", "position", "velocity", "wind", "rpm", …
	Source  nmea.Source
	RateHz  float64
	Samples int
	Chosen  bool
	Why     string
}

// Len is the number of samples.
func (t *Track) Len() int { return len(t.East) }

// Time is the Unix time of sample i, s.
func (t *Track) Time(i int) float64 { return t.Start + float64(i) }

// Index is the first sample at or after Unix time at, within 0…Len.
func (t *Track) Index(at float64) int {
	i := int(at - t.Start)
	if float64(i) < at-t.Start {
		i++
	}
	return min(max(i, 0), t.Len())
}
