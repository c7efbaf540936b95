package ode

import (
	"cmp"
	"math"
	"slices"
)

// scan fills the list of crossings of the step, ordered by time.
func (s *Solver) scan() error {
	w := &s.watch
	w.crossings = w.crossings[:0]
	if len(s.p.Events) == 0 {
		return nil
	}
	t0, t1 := s.step.T0, s.step.T1
	mid := t0 + (t1-t0)/2
	s.values(mid, t1)
	for e := range w.events {
		o := &w.events[e]
		g := [3]float64{o.value, o.middle, o.end}
		if math.IsNaN(g[1] + g[2]) {
			return s.badValue(e)
		}
		o.after = o.sign
		if err := s.scanEvent(e, [3]float64{t0, mid, t1}, g); err != nil {
			return err
		}
	}
	slices.SortFunc(w.crossings, func(a, b crossing) int {
		return cmp.Or(cmp.Compare(a.t, b.t), cmp.Compare(a.event, b.event))
	})
	return nil
}

// values sets the values of all events in the middle and at the end of the step.
func (s *Solver) values(mid, end float64) {
	w := &s.watch
	s.step.At(mid, w.y)
	s.step.Slope(mid, w.dydt)
	mid, end = s.before(mid), s.before(end)
	for e := range w.events {
		o, value := &w.events[e], s.p.Events[e].Value
		o.middle, o.end = value(mid, w.y, w.dydt), value(end, s.y1, s.f1)
	}
}

// scanEvent appends the crossings of event e, from its values g at the times t.
func (s *Solver) scanEvent(e int, t, g [3]float64) error {
	o, from := &s.watch.events[e], t[0]
	look := func(to, g float64) error {
		now, was := signOf(g), o.after
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
		o.after, from = now, to
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
