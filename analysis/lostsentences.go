package analysis

import (
	"fmt"
	"math"
	"slices"

	"ahull/analysis/stat"
	"ahull/nmea"
)

const (
	lostMuch    = 0.15  // of the sentences: worth a word
	lostDouble  = 0.025 // of the spaces are of three beats or more, where so many are lost by chance; a beat that is uneven has none
	lostLooksAt = 20000 // spaces of a long log
	lostWindow  = 20.0  // beats, over which sentences are counted
)

// lostShare is the share of a sensor's sentences that are missing between those that
// came, 0 where it can't be told from an uneven beat. The beat is the lower quartile of the
// spaces, so that of a sensor that loses three of four nothing is said. Lines without a
// time of their own are spread between fixes, and show no space where fixes come more
// seldom than they do.
func lostShare(times []float64) float64 {
	stride := 1 + len(times)/lostLooksAt
	var spaces []float64
	for i := 1; i < len(times); i += stride {
		if dt := times[i] - times[i-1]; dt > 0 && dt < silentLeastS {
			spaces = append(spaces, dt)
		}
	}
	if len(spaces) < 100 {
		return 0
	}
	slices.Sort(spaces)
	beat := stat.Quantile(spaces, 0.25)
	beats, wide := 0.0, 0.0
	for _, dt := range spaces {
		beats += math.Max(1, math.Round(dt/beat))
		if dt >= 2.5*beat {
			wide++
		}
	}
	n := float64(len(spaces))
	if share := 1 - n/beats; share >= lostMuch && wide >= lostDouble*n && unevenness(times, lostWindow*beat) >= lostMuch/2 {
		return share
	}
	return 0
}

// unevenness is the variance over the mean of how many sentences come in windows of so
// many seconds without a silence: the share lost where they are lost by chance, more
// where in bursts, and next to nothing where a beat is only put unevenly in time.
func unevenness(times []float64, window float64) float64 {
	var counts []float64
	from, n := math.NaN(), 0.0
	for i, t := range times {
		switch {
		case i == 0 || t-times[i-1] >= silentLeastS:
			from, n = t, 0
		case t >= from+window:
			counts = append(counts, n)
			from, n = from+window, 0
		}
		n++
	}
	if len(counts) < 10 {
		return 0
	}
	mean, sd := stat.MeanSD(counts)
	return sd * sd / mean
}

// lostWarning says which sensors lose many of their sentences, in one warning.
func lostWarning(heard []heard) []nmea.Warning {
	var of []string
	for _, h := range heard {
		if h.lost == 0 {
			continue
		}
		text := fmt.Sprintf("%.0f of 100 of the %s (%s)", 100*h.lost, listened[h.of].sensor, h.source)
		if !slices.Contains(of, text) { // roll and pitch come together
			of = append(of, text)
		}
	}
	if len(of) == 0 {
		return nil
	}
	return []nmea.Warning{{Code: "sentences-lost", Text: "sentences are missing from the log: " + listOf(of) +
		"; what came is used, but look for a loose wire, a wrong baud rate, or more sensors than a wire carries"}}
}
