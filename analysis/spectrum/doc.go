// Package spectrum says at which periods a boat moves: the power spectrum of an
// evenly sampled series, its dominant period, and the ride weighted as
// ISO 2631-1 has it. It names no period where no peak stands out, and no
// weighted figure from samples too far apart to know it.
package spectrum
