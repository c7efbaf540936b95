package optimum

import (
	"cmp"
	"context"
	"fmt"
	"math"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// condition is what changes from flight to flight.
type condition struct {
	speed       float64 // of the climb [m/s]
	elevation   float64 // of the field [m]
	temperature float64 // at the field [°C]; unused when asFiled
	asFiled     bool    // the air of the day as it is filed
	spray       *sprayUse
	kept        sweep.Spread // stays on top of each margin [K]
}

// sprayUse is water sprayed in a flight; nil is none.
type sprayUse struct {
	rate float64 // [m³/s]
	tank float64 // [m³]
	time float64 // at most [s]; 0: as filed
}

// verdict is what a flight comes to.
type verdict struct {
	margin    float64 // least of coolant, oil and boiling [K]; NaN when the flight failed
	by        string  // which of them
	reached   float64 // from the start of the climb to the first limit, 0 when it is passed before [s]; NaN when none is
	leg       string  // in which that is
	climbTime float64 // how long the climb took [s]
	water     float64 // sprayed [kg]
	trouble   string  // why it is no whole flight, "" when it is one
	stalled   bool    // the climb is slower than any stall
}

// score is the margin, NaN when there is no whole flight with one. A flight
// that breaks off over a limit is over the limit.
func (v *verdict) score() float64 {
	if v.stalled || v.trouble != "" && !(v.margin < 0) {
		return math.NaN()
	}
	return v.margin
}

// reason is what is against a flight, or comes nearest to be.
func (v *verdict) reason() string {
	switch {
	case v.stalled:
		return ByStall
	case v.by != ByFault && math.IsNaN(v.score()):
		return ByClimb
	}
	return v.by
}

// fly flies one condition.
func (p *limitPlan) fly(ctx context.Context, c condition) (verdict, error) {
	p.flights.Add(1)
	if p.study.evaluate != nil {
		return p.study.evaluate(ctx, c)
	}
	sc, err := p.edited(c)
	if err != nil {
		return verdict{}, err
	}
	set := p.study.Sim
	for {
		r, err := p.flown(ctx, sc, &c, set)
		switch {
		case ctx.Err() != nil:
			return verdict{}, ctx.Err()
		case err != nil:
			return verdict{margin: math.NaN(), by: ByFault, reached: math.NaN(), climbTime: math.NaN(), trouble: err.Error()}, nil
		case r.BoilMargin < c.kept.Boil && set.Sample == 0:
			set.Sample = sampleInterval // to see when
		default:
			return judge(r, p.leg, c.kept.Boil), nil
		}
	}
}

// edited is the scenario of one condition.
func (p *limitPlan) edited(c condition) (*scenarios.Scenario, error) {
	sc, err := p.study.Case.Scenario.Edit(func(sc *scenarios.Scenario) error { return p.set(sc, c) })
	if err != nil {
		return nil, fmt.Errorf("case %s at another speed, elevation or temperature: %w", p.study.Case.Name, err)
	}
	return sc, nil
}

// set puts a condition into a scenario.
func (p *limitPlan) set(sc *scenarios.Scenario, c condition) error {
	errs := []error{p.speed.Set(sc, c.speed), p.elevation.Set(sc, c.elevation)}
	for _, t := range p.tops {
		errs = append(errs, t.param.Set(sc, t.value+c.elevation-p.filed.Elevation))
	}
	switch {
	case !c.asFiled:
		errs = append(errs, p.temperature.Set(sc, c.temperature))
	case p.dayGiven:
		errs = append(errs, p.temperature.Set(sc, p.fieldTemperature(c.elevation)))
	}
	if p.spray != nil {
		errs = append(errs, p.spray.set(sc, c.spray))
	}
	return cmp.Or(errs...) // the first
}

// fieldTemperature is that of the filed day at a field [°C]: the same air.
func (p *limitPlan) fieldTemperature(elevation float64) float64 { return p.day.Temperature(elevation) }

// judge says what a flight comes to, with so much kept to boiling [K]. The time of
// boiling needs its samples.
func judge(r *sim.Result, climb string, kept float64) verdict {
	v := verdict{margin: math.Inf(1), reached: math.NaN(), water: r.WaterUsed}
	v.take(ByBoiling, r.BoilMargin-kept)
	for i, by := range []string{ByCoolant, ByOil} {
		v.take(by, r.Peaks[i].Margin)
	}
	if at, by := firstLimit(r, kept); by != "" {
		v.by = by
		v.reach(r, at, climb)
	}
	if r.Incomplete != "" {
		v.trouble = fmt.Sprintf("leg %s does not reach its end", r.Incomplete)
	}
	if span := spanOf(r, climb); span != nil {
		v.climbTime = span.End - span.Start
		if span.Stalled {
			v.stalled, v.trouble = true, "slower than the aircraft can fly"
		}
	}
	return v
}

func (v *verdict) take(by string, margin float64) {
	if margin < v.margin {
		v.margin, v.by = margin, by
	}
}

// reach notes the time of the first limit.
func (v *verdict) reach(r *sim.Result, at float64, climb string) {
	v.reached = 0
	if span := spanOf(r, climb); span != nil {
		v.reached = math.Max(0, at-span.Start)
	}
	for _, s := range r.Legs {
		if at >= s.Start && at <= s.End {
			v.leg = s.Name
			return
		}
	}
}

// firstLimit is the time of the first limit that is passed [s], and which; ""
// when none is, with so much kept to boiling [K].
func firstLimit(r *sim.Result, kept float64) (at float64, by string) {
	at = math.Inf(1)
	for i, name := range []string{ByCoolant, ByOil} {
		if p := r.Peaks[i]; p.Exceeded && p.TimeToLimit < at {
			at, by = p.TimeToLimit, name
		}
	}
	if boils := boilsAt(r, kept); boils < at {
		at, by = boils, ByBoiling
	}
	return at, by
}

// boilsAt is when the coolant is so near to boiling in a flight with samples [s];
// +Inf when it is not.
func boilsAt(r *sim.Result, kept float64) float64 {
	if r.BoilMargin >= kept || r.Trajectory == nil {
		return math.Inf(1)
	}
	when, hot, boil := r.Trajectory.Find("time_s"), r.Trajectory.Find("coolant_out_degC"), r.Trajectory.Find("boil_degC")
	for i, t := range when.Values {
		over := hot.Values[i] - boil.Values[i] + kept
		if over < 0 {
			continue
		}
		if i == 0 {
			return t
		}
		before := hot.Values[i-1] - boil.Values[i-1] + kept
		return t - (t-when.Values[i-1])*over/(over-before)
	}
	return r.Worst.Time // between two samples
}
