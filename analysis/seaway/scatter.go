package seaway

import (
	"math"

	"ahull/analysis/motion"
)

// quantity is what swings.
type quantity int

const (
	heading quantity = iota
	roll
	pitch
	quantities
)

func figuresOf(rs []Run, q quantity) []figure {
	var out []figure
	for _, r := range rs {
		if m := r.motion[q]; m.SD > 0 && m.DF > 0 {
			out = append(out, figure{m.SD, 1 / (2 * m.DF)})
		}
	}
	return out
}

// evenFreedom evens out the degrees of freedom of the runs' spreads over the
// day.
func evenFreedom(rs []Run) {
	for q := range quantities {
		var ms []*motion.Motion
		for i := range rs {
			ms = append(ms, &rs[i].motion[q])
		}
		motion.EvenFreedom(ms)
	}
	for i := range rs {
		r := &rs[i]
		r.HeadingSDCI95, r.RollSDCI95, r.PitchSDCI95 = r.motion[heading].SDCI95, r.motion[roll].SDCI95, r.motion[pitch].SDCI95
	}
}

// figure is one run's spread of one quantity: its standard deviation and the
// variance of that one's logarithm.
type figure struct{ sd, v float64 }

// scatter is how far the spreads of like runs lie apart beyond what each run's
// own swings leave open (the sea's angle differs within a band, waves come in
// groups): a weight for each standard deviation, relative, from 0 up in steps.
// The bands of a day have few runs each, so all of them tell one scatter.
type scatter []float64

const (
	scatterStep  = 0.02
	scatterMost  = 0.6
	scatterPrior = 0.07 // what to expect before the day has told; our own choice
)

// dayScatter weighs each scatter by how well it explains the runs of each band
// about their mean (restricted likelihood) and by a half-normal prior.
func dayScatter(bands [][]figure) scatter {
	s := make(scatter, int(scatterMost/scatterStep)+1)
	best := math.Inf(-1)
	for k := range s {
		tau := scatterStep * float64(k)
		s[k] = -tau * tau / (2 * scatterPrior * scatterPrior)
		for _, b := range bands {
			s[k] += likelihood(b, tau)
		}
		best = math.Max(best, s[k])
	}
	sum := 0.0
	for k := range s {
		s[k] = math.Exp(s[k] - best)
		sum += s[k]
	}
	for k := range s {
		s[k] /= sum
	}
	return s
}

// likelihood is the logarithm of that of one band's runs, their mean unknown.
func likelihood(b []figure, tau float64) float64 {
	if len(b) < 2 {
		return 0
	}
	var logs, weight, mean, q float64
	for _, f := range b {
		w := 1 / (f.v + tau*tau)
		logs, weight, mean = logs+math.Log(w), weight+w, mean+w*math.Log(f.sd)
	}
	mean /= weight
	for _, f := range b {
		q += math.Pow(math.Log(f.sd)-mean, 2) / (f.v + tau*tau)
	}
	return (logs - math.Log(weight) - q) / 2
}

// pool is the standard deviation over the runs of a band (of the variances, the
// surer ones weighing more) and its degrees of freedom.
func (s scatter) pool(b []figure) (sd, df float64) {
	var v, sum, weight float64
	for k, share := range s {
		tau, all := scatterStep*float64(k), 0.0
		for _, f := range b {
			w := 1 / (f.v + tau*tau)
			all += w
			sum, weight = sum+share*w*f.sd*f.sd, weight+share*w
		}
		v += share / all
	}
	return math.Sqrt(sum / weight), 1 / (2 * v)
}
