// Package track puts a log's channels on one time base: it chooses a source for
// each quantity, corrects the heading (deviation, variation) and the wind
// (boat's own motion, height), and averages to one sample a second.
//
// It decides which sensor to believe and says why ([SourceChoice]); it never
// carries a value across a hole longer than three sample periods or 5 s, and
// leaves NaN where nothing was measured. What must keep its spread (heading,
// roll, pitch) is kept at the sensor's own rate in [Native].
package track
