// Package roll finds the natural period of roll from how a boat rolls while she
// lies with the engine stopped, and what follows from it for her stability.
//
// Waves force a roll at their own period; the hull answers best at hers. So the
// spectrum is fitted as that of a damped swing kept going by chance, beside a
// second one at the waves' period where the data ask for it, over a floor of
// sensor noise (Whittle's likelihood). [Natural] does so for one record, [Pool]
// takes the records of a day together, [GM] is the IMO rolling-period test.
//
// It refuses to name a period where she rolls at the waves' own, where two
// swings of like strength can't be told apart, and where the roll is sampled
// too slowly; and a metacentric height where the day's records disagree.
package roll
