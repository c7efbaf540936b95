package ode

import (
	"fmt"
	"math"
	"slices"
)

// watch is the state of event handling.
type watch struct {
	sign      []int     // sign of each event's value before the step; 0: not known yet
	value     []float64 // value at the start of the step
	after     []int     // sign and value at the end of the step
	valueEnd  []float64
	valueMid  []float64 // value in its middle
	fired     []bool    // fired at firedAt: does not fire there again
	firedAt   float64
	crossings []crossing
	hits      []Hit
	y, dydt   []float64
}

// crossing is one change of sign inside a step.
type crossing struct {
	event, direction int
	t                float64
}

func newWatch(n int) watch {
	v := vectors(2, n)
	return watch{y: v[0], dydt: v[1]}
}

// begin forgets everything and makes room for n events.
func (w *watch) begin(n int) {
	w.hits, w.firedAt = nil, math.Inf(-1)
	w.sign = resized(w.sign, n)
	w.after = resized(w.after, n)
	w.value = resized(w.value, n)
	w.valueEnd = resized(w.valueEnd, n)
	w.valueMid = resized(w.valueMid, n)
	w.fired = resized(w.fired, n)
}

// rearm is called when the solution starts anew: signs of events that have just
// fired are unknown, since their values are zero but for rounding.
func (w *watch) rearm() {
	for e, fired := range w.fired {
		if fired {
			w.sign[e] = 0
		}
	}
}

// jumped looks for events whose value changed sign across a stop or the action
// of another event and fires the first. It reports whether to look again, from a
// fresh slope.
func (s *Solver) jumped() (bool, error) {
	w := &s.watch
	for e := range s.p.Events {
		g := s.p.Events[e].Value(s.t, s.y, s.f)
		if math.IsNaN(g) {
			return false, s.badValue(e)
		}
		w.value[e] = g
		now, was := signOf(g), w.sign[e]
		if now == 0 || w.fired[e] {
			continue
		}
		w.sign[e] = now
		if was != 0 && was != now && s.wants(e, now) {
			s.record(crossing{e, now, s.t}, s.y)
			s.act(e, s.t, s.y)
			return s.status == Aborted, nil
		}
	}
	return false, nil
}

// inspect finds the events inside s.step in order of time, shows the step to the
// observer piece by piece and runs the actions. It reports whether the solution
// was cut short and stands at the event.
func (s *Solver) inspect() (cut bool, err error) {
	w := &s.watch
	end := s.step.T1
	if err := s.scan(); err != nil {
		return false, err
	}
	for _, c := range w.crossings {
		w.sign[c.event] = c.direction
		if !s.wants(c.event, c.direction) {
			continue
		}
		s.step.At(c.t, w.y)
		s.record(c, w.y)
		if s.p.Events[c.event].Action == nil {
			continue
		}
		s.show(c.t)
		if s.act(c.event, c.t, w.y) != Continue {
			s.t = c.t
			copy(s.y, w.y)
			return true, nil
		}
		s.step.T0, s.step.T1 = c.t, end
	}
	s.show(end)
	clear(w.fired)
	w.sign, w.after = w.after, w.sign
	w.value, w.valueEnd = w.valueEnd, w.value
	return false, nil
}

// show hands the step up to t to the observer.
func (s *Solver) show(t float64) {
	s.step.T1 = t
	if s.set.OnStep != nil && s.step.T0 < t {
		s.set.OnStep(&s.step)
	}
}

// record notes a hit and that the event has fired at this time.
func (s *Solver) record(c crossing, y []float64) {
	w := &s.watch
	if c.t-w.firedAt > 4*epsilon*math.Abs(c.t) {
		clear(w.fired)
	}
	w.fired[c.event], w.firedAt = true, c.t
	w.hits = append(w.hits, Hit{
		Event: c.event, Name: s.p.Events[c.event].Name, Direction: c.direction,
		T: c.t, Y: slices.Clone(y),
	})
}

// act runs an event's action on y and notes what it asks for.
func (s *Solver) act(e int, t float64, y []float64) Verdict {
	if s.p.Events[e].Action == nil {
		return Continue
	}
	v := s.p.Events[e].Action(t, y)
	if v == Finish {
		s.status = Finished
	}
	return v
}

func (s *Solver) wants(e, direction int) bool {
	d := s.p.Events[e].Direction
	return d == 0 || d == direction
}

func (s *Solver) badValue(e int) error {
	return fmt.Errorf("value of event %d (%q): %w", e, s.p.Events[e].Name, ErrNotFinite)
}

// resized returns v with n zeroed entries.
func resized[T any](v []T, n int) []T {
	v = slices.Grow(v[:0], n)[:n]
	clear(v)
	return v
}
