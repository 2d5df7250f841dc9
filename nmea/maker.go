package nmea

// makers of the sentences that a maker has for itself, by whole address.
var makers = map[string]reader{}
