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

// pick chooses among candidates: the one the person named; else the best of those
// that worked for most of the log. The bool is false when there is no candidate.
func (c *chooser) pick(name string, candidates []nmea.Channel, rank func(nmea.Channel) int, wanted string) (nmea.Channel, bool) {
	if len(candidates) == 0 {
		return nmea.Channel{}, false
	}
	why := "only source"
	if len(candidates) > 1 {
		var passed bool
		if candidates, passed = inOrder(candidates, rank, c.span); passed {
			why = "better kinds of sentence were silent or hung for too much of the log"
		} else {
			why = "preferred kind of sentence, or most samples of its kind"
		}
	}
	best := 0
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

// A source keeps its rank if it covers so much of the log's length, and so much of
// what the one that covers most does: a good sensor that was dead for long must not
// beat a plain one that worked.
const (
	sparseShare = 0.3
	fullShare   = 0.75
)

// rated is a candidate and how well it serves.
type rated struct {
	channel       nmea.Channel
	covers        float64 // s
	sparse, stuck bool
	short         bool // covers much less than another
	rank          int  // of its kind; a lower number is better
}

// inOrder sorts candidates, the best first: by what they cover, those that hang
// behind the others, by rank, by their samples. The bool tells that a better rank than the
// first one's was passed over.
func inOrder(candidates []nmea.Channel, rank func(nmea.Channel) int, span float64) ([]nmea.Channel, bool) {
	all, most := make([]rated, len(candidates)), 0.0
	for i, ch := range candidates {
		r := rated{channel: ch, covers: covered(ch), stuck: stuck(ch), rank: rank(ch)}
		r.sparse = r.covers < sparseShare*span
		if !r.stuck {
			most = math.Max(most, r.covers)
		}
		all[i] = r
	}
	for i := range all {
		all[i].short = all[i].covers < fullShare*most
	}
	sort.SliceStable(all, func(i, j int) bool { return all[i].before(all[j]) })
	out, passed := make([]nmea.Channel, len(all)), false
	for i, r := range all {
		out[i], passed = r.channel, passed || r.rank < all[0].rank
	}
	return out, passed
}

func (r rated) before(other rated) bool {
	switch {
	case r.sparse != other.sparse:
		return other.sparse
	case r.short != other.short:
		return other.short
	case r.stuck != other.stuck:
		return other.stuck
	case r.rank != other.rank:
		return r.rank < other.rank
	}
	return len(r.channel.Time) > len(other.channel.Time)
}

// covered is the time for which a channel has values, s: each serves until the next
// one, and no longer than up to a hole. How often it sends doesn't count.
func covered(ch nmea.Channel) float64 {
	sum, last := 0.0, math.Inf(-1)
	for i, v := range ch.Value {
		if !math.IsNaN(v) {
			sum += math.Min(ch.Time[i]-last, holeLimitS)
			last = ch.Time[i]
		}
	}
	return sum
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
