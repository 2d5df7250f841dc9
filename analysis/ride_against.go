package analysis

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"time"
)

// needed are the members of a results file without which it is none.
var needed = []string{"trial", "log", "conditions", "segments", "current", "runs", "speed_curve", "economy", "sea_behaviour", "drifts", "leeway_fit", "speed_ups"}

// ReadResults reads a results.json. A number that an older file lacks is not
// known, and what a newer one has besides is left alone.
func ReadResults(data []byte) (*Results, error) {
	var top map[string]json.RawMessage
	if err := json.Unmarshal(data, &top); err != nil {
		return nil, fmt.Errorf("is not JSON (%s)", strings.TrimPrefix(err.Error(), "json: "))
	}
	var schema string
	if json.Unmarshal(top["schema"], &schema) != nil || schema != Schema {
		found := "no schema"
		if schema != "" {
			found = fmt.Sprintf("schema %q", schema)
		}
		return nil, errors.New(found)
	}
	for _, name := range needed {
		if v, ok := top[name]; !ok || bytes.Equal(v, []byte("null")) {
			return nil, fmt.Errorf("no %q in it", name)
		}
	}
	var r Results
	var given map[string]any
	if err := json.Unmarshal(data, &given); err != nil {
		return nil, err
	}
	if oneForAll(given) {
		if renewed, err := json.Marshal(given); err == nil {
			data = renewed
		}
	}
	if err := json.Unmarshal(data, &r); err != nil {
		return nil, fmt.Errorf("is not what was expected (%s)", strings.TrimPrefix(err.Error(), "json: "))
	}
	forgetAbsent(reflect.ValueOf(&r).Elem(), given)
	c := &r.Conditions // an older file says it in words only
	c.WindAsMeasured = c.WindAsMeasured || strings.HasPrefix(c.WindHeightNote, "as measured")
	return &r, nil
}

// oneForAll gives the times of a speed-up each a ± where the file is of the days when
// they had one for all, and tells whether it did.
func oneForAll(given map[string]any) bool {
	renewed := false
	ups, _ := given["speed_ups"].([]any)
	for _, up := range ups {
		u, _ := up.(map[string]any)
		half, one := u["times_ci95_s"].(float64)
		times, _ := u["times_s"].(map[string]any)
		if !one {
			continue
		}
		each := map[string]any{}
		for mark := range times {
			each[mark] = half
		}
		u["times_ci95_s"], renewed = each, true
	}
	return renewed
}

// forgetAbsent makes numbers that the file doesn't have not known, for zero is a
// number.
func forgetAbsent(v reflect.Value, given any) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			forgetAbsent(v.Elem(), given)
		}
	case reflect.Slice:
		list, _ := given.([]any)
		for i := range min(v.Len(), len(list)) {
			forgetAbsent(v.Index(i), list[i])
		}
	case reflect.Float64:
		if given == nil && v.Type() == reflect.TypeFor[Number]() {
			v.SetFloat(math.NaN())
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			return
		}
		members, _ := given.(map[string]any)
		for i := range v.NumField() {
			name, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("json"), ",")
			forgetAbsent(v.Field(i), members[name])
		}
	}
}

// setBeside puts the model's own figures beside those of the ride: the same
// measure under the nearest like condition, or none.
func (s *RideSheet) setBeside(model *Results, ride Trial) {
	t := model.Trial
	s.Against = &RideTrial{Model: t.Model, Variant: t.Variant, Hull: t.Hull, Date: rideDate(model),
		Crew: t.Crew, FuelL: t.FuelL, Wind10Kn: model.Conditions.Wind10Kn, WaveM: model.Conditions.WaveHeightM,
		WindAsMeasured: model.Conditions.WindAsMeasured, SameTime: sameTime(model.Trial, ride)}
	all, _ := rideMeasures(model)
	for i := range s.Measures {
		m := &s.Measures[i]
		switch m.Name {
		case RideHeld:
			m.Model = curveAt(model, m.Ride.RPM)
		case RideHeading, RidePitch, RideRoll:
			m.Model = bandBeside(model, *m)
		case RideDriftShare: // of winds at two heights no shares stand side by side
			if model.Conditions.WindAsMeasured == s.WindAsMeasured {
				m.Model = likeMeasure(all, *m)
			}
		case RideEconomy:
			if s.has(RideBest) {
				m.Model = likeMeasure(all, *m)
			}
		default:
			m.Model = likeMeasure(all, *m)
		}
	}
}

// sameTime tells that one trial was under way while the other was.
func sameTime(a, b Trial) bool { return a.Start.Before(b.End) && b.Start.Before(a.End) }

func (s *RideSheet) has(name string) bool {
	for _, m := range s.Measures {
		if m.Name == name {
			return true
		}
	}
	return false
}

// sameStart is how far the speeds may lie apart, kn, from which speed-ups began that
// stand beside each other.
const sameStart = 2

// likeMeasure is the model's measure of the same name and kind.
func likeMeasure(all []RideMeasure, m RideMeasure) *RideValue {
	for _, o := range all {
		sameMark := m.Name != RideSpeedUp && m.Name != RidePlane ||
			(m.Name == RidePlane || o.Ride.ToKn == m.Ride.ToKn) && math.Abs(float64(o.Ride.FromKn-m.Ride.FromKn)) <= sameStart
		sameSea := m.Name != RideJolts || o.Ride.Sea == m.Ride.Sea && near(o.Ride.SpeedKn, m.Ride.SpeedKn)
		if o.Name == m.Name && o.Ride.Group == m.Ride.Group && o.Ride.OverGround == m.Ride.OverGround && sameMark && sameSea {
			return &o.Ride
		}
	}
	return nil
}

func near(a, b Number) bool {
	return math.Abs(float64(a-b)) <= nearSpeed*math.Abs(float64(b))
}

// bandBeside is the model's spread in the same sea at the speed nearest to the
// ride's.
func bandBeside(model *Results, m RideMeasure) *RideValue {
	for _, b := range bandsNear(model.SeaBehaviour, float64(m.Ride.SpeedKn)) {
		if b.Sea != m.Ride.Sea || b.Group != m.Ride.Group {
			continue
		}
		v := bandValue(b, b.HeadingSDDeg, b.HeadingSDCI)
		switch m.Name {
		case RidePitch:
			v = bandValue(b, b.PitchSDDeg, b.PitchSDCI)
		case RideRoll:
			v = bandValue(b, b.RollSDDeg, b.RollSDCI)
		}
		if v.Value.Known() {
			return &v
		}
	}
	return nil
}

// curveAt reads the model's speed off its curve at an engine speed, never beyond
// its ends nor where it is broken.
func curveAt(model *Results, rpm Number) *RideValue {
	curve := model.Economy.Curve
	for i := range max(0, len(curve)-1) {
		a, b := curve[i], curve[i+1]
		if !(a.RPM <= rpm && rpm <= b.RPM && a.RPM < b.RPM && a.SpeedKn.Known() && b.SpeedKn.Known()) {
			continue
		}
		f := (rpm - a.RPM) / (b.RPM - a.RPM)
		v := rideValue(a.SpeedKn+f*(b.SpeedKn-a.SpeedKn), max(a.CI95Kn, b.CI95Kn))
		v.RPM, v.BothMeans = rpm, model.Economy.MeanOfMeans
		return &v
	}
	return nil
}
