package analysis

import (
	"math"

	"ahull/analysis/drift"
	"ahull/analysis/runs"
	"ahull/analysis/seaway"
)

func (d *day) runResults() []Run {
	out := []Run{}
	bothWays := d.ranBothWays()
	for i, x := range d.runs {
		r := runMeans(x)
		v, ok := d.water.Speeds[x.ID]
		r.STWKn, r.STWCI95Kn = Unknown(), Unknown()
		if ok {
			r.STWKn, r.STWCI95Kn = kn(v.MS), kn(v.CI95)
		}
		r.OverGround, r.OneWay = !ok, !bothWays[x.ID]
		r.behave(d.seaway[i])
		out = append(out, r)
	}
	return out
}

func runMeans(x runs.Run) Run {
	return Run{
		ID: x.ID, Start: utc(x.Start), End: utc(x.End), Group: x.Group, RPM: Number(x.RPM),
		SOGKn: kn(x.SOG), COGDeg: Number(x.COG), HeadingDeg: Number(x.Heading), STWLogKn: kn(x.STWLog),
		Wind10Kn: kn(x.WindSpeed), WindScalarKn: kn(x.WindScalar), WindFromDeg: Number(x.WindFrom),
		FuelLH: Number(x.FuelFlow), SoundDB: Number(x.Sound), TrimSetting: x.Trim, ByHand: byHandOf(x),
	}
}

// byHandOf names what of a run a hand reading gave.
func byHandOf(x runs.Run) []string {
	var out []string
	for _, f := range []struct {
		hand bool
		name string
	}{{x.RPMByHand, "rpm"}, {x.FuelByHand, "fuel_l_h"}, {!math.IsNaN(x.Sound), "sound_db"}, {x.TrimByHand, "trim_setting"}} {
		if f.hand {
			out = append(out, f.name)
		}
	}
	return out
}

// behave takes over how she went in the sea.
func (r *Run) behave(s seaway.Run) {
	r.Sea, r.SeaAngleDeg = s.Sea, Number(s.SeaAngle)
	r.HeadingSDDeg, r.HeadingSDCI, r.HeadingTrend = Number(s.HeadingSD), Number(s.HeadingSDCI95), Number(s.HeadingTrend)
	r.YawRateRMS, r.HeadingRange, r.SwingsPerMin = Number(s.YawRateRMS), Number(s.HeadingRange), Number(s.SwingsPerMin)
	r.YawPeriodS, r.EncounterS = Number(s.YawPeriod), Number(s.Encounter)
	r.RollSDDeg, r.RollSDCI = Number(s.RollSD), Number(s.RollSDCI95)
	r.PitchSDDeg, r.PitchSDCI, r.PitchMeanDeg = Number(s.PitchSD), Number(s.PitchSDCI95), Number(s.Pitch)
	r.AccelWkRMS, r.AccelWfRMS = Number(s.AccelWk), Number(s.AccelWf)
	r.AccelThird, r.AccelTenth, r.AccelHundredth = Number(s.AccelThird), Number(s.AccelTenth), Number(s.AccelHundredth)
	r.SpeedLossPct, r.SpeedLossCI, r.Flags = Number(s.SpeedLossPct), Number(s.SpeedLossCI95), s.Flags
}

func (d *day) seaBands() []SeaBand {
	out := []SeaBand{}
	for _, b := range d.bands {
		out = append(out, SeaBand{
			Sea: b.Sea, RPM: Number(b.RPM), Group: b.Group, SpeedKn: kn(b.STW), OverGround: d.overGround(b.Runs), Runs: b.Runs,
			HeadingSDDeg: Number(b.HeadingSD), HeadingSDCI: Number(b.HeadingSDCI95), YawRateRMS: Number(b.YawRateRMS),
			SwingsPerMin: Number(b.SwingsPerMin), YawPeriodS: Number(b.YawPeriod), FallOff: Number(b.FallOff),
			RollSDDeg: Number(b.RollSD), RollSDCI: Number(b.RollSDCI95), PitchSDDeg: Number(b.PitchSD), PitchSDCI: Number(b.PitchSDCI95),
			SpeedLossPct: Number(b.SpeedLossPct), SpeedLossCI: Number(b.SpeedLossCI95),
		})
	}
	return out
}

