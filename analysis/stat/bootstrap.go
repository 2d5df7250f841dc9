package stat

import "math/rand/v2"

// BlockBootstrap calls f for reps resamples of the indices 0…n−1, drawn in
// whole blocks of neighbours so that correlation within a block is kept
// (moving-block bootstrap, Künsch 1989), and returns what f gave. The same seed
// gives the same answer. f must not keep idx. The block should be a few times
// longer than the correlation and much shorter than the series.
func BlockBootstrap(n, block, reps int, seed uint64, f func(idx []int) float64) []float64 {
	if n < 1 || reps < 1 {
		return nil
	}
	block = min(max(block, 1), n)
	rng := rand.New(rand.NewPCG(seed, 0x9e3779b97f4a7c15))
	idx := make([]int, n)
	out := make([]float64, reps)
	for r := range out {
		for i := 0; i < n; i += block {
			start := rng.IntN(n - block + 1)
			for j := range min(block, n-i) {
				idx[i+j] = start + j
			}
		}
		out[r] = f(idx)
	}
	return out
}
