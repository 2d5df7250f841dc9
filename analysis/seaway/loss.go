package seaway

import (
	"math"

	"ahull/analysis/current"
	"ahull/analysis/runs"
)

// number gives runs of like engine speed the same number: as the current's fit
// has grouped them, or by rpm.
func number(out []Run, rs []runs.Run, est *current.Estimate) {
	at := map[string]int{}
	for i := range out {
		at[out[i].ID], out[i].like = i, -1-i // alone
	}
	for g, ids := range est.Groups {
		for _, id := range ids {
			if i, ok := at[id]; ok {
				out[i].like = g
			}
		}
	}
	if len(est.Groups) > 0 {
		return
	}
	for g, idx := range runs.Like(rs) {
		for _, i := range idx {
			out[i].like = g
		}
	}
}

// speedLoss sets each run's speed against that of all runs at its engine speed,
// taken at the middle between into the sea and with it: the straight line of
// speed on the cosine of the sea's angle, at zero. No run of the day lies in
// calm water, so a loss into the sea is a loss against the mean of both ways.
func speedLoss(out []Run, est *current.Estimate) {
	for i := range out {
		out[i].SpeedLossPct, out[i].SpeedLossCI95 = math.NaN(), math.NaN()
		if like := alike(out, i, est); like != nil {
			out[i].lossAgainst(out, like, est)
		}
	}
}

// alike are the runs that run i's speed is set against, itself among them;
// nil where its own speed or sea is not known.
func alike(all []Run, i int, est *current.Estimate) []int {
	known := func(r Run) bool {
		_, ok := est.Speeds[r.ID]
		return ok && r.Sea != ""
	}
	if !known(all[i]) {
		return nil
	}
	var like []int
	for j, r := range all {
		if known(r) && r.like == all[i].like && r.Group == all[i].Group {
			like = append(like, j)
		}
	}
	return like
}

func (r *Run) lossAgainst(all []Run, like []int, est *current.Estimate) {
	w := middleWeights(all, like)
	if w == nil {
		return
	}
	ids, c := make([]string, len(like)), make([]float64, len(like))
	calm, quadrature := 0.0, 0.0
	for k, j := range like {
		ids[k], c[k] = all[j].ID, w[k]
		calm += w[k] * all[j].STW
		if all[j].ID == r.ID {
			c[k]--
		}
		quadrature += math.Pow(c[k]*est.Speeds[all[j].ID].CI95, 2)
	}
	if !(calm > 0) {
		return
	}
	r.SpeedLossPct = 100 * (calm - r.STW) / calm
	_, sd := est.MeanSpeed(ids, c)
	half := 1.96 * sd
	if math.IsNaN(half) {
		half = math.Sqrt(quadrature)
	}
	r.SpeedLossCI95 = 100 * half / calm
}

// middleWeights are the weights of runs whose weighted sum is the line of speed
// on cos(sea angle) at zero; nil where there is only one run or where all lie so
// much to one side that the middle would be a guess.
func middleWeights(all []Run, like []int) []float64 {
	n := float64(len(like))
	if n < 2 {
		return nil
	}
	mean, sxx := 0.0, 0.0
	cos := make([]float64, len(like))
	for k, j := range like {
		cos[k] = math.Cos(all[j].SeaAngle * math.Pi / 180)
		mean += cos[k] / n
	}
	for _, c := range cos {
		sxx += (c - mean) * (c - mean)
	}
	w := make([]float64, len(like))
	if sxx < 0.1 { // all across the sea, or all on one course
		if math.Abs(mean) > 0.3 {
			return nil
		}
		for k := range w {
			w[k] = 1 / n
		}
		return w
	}
	if mean*mean/sxx > 0.5 {
		return nil
	}
	for k, c := range cos {
		w[k] = 1/n - mean*(c-mean)/sxx
	}
	return w
}
