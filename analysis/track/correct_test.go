package track

import (
	"testing"

	"ahull/analysis/stat"
	"ahull/analysis/trial"
)

// A compass that is 4° out turns heading and wind alike; taking the 4° out must
// give what a right compass gives.
func TestCorrectUndoesACompassError(t *testing.T) {
	tri := trial.Bare()
	tri.Instruments.AnemometerHeight = 3
	want, err := Build(steady(60), tri)
	if err != nil {
		t.Fatal(err)
	}
	tri.Instruments.HeadingOffset = -4
	wrong, err := Build(steady(60), tri)
	if err != nil {
		t.Fatal(err)
	}
	got := wrong.Correct(func(float64) (float64, float64) { return 4, 0.5 })
	for i := range got.Len() - 2 {
		near(t, "heading", stat.Wrap180(got.Heading[i]-want.Heading[i]), 0, 1e-9)
		near(t, "wind east", got.WindEast[i], want.WindEast[i], 1e-9)
		near(t, "wind north", got.WindNorth[i], want.WindNorth[i], 1e-9)
	}
	near(t, "sigma", got.HeadingSigmaDeg, 0.5, 1e-12)
	near(t, "the given track's heading", wrong.Heading[3], 86, 1e-9)
}
