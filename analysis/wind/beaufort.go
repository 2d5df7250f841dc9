package wind

import "math"

// beaufort has the lower limit of each force, m/s at 10 m (WMO code table 1100).
var beaufort = [13]struct {
	fromMS float64
	name   string
}{
	{0, "calm"}, {0.3, "light air"}, {1.6, "light breeze"}, {3.4, "gentle breeze"},
	{5.5, "moderate breeze"}, {8.0, "fresh breeze"}, {10.8, "strong breeze"},
	{13.9, "near gale"}, {17.2, "gale"}, {20.8, "strong gale"}, {24.5, "storm"},
	{28.5, "violent storm"}, {32.7, "hurricane"},
}

// Beaufort is the force 0…12 and its name for a wind speed at 10 m in m/s,
// rounded to a tenth as the scale's limits are; −1 and "" for no valid speed.
func Beaufort(speedMS float64) (force int, name string) {
	if !speed(speedMS) {
		return -1, ""
	}
	v := math.Round(speedMS*10) / 10
	for f := len(beaufort) - 1; f >= 0; f-- {
		if v >= beaufort[f].fromMS {
			return f, beaufort[f].name
		}
	}
	return 0, beaufort[0].name
}
