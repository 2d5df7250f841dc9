package analysis

func (d *day) speedPoints() []SpeedPoint {
	out := []SpeedPoint{}
	for _, p := range d.curve.Points {
		out = append(out, SpeedPoint{
			RPM: Number(p.RPM), Group: p.Group, SpeedKn: kn(p.Speed), CI95Kn: kn(p.CI95), Runs: p.Runs, BothWays: p.BothWays, MeanOfMeans: p.MeanOfMeans,
			FuelLH: Number(p.Fuel), FuelCI95LH: Number(p.FuelCI95), NmPerL: Number(p.PerLitre), NmPerLCI95: Number(p.PerLitreCI), RangeNm: Number(p.Range),
			SlipPct: Number(p.Slip), SlipCI95Pct: Number(p.SlipCI95), TrimDeg: Number(p.Trim), TrimCI95Deg: Number(p.TrimCI95),
		})
	}
	return out
}

func (d *day) economy() Economy {
	e := d.curve.Economy
	out := Economy{
		Curve: []CurveSample{}, HumpKn: kn(e.Hump), PlaningKn: kn(e.Planing),
		BestKn: kn(e.Best.Speed), BestRPM: Number(e.Best.RPM), BestNmPerL: Number(e.Best.PerLitre),
		BestAnyKn: kn(e.BestOfAll.Speed), BestAnyRPM: Number(e.BestOfAll.RPM), BestAnyNmPerL: Number(e.BestOfAll.PerLitre),
		IdleInGearKn: kn(e.Idle.Speed), IdleInGearCI: kn(e.Idle.CI95), IdleInGearRPM: Number(e.Idle.RPM),
	}
	for _, s := range e.Samples {
		out.Curve = append(out.Curve, CurveSample{RPM: Number(s.RPM), SpeedKn: kn(s.Speed), CI95Kn: kn(s.CI95), FuelLH: Number(s.Fuel)})
	}
	return out
}
