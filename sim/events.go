package sim

import (
	"math"

	"hotclimb/sim/flight"
	"hotclimb/sim/ode"
)

// events returns what the solver watches for in the present leg: the events of
// every leg, which are made once, and those of this one.
func (r *runner) events() []ode.Event {
	if r.everyLeg == nil {
		r.everyLeg = r.commonEvents()
	}
	events := append(r.everyLeg, r.legEnds()...)
	return append(events, r.sprayEvents()...)
}

// commonEvents returns what is watched for in every leg.
func (r *runner) commonEvents() []ode.Event {
	events := make([]ode.Event, 0, mostEvents)
	for _, s := range []side{coolant, oil} {
		c := r.circuit(s)
		events = append(events, rising(limitReached[s], s.sensed(c), c.Maximum))
		if c.Thermostat != nil {
			events = append(events,
				rising(startsToOpen[s], s.open(), 0.01), rising(fullyOpen[s], s.open(), 0.99))
		}
	}
	return append(events, r.runaway())
}

const mostEvents = 16 // of a leg

// What is said of a circuit.
var (
	limitReached = [2]string{"coolant reaches its limit", "oil reaches its limit"}
	startsToOpen = [2]string{"coolant thermostat starts to open", "oil thermostat starts to open"}
	fullyOpen    = [2]string{"coolant thermostat is fully open", "oil thermostat is fully open"}
)

// rising is the event of an entry of the state rising past a value.
func rising(name string, entry int, past float64) ode.Event {
	return ode.Event{
		Name: name, Direction: +1,
		Value: func(_ float64, y, _ []float64) float64 { return y[entry] - past },
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
			if h.Name == limitReached[s] {
				r.watch[s].cross(h.T)
			}
		}
	}
}
