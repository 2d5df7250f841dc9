// Package comparison says whether two variants of a boat differ, from what was
// measured on several days of each.
//
// It decides what counts as evidence. A day has its own load, trim, growth, sea
// and people, and whatever it does to a measure it does to all drifts of that
// day: so the unit of evidence is the day, and twenty drifts on one day of each
// variant can't tell a change of the hull from a change of the day. The model is
// a straight line with a random effect of the day (fit.go), the test is Student's
// t with the days as its degrees of freedom, seconded by a permutation of the
// days (permute.go); several questions asked at once are corrected for, the more important ones less (holm.go),
// and what the data could have shown is said beside what they did show
// (power.go).
//
// It refuses a verdict where a variant has fewer than two days, or where the
// variants never met the same condition: it does not extrapolate.
//
// The package is pure arithmetic and knows nothing of boats.
package comparison
