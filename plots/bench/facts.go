package bench

import (
	"math"

	"hotclimb/plots"
	"hotclimb/sim"
)

// facts are the lines below the tables, with the words of the command run.
func (p *pair) facts() []Fact {
	list := []Fact{p.boiling()}
	if p.now.WaterUsed > 0 {
		list = append(list, p.fact("spray water", plots.Mass, " used", func(r *sim.Result) float64 { return r.WaterUsed }))
	}
	list = append(list, p.moment())
	list = append(list, p.climbing()...)
	list = append(list, p.vents()...)
	return append(list, p.drag(), p.shares())
}

// fact is a labelled number with words behind it.
func (p *pair) fact(label string, m plots.Measure, behind string, of func(*sim.Result) float64) Fact {
	f := Fact{Label: label, Text: m.Show(p.units, of(p.now)) + behind}
	if p.before != nil {
		f.Change = showChange(m, p.units, of(p.now)-of(p.before))
	}
	return f
}

// showChange is a difference with its sign and unit.
func showChange(m plots.Measure, u plots.Units, dx float64) string { return ofChanges(m).Change(u, dx) }

// boiling is the margin to boiling.
func (p *pair) boiling() Fact {
	known := func(r *sim.Result) bool { return !math.IsInf(r.BoilMargin, 0) && !math.IsNaN(r.BoilMargin) }
	if !known(p.now) {
		return Fact{Label: "boil margin", Text: "not known: the coolant has no boiling point"}
	}
	f := Fact{Label: "boil margin", Text: plots.Warmth.Show(p.units, p.now.BoilMargin) + " at the least"}
	if p.before != nil && known(p.before) {
		f.Change = plots.Warmth.Change(p.units, p.now.BoilMargin-p.before.BoilMargin)
	}
	return f
}

// moment is when and where the least margin is.
func (p *pair) moment() Fact {
	w := &p.now.Worst
	f := Fact{Label: "least margin", Text: plots.Clock(w.Time) + " into the flight at " + plots.Height.Show(p.units, w.Altitude) +
		": outside " + plots.Temperature.Show(p.units, w.Outside)}
	if p.before != nil {
		b := &p.before.Worst
		f.Change = costs(clockChange(w.Time, b.Time), plots.Height.Change(p.units, w.Altitude-b.Altitude),
			plots.Warmth.Change(p.units, w.Outside-b.Outside))
	}
	return f
}

// climbing is how it flies there.
func (p *pair) climbing() []Fact {
	return []Fact{
		p.fact("true airspeed", plots.Airspeed, "", func(r *sim.Result) float64 { return r.Worst.TrueAirspeed }),
		p.fact("power", plots.Power, "", func(r *sim.Result) float64 { return r.Worst.Power }),
		p.fact("rate of climb", plots.ClimbRate, "", func(r *sim.Result) float64 { return r.Worst.RateOfClimb }),
	}
}

// vents are how warm the air of the cabin vents gets.
func (p *pair) vents() []Fact {
	var list []Fact
	for _, v := range p.plant.Vents {
		most, ok := warmest(p.now, v.Name)
		if !ok {
			continue
		}
		f := Fact{Label: "vent " + v.Name, Text: "takes in air up to " + plots.Warmth.Show(p.units, most) + " warmer than outside"}
		if p.before != nil {
			if before, ok := warmest(p.before, v.Name); ok {
				f.Change = plots.Warmth.Change(p.units, most-before)
			}
		}
		list = append(list, f)
	}
	return list
}

// warmest is how much warmer than the outside the air of a vent gets [K].
func warmest(r *sim.Result, vent string) (most float64, ok bool) {
	if r.Trajectory == nil {
		return 0, false
	}
	air, outside := r.Trajectory.Find(vent+"_vent_degC"), r.Trajectory.Find("outside_degC")
	if air == nil || outside == nil {
		return 0, false
	}
	for i := range air.Values {
		most = math.Max(most, air.Values[i]-outside.Values[i])
	}
	return most, true
}

// drag is the cooling drag at the least margin and what it costs.
func (p *pair) drag() Fact {
	w := &p.now.Worst
	list := []string{plots.Power.Show(p.units, w.CostPower)}
	if w.CostSpeed > 0 {
		list = append(list, plots.Airspeed.Show(p.units, w.CostSpeed))
	}
	list = append(list, plots.ClimbRate.Show(p.units, w.CostRateOfClimb))
	f := Fact{Label: "cooling drag", Text: plots.Force.Show(p.units, w.CoolingDrag) + " costs " + costs(list...)}
	if p.before == nil {
		return f
	}
	b := &p.before.Worst
	list = []string{plots.Power.Change(p.units, w.CostPower-b.CostPower)}
	if w.CostSpeed > 0 && b.CostSpeed > 0 {
		list = append(list, plots.Airspeed.Change(p.units, w.CostSpeed-b.CostSpeed))
	}
	list = append(list, plots.ClimbRate.Change(p.units, w.CostRateOfClimb-b.CostRateOfClimb))
	f.Change = plots.Force.Change(p.units, w.CoolingDrag-b.CoolingDrag) + " costs " + costs(list...)
	return f
}

// shares is who owns that drag.
func (p *pair) shares() Fact {
	w := &p.now.Worst
	text := func(of func(value float64) string, momentum, spillage, external float64) string {
		return "momentum " + of(momentum) + ", spillage " + of(spillage) + ", external " + of(external)
	}
	show := func(x float64) string { return plots.Force.Show(p.units, x) }
	f := Fact{Label: "of that drag", Text: text(show, w.InternalDrag, w.SpillageDrag, w.ExternalDrag)}
	if p.before != nil {
		b := &p.before.Worst
		change := func(x float64) string { return plots.Force.Change(p.units, x) }
		f.Change = text(change, w.InternalDrag-b.InternalDrag, w.SpillageDrag-b.SpillageDrag, w.ExternalDrag-b.ExternalDrag)
	}
	return f
}
