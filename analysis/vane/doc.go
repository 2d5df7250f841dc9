// Package vane checks the wind sensor against itself: how far its angle is off
// and how much of the wind's speed it reads.
//
// Over one day the wind over the ground is one wind that changes slowly and
// gusts, on whatever heading she is driven. A vane that is mounted askew makes
// another wind of it on each heading, the faster she goes the more. [Look] finds
// the angle and the scale with which the runs and drifts agree best.
//
// What it finds is how the sensor reads under way, an upwash over the deckhouse
// included: the two can't be told apart. At rest a vane that is askew looks like
// another wind, so drifts alone tell nothing; but a boat lies alike on both
// tacks, and [FromTacks] reads the angle from that. Nothing is corrected here:
// who finds it in doubt decides.
package vane
