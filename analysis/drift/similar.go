package drift

// Similar is a published leeway of a craft, for scale: speed = Slope·W10 +
// Offset, to either side of downwind by up to Divergence degrees.
type Similar struct {
	Craft      string
	SlopePct   float64
	OffsetKn   float64
	Divergence float64
	Source     string
}

const leewayTable = "National Search and Rescue Manual (Australia), Table D-5:1, after Allen & Plourde 1999"

// SimilarCraft lists published craft of the kind this program is for.
func SimilarCraft() []Similar {
	return []Similar{
		{"sport boat, cuddy cabin, modified V-hull", 6.9, -0.08, 19, leewayTable},
		{"sport fisher, centre console, open cockpit", 6.0, -0.09, 22, leewayTable},
		{"skiff, V-hull", 3.0, 0.08, 15, leewayTable},
		{"skiff, flat bottom", 3.4, 0.04, 22, leewayTable},
		{"fishing vessel, general", 3.7, 0.02, 48, leewayTable},
	}
}
