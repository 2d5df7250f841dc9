// Package variation gives the magnetic variation of a place and day from the
// International Geomagnetic Reference Field, for logs and trial files that
// don't say it themselves.
//
// It refuses dates outside the model's years, places that aren't on the earth,
// and the surroundings of the magnetic poles, where a compass can't be used.
package variation
