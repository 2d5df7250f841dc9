package track

import (
	"fmt"
	"math"
	"sort"
	"strings"

	"ahull/analysis/stat"
	"ahull/nmea"
)

// chooser offers the log's channels and keeps a record of what was chosen.
type chooser struct {
	log     *nmea.Log
	span    float64 // s, of all that the log kept
	choices []SourceChoice
}

func newChooser(log *nmea.Log) *chooser {
	span := log.Last - log.First
	for _, r := range log.Rests {
		span -= r.End - r.Start
	}
	return &chooser{log: log, span: math.Max(span, 1)}
}

// all returns the channels of a quantity, in the log's order.
func (c *chooser) all(q nmea.Quantity) []nmea.Channel {
	var out []nmea.Channel
	for _, ch := range c.log.Channels {
		if ch.Quantity == q && len(ch.Time) > 0 {
			out = append(out, ch)
		}
	}
	return out
}

// pair returns the channel of q from the same source as ch. It is empty if the
// log has none, or not one that shares ch's times.
func (c *chooser) pair(ch nmea.Channel, q nmea.Quantity) nmea.Channel {
	for _, other := range c.log.Channels {
		if other.Quantity == q && other.Source == ch.Source && len(other.Time) == len(ch.Time) {
			return other
		}
	}
	return nmea.Channel{}
}

// pick chooses among candidates: the one the person named; else the first rank
// (a lower number is better) that covers the log well enough; within a rank the
// one with most samples. One that hangs comes behind those that don't. The bool is false when there is no candidate.
func (c *chooser) pick(name string, candidates []nmea.Channel, rank func(nmea.Channel) int, wanted string) (nmea.Channel, bool) {
	if len(candidates) == 0 {
		return nmea.Channel{}, false
	}
	sort.SliceStable(candidates, func(i, j int) bool { return better(candidates[i], candidates[j], rank, c.span) })
	best, why := 0, "only source"
	if len(candidates) > 1 {
		why = "preferred kind of sentence, or most samples of its kind"
	}
	for i, ch := range candidates {
		if wanted != "" && sourceMatches(ch.Source, wanted) {
			best, why = i, "named in the trial file"
			break
		}
	}
	for i, ch := range candidates {
		c.record(name, ch, i == best, why)
	}
	return candidates[best], true
}

func (c *chooser) record(name string, ch nmea.Channel, chosen bool, why string) {
	if !chosen {
		why = "not needed beside the chosen one"
	}
	c.choices = append(c.choices, SourceChoice{Channel: name, Source: ch.Source, RateHz: RateHz(ch.Time), Samples: len(ch.Time), Chosen: chosen, Why: why})
}

// HoleLimit is the step between samples from which on it is a hole, s: more than
// three sample periods, and more than 5 s.
func HoleLimit(steps []float64) float64 {
	if len(steps) == 0 {
		return 5
	}
	return math.Max(3*stat.Median(steps), 5)
}

// RateHz is how many samples a second came while they came: the mean over the time
// that is no hole. NaN where there are none.
func RateHz(times []float64) float64 {
	steps := make([]float64, 0, len(times))
	for i := 1; i < len(times); i++ {
		steps = append(steps, times[i]-times[i-1])
	}
	limit := HoleLimit(steps)
	beats, sum := 0, 0.0
	for _, dt := range steps {
		if dt <= limit {
			beats, sum = beats+1, sum+dt
		}
	}
	if !(sum > 0) {
		return math.NaN()
	}
	return float64(beats) / sum
}

// stuckShare is the share of its time in which a sensor that hangs gives one
// value.
const stuckShare = 0.5

// stuckHole is a silence behind which nothing is said of a value that is the same, s.
const stuckHole = 60

// stuck tells a heading or wind angle that hangs, valid though it calls itself.
// A live one may keep its value too, alongside and out of the wind, but then no
// other is livelier.
func stuck(ch nmea.Channel) bool {
	switch ch.Quantity {
	case nmea.TrueHeading, nmea.CompassHeading, nmea.MagneticHeading, nmea.ApparentWindAngle, nmea.TheoreticalWindAngle, nmea.WindDirection:
	default:
		return false
	}
	from, longest := 0, 0.0
	for i, v := range ch.Value {
		if v != ch.Value[from] || i > 0 && ch.Time[i]-ch.Time[i-1] > stuckHole {
			from = i
		}
		longest = math.Max(longest, ch.Time[i]-ch.Time[from])
	}
	return longest >= 60 && longest >= stuckShare*(ch.Time[len(ch.Time)-1]-ch.Time[0])
}

// sparseShare is the share of the log's length that a source must cover, at one
// sample a 5 s, to keep its rank: a good sensor that was dead all day must not
// beat a plain one that worked.
const sparseShare = 0.3

func better(a, b nmea.Channel, rank func(nmea.Channel) int, span float64) bool {
	aSparse, bSparse := sparse(a, span), sparse(b, span)
	if aSparse != bSparse {
		return bSparse
	}
	if aStuck, bStuck := stuck(a), stuck(b); aStuck != bStuck {
		return bStuck
	}
	if ra, rb := rank(a), rank(b); ra != rb {
		return ra < rb
	}
	return len(a.Time) > len(b.Time)
}

func sparse(ch nmea.Channel, span float64) bool {
	return float64(len(ch.Time))*holeLimitS < sparseShare*span
}

// sourceMatches tells whether the trial file's "HC HDG" names the source.
func sourceMatches(s nmea.Source, wanted string) bool {
	return strings.EqualFold(strings.TrimSpace(wanted), s.Talker+" "+s.Sentence)
}

// bySentence ranks sources in the given order of sentences.
func bySentence(order ...string) func(nmea.Channel) int {
	return func(ch nmea.Channel) int {
		for i, s := range order {
			if ch.Source.Sentence == s {
				return i
			}
		}
		return len(order)
	}
}

// ofReceiver is bySentence with those of one receiver before all others.
func ofReceiver(own nmea.Source, order ...string) func(nmea.Channel) int {
	rank := bySentence(order...)
	return func(ch nmea.Channel) int {
		if ch.Source.Talker == own.Talker && ch.Source.Name == own.Name {
			return rank(ch)
		}
		return len(order) + 1 + rank(ch)
	}
}

// missingSource is the warning for a source that the trial file names and the
// log has not.
func missingSource(what, wanted string) nmea.Warning {
	return nmea.Warning{Code: "source-not-found", Text: fmt.Sprintf("the trial file asks for the %s from %q, but the log has no such sentence: another source was used", what, wanted)}
}
