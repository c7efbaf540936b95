package sim

import (
	"math"

	"hotclimb/sim/flight"
	"hotclimb/sim/ode"
)

// events returns what the solver watches for in the present leg.
func (r *runner) events() []ode.Event {
	events := make([]ode.Event, 0, 12)
	for _, s := range []side{coolant, oil} {
		events = append(events, r.crossing(s))
		events = append(events, r.thermostatEvents(s)...)
	}
	events = append(events, r.runaway())
	events = append(events, r.legEnds()...)
	return append(events, r.sprayEvents()...)
}

// crossing records that the sensor of a circuit passes its limit.
func (r *runner) crossing(s side) ode.Event {
	c := r.circuit(s)
	i := s.sensed(c)
	return ode.Event{
		Name: s.String() + " reaches its limit", Direction: +1,
		Value: func(_ float64, y, _ []float64) float64 { return y[i] - c.Maximum },
	}
}

// thermostatEvents records when a thermostat starts to open and is fully open.
func (r *runner) thermostatEvents(s side) []ode.Event {
	c := r.circuit(s)
	if c.Thermostat == nil {
		return nil
	}
	i := s.open()
	at := func(u float64) func(float64, []float64, []float64) float64 {
		return func(_ float64, y, _ []float64) float64 { return y[i] - u }
	}
	return []ode.Event{
		{Name: s.String() + " thermostat starts to open", Direction: +1, Value: at(0.01)},
		{Name: s.String() + " thermostat is fully open", Direction: +1, Value: at(0.99)},
	}
}

// runaway ends a run that has left what the model stands for.
func (r *runner) runaway() ode.Event {
	tc := math.Max(coolantLost, r.Coolant.Maximum+lostAbove)
	to := math.Max(oilLost, r.Oil.Maximum+lostAbove)
	return ode.Event{
		Name: "temperatures run away", Direction: +1,
		Value: func(_ float64, y, _ []float64) float64 {
			return math.Max(y[coolantHot]-tc, y[oilHot]-to)
		},
		Action: func(float64, []float64) ode.Verdict {
			r.lost = true
			return ode.Finish
		},
	}
}

func finish(float64, []float64) ode.Verdict { return ode.Finish }

// legEnds returns the events that end the present leg.
func (r *runner) legEnds() []ode.Event {
	var ends []ode.Event
	leg := r.leg
	if leg.HasAltitude {
		direction := +1
		if leg.Kind == flight.Descend {
			direction = -1
		}
		ends = append(ends, ode.Event{
			Name: "altitude reached", Direction: direction, Action: finish,
			Value: func(_ float64, y, _ []float64) float64 { return y[altitude] - leg.ToAltitude },
		})
	}
	if !leg.Kind.OnGround() {
		ends = append(ends, r.ground())
	}
	if leg.Settled {
		ends = append(ends, ode.Event{
			Name: "temperatures settled", Direction: -1, Action: finish,
			Value: func(_ float64, _, dydt []float64) float64 {
				return restlessness(dydt) - flight.StabilisedRate
			},
		})
	}
	if leg.AfterPeak > 0 {
		ends = append(ends, r.peakEnd()...)
	}
	return ends
}

// fieldSlack is how far below the field an aircraft counts as being on it [m].
const fieldSlack = 1.0

// ground ends a leg that comes down to the field.
func (r *runner) ground() ode.Event {
	return ode.Event{
		Name: "down to the field", Direction: -1,
		Value: func(_ float64, y, _ []float64) float64 { return y[altitude] - r.Weather.Elevation + fieldSlack },
		Action: func(float64, []float64) ode.Verdict {
			r.landed = true
			return ode.Finish
		},
	}
}

// restlessness returns the fastest rate of any temperature [K/s]. The metal and
// both legs of the circuits count as well as the sensors: after a change of
// power they move first.
func restlessness(dydt []float64) float64 {
	worst := 0.0
	for i := metal; i <= oilCold; i++ {
		worst = math.Max(worst, math.Abs(dydt[i]))
	}
	return worst
}

// peakEnd ends a leg a stated time after the later of the highest
// temperatures of both sensors in it. Each maximum is located as the fall of
// its rate through zero; a new high puts the end off again.
func (r *runner) peakEnd() []ode.Event {
	var high, when [2]float64
	index := [2]int{coolant.sensed(&r.Coolant), oil.sensed(&r.Oil)}
	var ends []ode.Event
	for s, i := range index {
		high[s], when[s] = r.y[i], r.now
		ends = append(ends, ode.Event{
			Direction: -1,
			Value:     func(_ float64, _, dydt []float64) float64 { return dydt[i] },
			Action: func(t float64, y []float64) ode.Verdict {
				if y[i] >= high[s] {
					high[s], when[s] = y[i], t
				}
				return ode.Continue
			},
		})
	}
	const tie = 1e-6 // K, rounding of a located maximum
	return append(ends, ode.Event{
		Name: "time after the peak is over", Direction: +1, Action: finish,
		Value: func(t float64, y, _ []float64) float64 {
			for s, i := range index {
				if y[i] > high[s]+tie {
					return -r.leg.AfterPeak
				}
			}
			return t - math.Max(when[0], when[1]) - r.leg.AfterPeak
		},
	})
}

// record keeps the events of a leg that people want to know of.
func (r *runner) record(hits []ode.Hit) {
	for _, h := range hits {
		if h.Name == "" {
			continue
		}
		r.result.Events = append(r.result.Events, Event{
			Time: h.T, Altitude: math.Max(h.Y[altitude], r.Weather.Elevation), Leg: r.leg.Name, What: h.Name,
		})
		for _, s := range []side{coolant, oil} {
			if h.Name == r.crossing(s).Name {
				r.watch[s].cross(h.T)
			}
		}
	}
}
