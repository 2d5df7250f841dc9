package analysis

import (
	"math"
	"math/rand/v2"
	"testing"
)

// A beat that is only put unevenly in time has lost nothing; of one that has, the share
// lost is told.
func TestLostShareOfAnUnevenBeat(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	spaces := []float64{0.04, 0.04, 0.17, 0.15, 0.05, 0.15} // six in 0.6 s, as bytes have them
	var whole, even []float64
	at := 0.0
	for i := range 30000 {
		at += spaces[i%len(spaces)]
		whole = append(whole, at)
		if rnd.Float64() > 0.4 {
			even = append(even, float64(i)*0.1+0.002*rnd.Float64())
		}
	}
	if share := lostShare(whole); share != 0 {
		t.Errorf("%.2f of an uneven beat are said to be lost", share)
	}
	if share := lostShare(even); math.Abs(share-0.4) > 0.05 {
		t.Errorf("%.2f are said to be lost, 0.4 are", share)
	}
}
