package stat

import (
	"math/rand/v2"
	"testing"
)

func BenchmarkMeanCI95(b *testing.B) {
	x := ar1(0.9)(rand.New(rand.NewPCG(1, 1)), 1200)
	for b.Loop() {
		MeanCI95(x)
	}
}

func BenchmarkSDCI95(b *testing.B) {
	x := ar1(0.9)(rand.New(rand.NewPCG(1, 1)), 1200)
	for b.Loop() {
		SDCI95(x)
	}
}
