// Package handling measures turns, speed-ups and stops from their segments,
// through the water where the current is known and over ground where not (each
// says which), with a ± for each figure.
//
// It gives a turn's advance and transfer at 90° of heading change and its tactical
// diameter at 180°, as IMO resolution MSC.137(76) defines them, but for where they
// begin: the order to the wheel is not in a log, so they count from where the
// heading begins to answer it, by the fit of a first-order response whose lag the
// turns of a day tell together; by how waves and helm swing her heading on the day's
// runs it is judged how surely. A stop counts from where the speed begins to fall
// until half a knot of way is left, a speed-up from where the throttle opens.
//
// Moments are told to tenths of a second, so velocity, heading and engine speed are
// put where they belong in time first: the receiver's lag is told by its positions
// (see track.Lag), the compass's damping and the printing of fixes are common values,
// and what each leaves open is a part of the ±.
//
// It refuses the lengths of a turn, and says why, where they are not the wheel's
// doing alone: from under 2 kn, without a straight and steady approach, with the
// throttle moved or the wheel eased before the angle is reached.
package handling