// overGround tells whether a speed of these runs has the current in it.
func (d *day) overGround(ids []string) bool {
	for _, id := range ids {
		if _, ok := d.water.Speeds[id]; !ok {
			return true
		}
	}
	return false
}

func (d *day) driftResults() []Drift {
	out := []Drift{}
	for _, x := range d.drifts {
		r := Drift{ID: x.ID, Start: utc(x.Start), End: utc(x.End), Group: x.Group, Note: x.Note, SOGKn: kn(x.SOG), COGDeg: Number(x.COG),
			Wind10Kn: kn(x.Wind), Wind10CI95Kn: kn(x.WindCI95), WindScalarKn: kn(x.WindScalar), WindFromDeg: Number(x.WindFrom),
			Windows: []DriftWindow{}}
		r.leeway(x)
		r.lies(x)
		if r.RollPeriodS.Known() {
			from, to := d.roll().GMRange(d.tri.Boat.Beam)
			r.GMFromM, r.GMToM = Number(from), Number(to)
		}
		for _, w := range x.Windows {
			r.Windows = append(r.Windows, DriftWindow{Start: utc(w.Start), End: utc(w.End), Wind10Kn: kn(w.Wind),
				DownwindKn: kn(w.Downwind), DownwindCI: kn(w.DownwindCI95), CrosswindKn: kn(w.Crosswind), CrosswindCI: kn(w.CrosswindCI95)})
		}
		out = append(out, r)
	}
	return out
}

func (r *Drift) leeway(x drift.Drift) {
	r.CurrentKn, r.CurrentToDeg, r.CurrentCI95Kn = kn(math.Hypot(x.Current.East, x.Current.North)), Number(towardDeg(x.Current.East, x.Current.North)), kn(x.CurrentCI95)
	r.LeewayKn, r.LeewayCI95Kn, r.LeewayToDeg = kn(x.Leeway), kn(x.LeewayCI95), Number(x.LeewayTo)
	r.LeewayPct, r.LeewayPctCI = Number(x.LeewayPct), Number(x.LeewayPctCI95)
	r.DownwindKn, r.DownwindCI95Kn = kn(x.Downwind), kn(x.DownwindCI95)
	r.CrosswindKn, r.CrosswindCI95Kn = kn(x.Crosswind), kn(x.CrosswindCI95)
	r.DivergenceDeg, r.DivergenceCI = Number(x.Divergence), Number(x.DivergenceCI95)
}

func (r *Drift) lies(x drift.Drift) {
	r.WindOnBowDeg, r.WindOnBowCI, r.WindOnBowSD = Number(x.WindOnBow), Number(x.WindOnBowCI95), Number(x.WindOnBowSD)
	r.HeadingSDDeg, r.HeadingSDCI, r.YawPeriodS = Number(x.HeadingSD), Number(x.HeadingSDCI95), Number(x.YawPeriod)
	r.RollSDDeg, r.RollSDCI, r.RollPeriodS = Number(x.RollSD), Number(x.RollSDCI95), Number(x.RollPeriod.S)
	r.RollPeriodCI, r.GMFromM, r.GMToM = Number(1.96*x.RollPeriod.SE), Unknown(), Unknown()
	r.DriftedIn10Min, r.TrackWidthM, r.LineSDM, r.TimeOver100mS = Number(x.Over10Min), Number(x.TrackWidth), Number(x.LineSD), Number(x.Over100m)
}

