package variation

import (
	"fmt"
	"math"
	"sync"
	"time"

	"github.com/proway2/go-igrf/igrf"
)

const (
	modelName = "IGRF-14"
	firstYear = 1900
	pastYear  = 2030 // the model ends there
	// blackout is the horizontal field in nT below which the World Magnetic
	// Model declares compasses unusable (from memory).
	blackout = 2000
)

var field = sync.OnceValue(igrf.New)

// Model gives the variation in degrees, east positive, −180 to 180, at sea
// level at a latitude and longitude (degrees WGS84, north and east positive;
// longitude may run to 360), with the model's name. The years are 1900 to
// 2029.
func Model(lat, lon float64, at time.Time) (deg float64, name string, err error) {
	if !(math.Abs(lat) <= 90) || !(math.Abs(lon) <= 360) {
		return math.NaN(), "", fmt.Errorf("no place on the earth: latitude %g, longitude %g", lat, lon)
	}
	year := decimalYear(at)
	if y := at.UTC().Year(); y < firstYear || y >= pastYear {
		return math.NaN(), "", fmt.Errorf("%s knows the years %d to %d, not %s; give the variation in the log or the trial file's heading_offset",
			modelName, firstYear, pastYear-1, at.UTC().Format(time.DateOnly))
	}
	r, err := field().IGRF(lat, wrap180(lon), 0, year)
	if err != nil {
		return math.NaN(), "", fmt.Errorf("%s: %w", modelName, err)
	}
	if r.HorizontalIntensity < blackout {
		return math.NaN(), "", fmt.Errorf("too near a magnetic pole for a compass: latitude %.1f, longitude %.1f", lat, lon)
	}
	return wrap180(r.Declination), fmt.Sprintf("%s, %.1f", modelName, year), nil
}

// decimalYear is the year with the share of it that has passed, UTC.
func decimalYear(at time.Time) float64 {
	at = at.UTC()
	start := time.Date(at.Year(), 1, 1, 0, 0, 0, 0, time.UTC)
	next := time.Date(at.Year()+1, 1, 1, 0, 0, 0, 0, time.UTC)
	year := float64(at.Year()) + float64(at.Sub(start))/float64(next.Sub(start))
	return min(year, math.Nextafter(float64(at.Year()+1), 0)) // the last moments round up to the next year
}

func wrap180(deg float64) float64 { return math.Remainder(deg, 360) }
