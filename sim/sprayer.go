package sim

import "hotclimb/sim/ode"

// sprayMode is how far the spray of a run has come.
type sprayMode struct {
	until float64 // it stops at this time at the latest [s]
	done  bool    // tank empty or time over
}

// sprayAllowed reports whether the spray may run in the present leg.
func (r *runner) sprayAllowed() bool {
	s := r.Plant.Spray
	return s != nil && s.Rate > 0 && !r.sprayed.done && r.y[water] > 0 && (s.Leg == "" || s.Leg == r.leg.Name)
}

// spraySensor returns the state entry of the gauge of the sprayed circuit.
func (r *runner) spraySensor() int {
	s := coolant
	if r.Exchangers[r.Plant.Spray.Exchanger].Oil {
		s = oil
	}
	return s.sensed(r.circuit(s))
}

// beginSpray turns the spray on or off at the start of a leg.
func (r *runner) beginSpray() {
	if !r.sprayAllowed() {
		r.spraying = false
		return
	}
	s := r.Plant.Spray
	if !r.spraying && (!s.OnAbove || r.y[r.spraySensor()] >= s.Above) {
		r.turnOn(r.now)
		r.record([]ode.Hit{{Name: sprayStarts, T: r.now, Y: r.y}})
	}
}

const sprayStarts = "spray starts"

func (r *runner) turnOn(t float64) {
	r.spraying = true
	if r.sprayed.until == 0 {
		r.sprayed.until = t + r.Plant.Spray.Duration
	}
}

// sprayEvents returns the events that turn the spray on and off in this leg.
func (r *runner) sprayEvents() []ode.Event {
	if !r.sprayAllowed() {
		return nil
	}
	s := r.Plant.Spray
	i := r.spraySensor()
	off := func(float64, []float64) ode.Verdict {
		r.spraying, r.sprayed.done = false, true
		return ode.Restart
	}
	events := []ode.Event{{
		Name: "spray tank is dry", Direction: -1, Action: off,
		Value: func(_ float64, y, _ []float64) float64 { return y[water] },
	}}
	if s.OnAbove {
		events = append(events, ode.Event{
			Name: sprayStarts, Direction: +1,
			Value: func(_ float64, y, _ []float64) float64 {
				if r.spraying || r.sprayed.done {
					return -1
				}
				return y[i] - s.Above
			},
			Action: func(t float64, _ []float64) ode.Verdict {
				r.turnOn(t)
				return ode.Restart
			},
		})
	}
	if s.Duration > 0 {
		events = append(events, ode.Event{
			Name: "spray time is over", Direction: +1, Action: off,
			Value: func(t float64, _, _ []float64) float64 {
				if !r.spraying {
					return -1
				}
				return t - r.sprayed.until
			},
		})
	}
	return events
}
