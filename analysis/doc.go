// Package analysis turns a boat's log into what a builder wants to know: how
// fast and how thirsty she is, how she behaves in a sea, how she drifts, each
// with a ± that means something.
//
// [Analyze] does the whole work of the level, in this order, each step a
// package of its own:
//
//  1. track: the log's channels on one time base, heading true, wind at 10 m
//  2. segment: runs, drifts, turns, speed-ups, stops, found in the track
//  3. runs: each run's means over the ground
//  4. current: the water's motion over the day, from all runs together
//  5. speed: speed, fuel and trim against engine speed, current taken out
//  6. seaway: course keeping and motion by the direction of the sea
//  7. vane: how far the wind sensor is off, as the runs on their headings tell
//  8. drift: leeway, how she lies, how leeway follows the wind; roll: her natural
//     period of roll, by all drifts
//  9. handling: turns, speed-ups, stops
//
// [Results] holds all of it and is what a report is made from. The package does
// no I/O. It withholds a number rather than guess it, and says in a warning
// which sensor would give it.
package analysis

// Version is the program's version, written into every result.
const Version = "0.1.0"
