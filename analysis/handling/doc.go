// Package handling measures turns, speed-ups and stops from their segments,
// through the water where the current is known and over ground where not (each
// says which).
//
// It gives a turn's advance and transfer only from 90° of heading change and its
// tactical diameter only from 180°, as IMO resolution MSC.137(76) defines them.
// The rudder order is not in a log: a turn counts from where the heading leaves
// the approach, so the way made before she answers is not in the figures.
package handling