func (d *day) leewayFits() []LeewayFit {
	out := []LeewayFit{}
	for _, f := range d.fits {
		r := LeewayFit{ID: leewayID(f.Group), Group: f.Group, N: f.Drifts, WindMinKn: kn(f.WindMin), WindMaxKn: kn(f.WindMax),
			Downwind: leewayLine(f.Downwind), Crosswind: leewayLine(f.Crosswind), Similar: similarCraft(),
			Drifts: f.IDs, LiesDeg: Number(f.Lies), GustLagS: Number(f.Gusts.Lag), GustLagCI: Number(f.Gusts.LagCI95), GustShare: Number(f.Gusts.Share),
			Mixed: f.Mixed}
		for _, p := range f.Parts {
			r.Parts = append(r.Parts, LeewayPart{Drifts: p.IDs, LiesDeg: Number(p.Lies), Downwind: leewayLine(p.Downwind), Crosswind: leewayLine(p.Crosswind)})
		}
		if f.Right.N > 0 {
			line := leewayLine(f.Right)
			r.Right = &line
		}
		if f.Left.N > 0 {
			line := leewayLine(f.Left)
			r.Left = &line
		}
		out = append(out, r)
	}
	return out
}

func leewayLine(l drift.Line) LeewayLine {
	out := LeewayLine{N: l.N, SlopePct: Number(100 * l.Slope), SlopeCI95Pct: Number(100 * l.SlopeCI95), OffsetKn: kn(l.Offset), OffsetCI95Kn: kn(l.OffsetCI95),
		OriginSlopePct: Number(100 * l.OriginSlope), OriginSlopeCI: Number(100 * l.OriginCI95), ResidKn: kn(l.Resid), WithOffset: l.WithOffset, Band: []BandPoint{}}
	for _, b := range l.Band {
		out.Band = append(out.Band, BandPoint{WindKn: kn(b.Wind), Kn: kn(b.Leeway), CI95Kn: kn(b.CI95)})
	}
	return out
}

func similarCraft() []SimilarCraft {
	out := []SimilarCraft{}
	for _, s := range drift.SimilarCraft() {
		out = append(out, SimilarCraft{Craft: s.Craft, SlopePct: Number(s.SlopePct), OffsetKn: Number(s.OffsetKn), DivergenceDeg: Number(s.Divergence), Source: s.Source})
	}
	return out
}

func (d *day) turnResults() []Turn {
	out := []Turn{}
	for _, t := range d.turns {
		direction := "port"
		switch {
		case math.IsNaN(t.Angle):
			direction = ""
		case t.Starboard:
			direction = "starboard"
		}
		out = append(out, Turn{ID: t.ID, Start: utc(t.Start), End: utc(t.End), Direction: direction, AngleDeg: Number(t.Angle), RateDegS: Number(t.Rate),
			RateCI95: Number(t.RateCI95), AdvanceCI95: Number(t.AdvanceCI95), TransferCI95: Number(t.TransferCI95), DiameterCI95: Number(t.TacticalDiameterCI95),
			AdvanceM: Number(t.Advance), TransferM: Number(t.Transfer), TacticalDiameterM: Number(t.TacticalDiameter),
			FromKn: kn(t.From), SpeedKeptPct: Number(t.SpeedKeptPct), SpeedKeptCI: Number(t.SpeedKeptCI95), OverGround: t.OverGround, Withheld: t.Withheld})
	}
	return out
}

func (d *day) speedUpResults() []SpeedUp {
	out := []SpeedUp{}
	for _, s := range d.speedUps {
		r := SpeedUp{ID: s.ID, Start: utc(s.Start), End: utc(s.End), FromKn: kn(s.From), ToKn: kn(s.To), TimesS: map[string]Number{},
			TimesCI95S: map[string]Number{}, ToPlaneS: Number(s.ToPlane), ToPlaneCI: Number(s.ToPlaneCI95), OverGround: s.OverGround}
		for k, v := range s.Times {
			r.TimesS[k], r.TimesCI95S[k] = Number(v), Number(s.TimesCI95[k])
		}
		out = append(out, r)
	}
	return out
}

func (d *day) stopResults() []Stop {
	out := []Stop{}
	for _, s := range d.stops {
		out = append(out, Stop{ID: s.ID, Start: utc(s.Start), End: utc(s.End), FromKn: kn(s.From), DistanceM: Number(s.Distance), DistanceCI: Number(s.DistanceCI95),
			TimeS: Number(s.Time), TimeCI95S: Number(s.TimeCI95), OverGround: s.OverGround, Withheld: s.Withheld})
	}
	return out
}
