package analysis

import (
	"fmt"

	"ahull/analysis/roll"
)

// roll is the day's natural period of roll, by all drifts.
func (d *day) roll() roll.Day {
	var all []roll.Period
	for _, x := range d.drifts {
		all = append(all, x.RollPeriod)
	}
	return roll.Pool(all)
}

func (d *day) rollResult() Roll {
	p := d.roll()
	from, to := p.GMRange(d.tri.Boat.Beam)
	r := Roll{PeriodS: Number(p.S), PeriodCI: Number(p.CI95), Drifts: []string{}, Agree: p.Agree, Why: p.Why,
		GMFromM: Number(from), GMToM: Number(to), FactorMin: roll.FactorLeast, FactorMax: roll.FactorMost}
	for _, i := range p.Used {
		r.Drifts = append(r.Drifts, d.drifts[i].ID)
	}
	if r.Why == "" && !r.GMFromM.Known() && r.PeriodS.Known() {
		r.Why = "the trial file gives no beam"
	}
	return r
}

// driftMethod tells what the drifts' figures are and are not.
func (d *day) driftMethod() []string {
	if len(d.drifts) == 0 {
		return nil
	}
	out := []string{"Leeway: velocity over ground less the current, once her way is off. What the waves push her is in it: their part and the wind's are not told apart."}
	for _, f := range d.fits {
		if f.Gusts.Lag > 0 {
			group := ""
			if f.Group != "" {
				group = fmt.Sprintf(" of %q", f.Group)
			}
			out = append(out, fmt.Sprintf("Gusts: leeway%s follows the wind with a lag of %.0f ± %.0f s, which explains %.0f %% of how it varies; the rest is her own wander and is what its ± is made of.", group, f.Gusts.Lag, f.Gusts.LagCI95, 100*f.Gusts.Share))
		}
	}
	if p := d.roll(); p.S > 0 {
		line := fmt.Sprintf("Natural period of roll: %.2f ± %.2f s, by %s, as that of a damped swing which the waves keep going.", p.S, p.CI95, IDList(d.rollResult().Drifts))
		if from, to := p.GMRange(d.tri.Boat.Beam); from > 0 {
			line += fmt.Sprintf(" The IMO rolling-period test GM = (f·B/T)² makes %.2f to %.2f m of it, for f from %.2f to %.2f and over that ±: an indication, no stability assessment.", from, to, roll.FactorLeast, roll.FactorMost)
		} else if p.Why != "" {
			line += " No GM is given: " + p.Why + "."
		}
		out = append(out, line)
	} else if p.Why != "" && p.Why != roll.NotLogged {
		out = append(out, "No natural period of roll and no GM: "+p.Why+".")
	}
	return out
}
