package ode

import (
	"cmp"
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
	fired     []bool // fired at firedAt: does not fire there again
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
	return watch{y: make([]float64, n), dydt: make([]float64, n)}
}

// begin forgets everything and makes room for n events.
func (w *watch) begin(n int) {
	w.hits, w.firedAt = nil, math.Inf(-1)
	w.sign = resized(w.sign, n)
	w.after = resized(w.after, n)
	w.value = resized(w.value, n)
	w.valueEnd = resized(w.valueEnd, n)
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

// scan fills the list of crossings of the step, ordered by time.
func (s *Solver) scan() error {
	w := &s.watch
	w.crossings = w.crossings[:0]
	if len(s.p.Events) == 0 {
		return nil
	}
	t0, t1 := s.step.T0, s.step.T1
	mid := t0 + (t1-t0)/2
	for e := range s.p.Events {
		g := [3]float64{w.value[e], s.valueAt(e, mid), s.p.Events[e].Value(s.before(t1), s.y1, s.f1)}
		if math.IsNaN(g[1] + g[2]) {
			return s.badValue(e)
		}
		w.after[e], w.valueEnd[e] = w.sign[e], g[2]
		if err := s.scanEvent(e, [3]float64{t0, mid, t1}, g); err != nil {
			return err
		}
	}
	slices.SortFunc(w.crossings, func(a, b crossing) int {
		return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.event, b.event))
	})
	return nil
}

// scanEvent appends the crossings of event e, from its values g at the times t.
func (s *Solver) scanEvent(e int, t, g [3]float64) error {
	from := t[0]
	look := func(to, g float64) error {
		now, was := signOf(g), s.watch.after[e]
		if now == 0 {
			return nil
		}
		if was != 0 && was != now {
			at, err := s.locate(crossing{event: e, direction: now}, from, to)
			if err != nil {
				return err
			}
			s.watch.crossings = append(s.watch.crossings, crossing{e, now, at})
		}
		s.watch.after[e], from = now, to
		return nil
	}
	θ, found := vertex(g)
	tv := t[0] + θ*(t[2]-t[0])
	if found && θ < 0.5 {
		if err := look(tv, s.valueAt(e, tv)); err != nil {
			return err
		}
	}
	if err := look(t[1], g[1]); err != nil {
		return err
	}
	if found && θ > 0.5 {
		if err := look(tv, s.valueAt(e, tv)); err != nil {
			return err
		}
	}
	return look(t[2], g[2])
}

// vertex returns where in (0, 1) the parabola through g at 0, 1/2 and 1 comes
// nearest to zero, if g has one sign there and the parabola bends that way.
func vertex(g [3]float64) (θ float64, found bool) {
	if g[0]*g[1] <= 0 || g[1]*g[2] <= 0 {
		return 0, false
	}
	bend := 2 * (g[0] - 2*g[1] + g[2])
	θ = 0.5 + (g[0]-g[2])/(2*bend)
	return θ, bend*g[1] > 0 && θ > 0 && θ < 1
}

// valueAt returns the value of event e on the dense output.
func (s *Solver) valueAt(e int, t float64) float64 {
	s.step.At(t, s.watch.y)
	s.step.Slope(t, s.watch.dydt)
	return s.p.Events[e].Value(s.before(t), s.watch.y, s.watch.dydt)
}

// locate returns the time of the crossing c between a and b.
func (s *Solver) locate(c crossing, a, b float64) (float64, error) {
	g := func(t float64) float64 { return s.valueAt(c.event, t) }
	switch c.direction { // the ends may be off by the rounding of the dense output
	case signOf(g(a)):
		return a, nil
	case -signOf(g(b)):
		return b, nil
	}
	t, err := Root(g, a, b, 0)
	if err != nil {
		return 0, s.badValue(c.event)
	}
	return t, nil
}

func signOf(x float64) int {
	switch {
	case x > 0:
		return 1
	case x < 0:
		return -1
	}
	return 0
}

// resized returns v with n zeroed entries.
func resized[T any](v []T, n int) []T {
	v = slices.Grow(v[:0], n)[:n]
	clear(v)
	return v
}
