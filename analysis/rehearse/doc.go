// Package rehearse makes sea trials up: a boat, a wind, a sea and a current
// that are fully known, driven through a plan at ten steps a second, and the
// log that her instruments would have written. Because the truth is known, it
// is what every estimate is tested against, and what a plan is rehearsed with
// before fuel is burnt.
//
// It decides what the physics is (kept simple: one equation for way, first
// order lags, correlated noise) and what counts as true (see Truth). It refuses
// to be a hull predictor: the numbers of a Boat are given, not computed.
// The same Scenario gives the same bytes, always.
//
//	s := rehearse.Default(1)               // a boat, a day, a place, usual sensors
//	s.Wind.SpeedKn, s.Current.SpeedKn = 15, 1.2
//	s.Plan = rehearse.Plan(
//		rehearse.Alongside(240), rehearse.Harbour(180),
//		rehearse.Pairs(80, []float64{0, 90}, 650, 2000, 4000), // into/with and across the wind
//		rehearse.Drifts(3, 600, ""), rehearse.Circle(3500, 360, 8),
//	)
//	v := rehearse.Simulate(s)
//	err := v.WriteLog(w)                   // NMEA 0183
//	tr := v.Track()                        // the same sensors on one time base
//	_ = v.Truth.Drifts[0].DownwindMS       // what must be found
package rehearse
