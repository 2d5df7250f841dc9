package seaway

import "ahull/analysis/current"

// HeadingRecord is how many seconds of heading the spread rests on, and its
// degrees of freedom.
func (r Run) HeadingRecord() (seconds, df float64) {
	return r.seconds, r.motion[heading].DF
}

// MiddleOf are the runs at run i's engine speed whose weighted speeds make the
// one that its own is set against; nil where no loss can be told.
func MiddleOf(all []Run, i int, est *current.Estimate) (ids []string, weights []float64) {
	like := alike(all, i, est)
	if weights = middleWeights(all, like); weights == nil {
		return nil, nil
	}
	for _, j := range like {
		ids = append(ids, all[j].ID)
	}
	return ids, weights
}
