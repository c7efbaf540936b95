package ode

import (
	"fmt"
	"math"
	"slices"
)

// watch is the state of event handling.
type watch struct {
	events    []sight
	firedAt   float64
	crossings []crossing
	hits      []Hit
	y, dydt   []float64
}

// sight is what is known of one event.
type sight struct {
	sign, after        int     // of its value before and after the step; 0: not known yet
	value, middle, end float64 // at the start, in the middle and at the end of the step
	fired              bool    // fired at firedAt: does not fire there again
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
	w.events = slices.Grow(w.events[:0], n)[:n]
	clear(w.events)
}

// rearm is called when the solution starts anew: signs of events that have just
// fired are unknown, since their values are zero but for rounding.
func (w *watch) rearm() {
	for e := range w.events {
		if w.events[e].fired {
			w.events[e].sign = 0
		}
	}
}

// rest lets all events fire again.
func (w *watch) rest() {
	for e := range w.events {
		w.events[e].fired = false
	}
}

// pass moves the events to the end of the step.
func (w *watch) pass() {
	for e := range w.events {
		o := &w.events[e]
		o.sign, o.value, o.fired = o.after, o.end, false
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
		o := &w.events[e]
		o.value = g
		now, was := signOf(g), o.sign
		if now == 0 || o.fired {
			continue
		}
		o.sign = now
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
		w.events[c.event].sign = c.direction
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
	w.pass()
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
		w.rest()
	}
	w.events[c.event].fired, w.firedAt = true, c.t
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
