package sweep

import (
	"math"

	"hotclimb/sim"
)

// Circuit numbers in Outcome.Circuits.
const (
	Coolant = iota
	Oil
)

// Circuit is what became of one temperature with limits.
type Circuit struct {
	Channel     string  // where the gauge measures, as coolant_out
	Peak        float64 // [°C]
	Margin      float64 // limit less peak [K]
	TimeToLimit float64 // from the start of the flight; +Inf when the limit is not reached [s]
}

// Outcome is what one flight comes to.
type Outcome struct {
	Status      sim.Status
	Circuits    [2]Circuit // Coolant and Oil
	BoilMargin  float64    // least margin to boiling [K]; +Inf for a liquid without boiling point
	Incomplete  string     // the first leg that did not reach its end, "" when all did
	CoolingDrag float64    // this and the next two at the moment of the least margin [N]
	DragPower   float64    // cooling drag times speed [W]
	RateOfClimb float64    // rate of climb [m/s]
	WaterUsed   float64    // spray water [kg]
	Exchangers  []sim.ExchangerState
	Residual    float64 // of energy [-]
	Drawn       *Drawn  // nil when no doubtful number was drawn
}

// OutcomeOf returns what a flight came to.
func OutcomeOf(r *sim.Result) Outcome {
	w := &r.Worst
	o := Outcome{
		Status: r.Status, BoilMargin: r.BoilMargin, Incomplete: r.Incomplete,
		CoolingDrag: w.CoolingDrag, DragPower: w.DragPower, RateOfClimb: w.RateOfClimb,
		WaterUsed: r.WaterUsed, Exchangers: r.Exchangers, Residual: r.EnergyResidual,
	}
	for i, p := range r.Peaks {
		o.Circuits[i] = Circuit{p.Channel, p.Value, p.Margin, math.Inf(1)}
		if p.Exceeded {
			o.Circuits[i].TimeToLimit = p.TimeToLimit
		}
	}
	return o
}

// Margin is the lesser margin of both circuits [K].
func (o *Outcome) Margin() float64 {
	return math.Min(o.Circuits[Coolant].Margin, o.Circuits[Oil].Margin)
}

// TimeToLimit is the time until either limit [s]; +Inf when neither is reached.
func (o *Outcome) TimeToLimit() float64 {
	return math.Min(o.Circuits[Coolant].TimeToLimit, o.Circuits[Oil].TimeToLimit)
}

// Reversed names the exchangers that air flows through backwards at the moment
// of the least margin.
func (o *Outcome) Reversed() []string {
	var names []string
	for _, x := range o.Exchangers {
		if x.Reversed {
			names = append(names, x.Name)
		}
	}
	return names
}
