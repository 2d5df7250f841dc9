package drift

import (
	"math"

	"ahull/analysis/motion"
	"ahull/analysis/roll"
	"ahull/analysis/stat"
	"ahull/analysis/track"
	"ahull/analysis/trial"
	"ahull/analysis/wind"
)

const (
	slowMostS   = 180.0 // a drifting boat yaws within a minute; what takes longer follows the wind
	slowLeastS  = 30.0
	slowPeriods = 1.6
	yawMostS    = 60.0 // the longest swing of her bow
	rollMostS   = 15.0 // and of her roll
)

// Lies is how she lies and moves while she drifts, degrees and seconds.
type Lies struct {
	WindOnBow, WindOnBowCI95 float64 // −180…180, the wind from starboard positive
	WindOnBowSD              float64 // circular
	HeadingSD, HeadingSDCI95 float64 // about the slow trend
	YawPeriod                float64
	RollSD, RollSDCI95       float64
	RollPeriod               roll.Period // natural; the day's drifts are taken together by roll.Pool

	yawed, rolled motion.Motion // what the spreads rest on
	bow           bowRecord
}

// bowRecord is what the wind's angle on the bow was made from.
type bowRecord struct {
	from, to int     // samples of the track: the longest tack
	n        int     // that had heading and wind
	se, df   float64 // degrees, of the mean
	known    float64 // what the instruments are not known to, degrees, one standard deviation
}

// noise is what the day's sensors add of their own.
type noise struct{ heading, roll motion.Noise }

func (d *Drift) lies(tr *track.Track, tri *trial.Trial, n noise) {
	heading := yaw(tr.Native.Heading.Between(d.Start, d.End), n.heading)
	d.yawed, d.YawPeriod = heading, heading.Period
	rolled := tr.Native.Roll.Between(d.Start, d.End)
	d.rolled = motion.Angle(rolled, motion.Options{SlowS: slowMostS, SwingS: rollMostS, Noise: n.roll})
	waves := math.NaN()
	if tri != nil {
		waves = tri.Conditions.WavePeriod
	}
	d.RollPeriod = roll.Natural(rolled, waves)
}

// yaw describes the heading about its slow trend. What is slow depends on how
// she yaws: what takes clearly longer than her own period is her following the
// wind.
func yaw(heading track.Series, noise motion.Noise) motion.Motion {
	first := motion.Heading(heading, motion.Options{SlowS: slowMostS, SwingS: yawMostS, Noise: noise})
	if math.IsNaN(first.Period) {
		return first
	}
	slow := math.Max(slowLeastS, math.Min(slowMostS, slowPeriods*first.Period))
	return motion.Heading(heading, motion.Options{SlowS: slow, SwingS: yawMostS, Noise: noise})
}

// spreads gives the spreads of heading and roll, their degrees of freedom evened
// out over the day's drifts.
func spreads(ds []Drift) {
	var yaws, rolls []*motion.Motion
	for i := range ds {
		yaws, rolls = append(yaws, &ds[i].yawed), append(rolls, &ds[i].rolled)
	}
	motion.EvenFreedom(yaws)
	motion.EvenFreedom(rolls)
	for i := range ds {
		d := &ds[i]
		d.HeadingSD, d.HeadingSDCI95 = d.yawed.SD, d.yawed.SDCI95
		d.RollSD, d.RollSDCI95 = d.rolled.SD, d.rolled.SDCI95
	}
}

// windOnBow is where the wind comes from, seen from the bow. The heading's own
// error is in the wind's direction too (the vane turns with the boat) and falls
// out; the vane's mounting does not. Where she jibed it is that of the longest tack:
// a mean over both would be a way she never lay.
func (d *Drift) windOnBow(tr *track.Track) {
	from, to := d.longestTack()
	var angles []float64
	for i := from; i < to; i++ {
		w := wind.FromDeg(tr.WindEast[i], tr.WindNorth[i])
		if !math.IsNaN(w) && !math.IsNaN(tr.Heading[i]) {
			angles = append(angles, stat.Wrap360(w-tr.Heading[i]))
		}
	}
	d.WindOnBow, d.WindOnBowCI95, d.WindOnBowSD = math.NaN(), math.NaN(), math.NaN()
	about, _ := stat.CircularMean(angles)
	if len(angles) < int(minUsedS)/2 || math.IsNaN(about) {
		return
	}
	off := make([]float64, len(angles))
	for i, a := range angles {
		off[i] = stat.Wrap180(a - about)
	}
	se, df := slowMeanSE(off)
	known := d.vane
	if d.windSeen { // her following the real wind is no error of a mean that a person gave
		se, known = 0, math.Hypot(seenAngleSigmaDeg, tr.HeadingSigmaDeg)
	} else if !tr.WindOnBow {
		known = d.WindDirectionSE
	}
	d.bow = bowRecord{from, to, len(angles), se, df, known}
	d.WindOnBow = stat.Wrap180(about)
	d.WindOnBowCI95 = math.Min(180, half95(sq(se), df, sq(known)))
	d.WindOnBowSD = stat.CircularSD(angles)
}

// How much a boat's angle to the wind wanders is poorly seen in one drift. So the
// long-run variance (s times the variance of the mean) that a record shows is
// taken together with what such boats do, at the weight of so many degrees of
// freedom. Our own judgement.
const (
	usualLies   = 250.0 // degrees² s
	usualLiesDF = 5.0
)

// slowMeanSE is the standard error of the mean of a boat's angle to the wind, one
// sample a second, and its degrees of freedom. She turns after the wind, so
// what is slow in it is small, and what is fast is none of the mean's error: the
// long-run variance is taken from the slowest cosines alone, those of more than
// five minutes, at least two (equal-weighted cosine estimate: Müller 2004;
// Lazarus, Lewis, Stock & Watson 2018).
func slowMeanSE(x []float64) (se, df float64) {
	n := float64(len(x))
	terms := max(2, len(x)/150)
	sum := 0.0
	for j := 1; j <= terms; j++ {
		c := 0.0
		for i, v := range x {
			c += v * math.Cos(math.Pi*float64(j)*(float64(i)+0.5)/n)
		}
		sum += 2 / n * c * c
	}
	df = float64(terms) + usualLiesDF
	return math.Sqrt((sum + usualLiesDF*usualLies) / df / n), df
}

// longestTack is the samples of the longest stretch without a jibe.
func (d *Drift) longestTack() (from, to int) {
	if len(d.Tacks) == 0 {
		return d.From, d.To
	}
	longest := d.Tacks[0]
	for _, t := range d.Tacks {
		if t.To-t.From > longest.To-longest.From {
			longest = t
		}
	}
	return longest.From, longest.To
}
