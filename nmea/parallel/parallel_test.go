package parallel

import "testing"

// TestEach: every piece is done once.
func TestEach(t *testing.T) {
	for _, n := range []int{0, 1, 2, 1000} {
		done := make([]int, n)
		Each(n, func(i int) { done[i]++ })
		for i, times := range done {
			if times != 1 {
				t.Fatalf("piece %d of %d done %d times", i, n, times)
			}
		}
	}
}
