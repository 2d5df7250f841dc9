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
// What is what, also where two things happen at once:
//
//   - A turn lasts from the wheel (or throttle) being moved until she is on the new
//     course, whatever her speed does meanwhile; 15° is the least. Gathering way
//     while she turns off after a drift is a turn.
//   - A speed-up lasts from the throttle being opened until her speed is steady,
//     with less than 15° of turning. After a turn, way gathered on the new course
//     is one only if she becomes faster than before the turn and by more than in
//     it; what is less is the end of the turn, and other.
//   - A stop lasts from the throttle being closed until her way is off: what she
//     goes through the water by, besides her leeway, is under 0.1 kn. Slowing down
//     to a lower speed is other.
//   - Manoeuvring is other: in a harbour, from the berth until she is first steady
//     on a course and from the last steady course until she is fast again, whatever
//     she turns, gathers or stops in between; so is paying out an anchor's line.
//   - Idle is lying fast or riding to an anchor, also where she sheers about. What
//     tells it from a drift in light air is the place: a boat made fast stays within
//     what the receiver's position wanders, one adrift gets farther the longer it
//     lasts, and yaws.
//
// It refuses to bridge a hole of more than five seconds in the velocity, to
// call less than 30 s a run or less than 60 s a drift, and to hide thin
// evidence: where a drift and slow driving cannot be told apart it warns.
// Segments that a person marked always win.
package segment
