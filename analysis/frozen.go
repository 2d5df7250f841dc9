package analysis

import (
	"fmt"
	"math"
	"slices"
	"time"

	"ahull/analysis/geo"
	"ahull/analysis/stat"
	"ahull/nmea"
	"ahull/nmea/parallel"
)

// A sensor that hangs often goes on sending its last value. Under way none of
// these stands still to the last digit for long; how long is our own choice, s.
// What a steady engine gives may, so rpm and fuel are only held to change when
// the boat's speed does.
var stillTime = map[nmea.Quantity]float64{
	nmea.Latitude: 20, nmea.SpeedOverGround: 60, nmea.CourseOverGround: 60,
	nmea.TrueHeading: 60, nmea.MagneticHeading: 60, nmea.CompassHeading: 60,
	nmea.ApparentWindAngle: 60, nmea.ApparentWindSpeed: 60, nmea.TheoreticalWindAngle: 60, nmea.TheoreticalWindSpeed: 60,
	nmea.SpeedThroughWater: 60, nmea.Roll: 120, nmea.Pitch: 120, nmea.Acceleration: 120,
	nmea.EngineSpeed: 120, nmea.ShaftSpeed: 120, nmea.FuelFlow: 120,
}

const (
	stillSamples = 10  // fewer alike samples are no sign of anything
	underWayMS   = 1.5 // the boat is under way, m/s
)

// spell is a stretch in which a channel gives one value, Unix seconds.
type spell struct{ start, end, value float64 }

// frozen finds the spells in which a channel stands still while the boat, by
// the other channels, does what should move it.
func frozen(ch nmea.Channel, log *nmea.Log) []spell {
	least, watched := stillTime[ch.Quantity]
	if !watched {
		return nil
	}
	var out []spell
	for i := 0; i < len(ch.Value); {
		j := i
		for j+1 < len(ch.Value) && ch.Value[j+1] == ch.Value[i] && ch.Time[j+1]-ch.Time[j] < least {
			j++
		}
		s := spell{ch.Time[i], ch.Time[j], ch.Value[i]}
		if j-i >= stillSamples && s.end-s.start >= least {
			if shouldMove(ch, s, log) {
				out = append(out, s)
			} else {
				out = append(out, frozenParts(ch, s, least, log)...)
			}
		}
		i = j + 1
	}
	return out
}

// frozenParts are the stretches of a long spell, in steps of least, in which the
// boat does what should move the channel: a sensor may hang all day, drifts and
// all. What an engine gives is judged by the spell as a whole.
func frozenParts(ch nmea.Channel, s spell, least float64, log *nmea.Log) []spell {
	switch ch.Quantity {
	case nmea.EngineSpeed, nmea.ShaftSpeed, nmea.FuelFlow:
		return nil
	}
	var out []spell
	for t := s.start; t+least <= s.end; t += least {
		w := spell{t, t + least, s.value}
		if s.end-w.end < least {
			w.end = s.end
		}
		if !shouldMove(ch, w, log) {
			continue
		}
		if n := len(out); n > 0 && out[n-1].end == w.start {
			out[n-1].end = w.end
		} else {
			out = append(out, w)
		}
	}
	return out
}

func shouldMove(ch nmea.Channel, s spell, log *nmea.Log) bool {
	switch ch.Quantity {
	case nmea.EngineSpeed, nmea.ShaftSpeed, nmea.FuelFlow:
		return s.value > 0 && speedChanges(s, log)
	}
	return slices.ContainsFunc(log.Channels, func(other nmea.Channel) bool {
		return other.Source != ch.Source && underWay(other, s, log) || other.Quantity != ch.Quantity && underWay(other, s, log)
	})
}

// underWay tells whether a channel of position or speed shows the boat under
// way all through a spell.
func underWay(ch nmea.Channel, s spell, log *nmea.Log) bool {
	switch ch.Quantity {
	case nmea.SpeedOverGround:
		v := between(ch, s)
		return len(v) > stillSamples/2 && slices.Min(v) > underWayMS
	case nmea.Latitude:
		return displacement(ch, s, log) > underWayMS*(s.end-s.start)
	}
	return false
}

// speedChanges tells whether the speed over ground changes in a spell by more
// than a third of itself.
func speedChanges(s spell, log *nmea.Log) bool {
	for _, ch := range log.Channels {
		if v := between(ch, s); ch.Quantity == nmea.SpeedOverGround && len(v) > stillSamples {
			slices.Sort(v)
			low, high := stat.Quantile(v, 0.1), stat.Quantile(v, 0.9)
			return high-low > math.Max(underWayMS, high/3)
		}
	}
	return false
}

func between(ch nmea.Channel, s spell) []float64 {
	i, _ := slices.BinarySearch(ch.Time, s.start)
	j, _ := slices.BinarySearch(ch.Time, s.end)
	return stat.Finite(ch.Value[i:j])
}

// displacement is how far a receiver's positions went in a spell, m.
func displacement(lat nmea.Channel, s spell, log *nmea.Log) float64 {
	i := slices.IndexFunc(log.Channels, func(ch nmea.Channel) bool {
		return ch.Quantity == nmea.Longitude && ch.Source == lat.Source && len(ch.Time) == len(lat.Time)
	})
	a, _ := slices.BinarySearch(lat.Time, s.start)
	b, _ := slices.BinarySearch(lat.Time, s.end)
	if i < 0 || b >= len(lat.Time) || a >= b {
		return 0
	}
	lon := log.Channels[i]
	return geo.Distance(geo.Point{Lat: lat.Value[a], Lon: lon.Value[a]}, geo.Point{Lat: lat.Value[b], Lon: lon.Value[b]})
}

// frozenWarnings names the sensors that stood still, those of used alone where
// it is given.
func frozenWarnings(log *nmea.Log, used map[nmea.Source]bool) []nmea.Warning {
	found := make([][]spell, len(log.Channels))
	parallel.Each(len(found), func(i int) {
		if ch := log.Channels[i]; used == nil || used[ch.Source] {
			found[i] = frozen(ch, log)
		}
	})
	var out []nmea.Warning
	for i, spells := range found {
		if len(spells) == 0 {
			continue
		}
		ch := log.Channels[i]
		longest := slices.MaxFunc(spells, func(a, b spell) int {
			return int(math.Copysign(1, (a.end-a.start)-(b.end-b.start)))
		})
		times := "once"
		if n := len(spells); n > 1 {
			times = fmt.Sprintf("%d times, the longest", n)
		}
		out = append(out, nmea.Warning{Code: "frozen-sensor", Text: fmt.Sprintf(
			"%s: the %s stands still while the boat does not, %s for %s from %s UTC: look at the sensor and its wire, and leave the time out with [[exclude]] if a result hangs on it",
			ch.Source, ch.Quantity, times, time.Duration(math.Round(longest.end-longest.start))*time.Second, utc(longest.start).Format("15:04:05"))})
	}
	return out
}
