// Package motion describes how a boat swings about her own slow trend: yaw,
// roll or pitch at the sensor's own rate.
//
// It decides what is swing and what is trend (a straight line, and in a longer
// record what changes more slowly than the caller's limit), takes the sensor's
// white noise out of the spread, and says how many independent values the spread
// rests on. It refuses a figure from less than 20 s, or a period that the
// sampling is too slow to show.
package motion
