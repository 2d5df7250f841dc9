// Package segment decides what the boat was doing in each second of a trial:
// run, drift, turn, speed-up, stop, idle or other.
//
// Two passes. The first takes what is surely driven (too fast for any drift)
// and estimates a rough current from it; the second works with velocities
// through the water. The track is cut by penalised change-point search (after
// Killick, Fearnhead & Eckley 2012) in which a piece is explained as a steady
// run, as a drift, as a boat held in place, or not at all; each explanation has
// a cost made from the log's own noise and from how well the piece's motion
// suits the heading, the wind and the engine speed. What no explanation suits
// is a change from one state to another, and is named by what changes. Edges
// are then moved to where the change begins and ends.
//
// It refuses to bridge a hole of more than five seconds in the velocity, to
// call less than 30 s a run or less than 60 s a drift, and to hide thin
// evidence: where a drift and slow driving cannot be told apart it warns.
// Segments that a person marked always win.
package segment
