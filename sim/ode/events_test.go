package ode

import (
	"context"
	"errors"
	"math"
	"testing"
)

// near fails unless got is within rel of want.
func near(t *testing.T, what string, got, want, rel float64) {
	t.Helper()
	if math.Abs(got-want) > rel*math.Abs(want) {
		t.Errorf("%s: %.12g, want %.12g", what, got, want)
	}
}

// A ball falls from 1 m and keeps 0.8 of its speed at each bounce. Its path is a
// parabola, exact for every method: bounce k is at t1·(1 + 2·Σ 0.8^i).
func TestBouncingBall(t *testing.T) {
	p := Problem{
		Deriv: func(t float64, y, d []float64) error { d[0], d[1] = y[1], -9.81; return nil },
		T1:    3, Y0: []float64{1, 0},
		Events: []Event{{
			Name: "ground", Direction: -1,
			Value:  func(t float64, y, dydt []float64) float64 { return y[0] },
			Action: func(t float64, y []float64) Verdict { y[0], y[1] = 0, -0.8*y[1]; return Restart },
		}},
	}
	for i, m := range append(methods, methods...) {
		if i >= len(methods) { // the way up from the ground is no second event
			p.Events[0].Direction = 0
		}
		sol := solve(t, p, Settings{Method: m.method, RelTol: 1e-8})
		at := math.Sqrt(2 / 9.81)
		k := 0
		for flight := 2 * at * 0.8; at < 3; flight *= 0.8 {
			if k >= len(sol.Hits) {
				t.Fatalf("%s: only %d bounces", m.name, k)
			}
			near(t, m.name, sol.Hits[k].T, at, 1e-9)
			at += flight
			k++
		}
		if k != len(sol.Hits) || sol.Status != Reached {
			t.Errorf("%s: %d bounces, want %d; %v", m.name, len(sol.Hits), k, sol.Status)
		}
	}
}

// A relay with hysteresis: a body of time constant 10 s relaxes to 120 °C and,
// cooled, to 40 °C; cooling comes on at 95 °C and goes off at 85 °C. Times are
// 10·ln ratios of distances.
func TestRelay(t *testing.T) {
	for _, m := range methods {
		cooling := false
		goal := func() float64 {
			if cooling {
				return 40
			}
			return 120
		}
		p := Problem{
			Deriv: func(t float64, y, d []float64) error { d[0] = (goal() - y[0]) / 10; return nil },
			T1:    200, Y0: []float64{20},
			Events: []Event{
				{Name: "on", Direction: +1, Value: func(_ float64, y, _ []float64) float64 { return y[0] - 95 },
					Action: func(float64, []float64) Verdict { cooling = true; return Restart }},
				{Name: "off", Direction: -1, Value: func(_ float64, y, _ []float64) float64 { return y[0] - 85 },
					Action: func(float64, []float64) Verdict { cooling = false; return Restart }},
			},
		}
		sol := solve(t, p, tolerance(m.method, 1, 1e-11))
		down, up := 10*math.Log(55./45), 10*math.Log(35./25)
		at := 10 * math.Log(100./25)
		for i, hit := range sol.Hits {
			if hit.Event != i%2 || hit.Name != []string{"on", "off"}[i%2] {
				t.Fatalf("%s: hit %d is %q", m.name, i, hit.Name)
			}
			near(t, m.name, hit.T, at, 1e-9)
			near(t, m.name, hit.Y[0], []float64{95, 85}[i%2], 1e-11)
			at += []float64{down, up}[i%2]
		}
		if at < 200 || len(sol.Hits) < 60 {
			t.Errorf("%s: %d hits, next would be at %v", m.name, len(sol.Hits), at)
		}
	}
}

// circle is y = (sin t, cos t).
func circle(T1 float64, events ...Event) Problem {
	return Problem{
		Deriv: func(t float64, y, d []float64) error { d[0], d[1] = y[1], -y[0]; return nil },
		T1:    T1, Y0: []float64{0, 1}, Events: events,
	}
}

func level(x float64, direction int) Event {
	return Event{
		Name: "level", Direction: direction,
		Value: func(_ float64, y, _ []float64) float64 { return y[0] - x },
	}
}

// The solution passes a level just below its peak and comes back within a step.
func TestGrazing(t *testing.T) {
	const height = 1 - 1e-6
	for _, m := range methods {
		sol := solve(t, circle(3, level(height, 0)), Settings{Method: m.method, RelTol: 1e-9, AbsTol: []float64{1e-10, 1e-10}})
		if len(sol.Hits) != 2 || sol.Hits[0].Direction != 1 || sol.Hits[1].Direction != -1 {
			t.Fatalf("%s: hits %+v", m.name, sol.Hits)
		}
		// the level is passed at asin: an error e of y moves that by e/cos(t)
		near(t, m.name, sol.Hits[0].T, math.Asin(height), 1e-5)
		near(t, m.name, sol.Hits[1].T, math.Pi-math.Asin(height), 1e-5)
	}
	// A parabola is exact, so its grazing is found in one long step.
	p := Problem{
		Deriv: func(t float64, y, d []float64) error { d[0] = 2 * (t - 0.3); return nil },
		T1:    1, Y0: []float64{0.09},
		Events: []Event{level(1e-8, 0)},
	}
	sol := solve(t, p, Settings{FirstStep: 1, AbsTol: []float64{1}})
	if len(sol.Hits) != 2 || sol.Stats.Steps != 1 {
		t.Fatalf("%+v", sol)
	}
	near(t, "parabola down", sol.Hits[0].T, 0.3-1e-4, 1e-9)
	near(t, "parabola up", sol.Hits[1].T, 0.3+1e-4, 1e-9)
	p.Events[0] = level(-1e-8, 0)
	if sol := solve(t, p, Settings{FirstStep: 1, AbsTol: []float64{1}}); len(sol.Hits) != 0 {
		t.Errorf("missed levels are no events: %+v", sol.Hits)
	}
}

func TestDirections(t *testing.T) {
	for _, m := range methods {
		sol := solve(t, circle(14, level(0.5, +1), level(0.5, -1), level(0.5, 0)), tolerance(m.method, 2, 1e-10))
		up, down := math.Asin(0.5), math.Pi-math.Asin(0.5)
		want := []struct {
			event int
			t     float64
		}{
			{0, up}, {2, up}, {1, down}, {2, down},
			{0, up + 2*math.Pi}, {2, up + 2*math.Pi}, {1, down + 2*math.Pi}, {2, down + 2*math.Pi},
			{0, up + 4*math.Pi}, {2, up + 4*math.Pi},
		}
		if len(sol.Hits) != len(want) {
			t.Fatalf("%s: %d hits", m.name, len(sol.Hits))
		}
		for i, w := range want {
			if sol.Hits[i].Event != w.event {
				t.Errorf("%s: hit %d is event %d, want %d", m.name, i, sol.Hits[i].Event, w.event)
			}
			near(t, m.name, sol.Hits[i].T, w.t, 2e-9)
		}
	}
}

// An event with a value of zero at the start, or at a new start, does not fire
// there, whichever way rounding falls; other events do not bring it back.
func TestNoSecondFiring(t *testing.T) {
	for _, m := range methods {
		for _, x := range []float64{0, 0.1, 0.3, 0.7} {
			restarting := level(x, 0)
			restarting.Action = func(float64, []float64) Verdict { return Restart }
			twin := restarting
			p := circle(6, restarting, twin)
			sol := solve(t, p, Settings{Method: m.method})
			want := 4
			if x == 0 { // only at π
				want = 2
			}
			if len(sol.Hits) != want {
				t.Errorf("%s, level %v: %d hits, want %d: %+v", m.name, x, len(sol.Hits), want, sol.Hits)
			}
		}
	}
}

// Restart without a change is the same solution.
func TestRestartChangesNothing(t *testing.T) {
	restarting := level(0.4, 0)
	restarting.Action = func(float64, []float64) Verdict { return Restart }
	for _, m := range methods {
		set := tolerance(m.method, 2, 1e-8)
		a, b := solve(t, circle(10), set), solve(t, circle(10, restarting), set)
		if d := worst(a.Y, b.Y); d > 2e-6 {
			t.Errorf("%s: differ by %g", m.name, d)
		}
	}
}

// The observer sees adjoining pieces and nothing beyond an event before its
// action has run; Continue drops changes of y.
func TestObserverOrder(t *testing.T) {
	for _, m := range methods {
		seen := 0.0
		actions := 0
		watched := func(x float64, v Verdict) Event {
			e := level(x, 0)
			e.Action = func(at float64, y []float64) Verdict {
				actions++
				if seen != at {
					t.Errorf("%s: observer at %v, action at %v", m.name, seen, at)
				}
				if v == Continue {
					y[0] = 1e6
				}
				return v
			}
			return e
		}
		set := tolerance(m.method, 2, 1e-3)
		last := []float64{0, 1}
		set.OnStep = func(s *Step) {
			if s.T0 != seen || s.T1 <= s.T0 {
				t.Errorf("%s: step %v to %v after %v", m.name, s.T0, s.T1, seen)
			}
			for i, y := range last {
				if math.Abs(s.Value(i, s.T0)-y) > 1e-14 {
					t.Errorf("%s: jump at %v", m.name, s.T0)
				}
			}
			s.At(s.T1, last)
			seen = s.T1
		}
		sol := solve(t, circle(6, watched(0.5, Continue), watched(0.55, Restart), watched(0.6, Continue)), set)
		if seen != 6 || actions != 6 || len(sol.Hits) != 6 {
			t.Errorf("%s: seen to %v, %d actions, %d hits", m.name, seen, actions, len(sol.Hits))
		}
	}
}

func TestFinish(t *testing.T) {
	for _, m := range methods {
		stop := level(0.5, +1)
		stop.Action = func(_ float64, y []float64) Verdict { y[1] = 7; return Finish }
		seen := 0.0
		set := tolerance(m.method, 2, 1e-10)
		set.OnStep = func(s *Step) { seen = s.T1 }
		sol := solve(t, circle(6, stop), set)
		near(t, m.name, sol.T, math.Pi/6, 1e-9)
		if sol.Status != Finished || sol.Y[1] != 7 || seen != sol.T || len(sol.Hits) != 1 {
			t.Errorf("%s: %+v, seen to %v", m.name, sol, seen)
		}
		if math.Abs(sol.Hits[0].Y[1]-math.Cos(sol.T)) > 1e-8 {
			t.Errorf("%s: the hit holds the state before the action: %v", m.name, sol.Hits[0].Y)
		}
	}
}

// A peak at a corner: the slope jumps from + to − across a stop, or across the
// action of another event.
func TestJumpingValue(t *testing.T) {
	peak := Event{
		Name: "peak", Direction: -1,
		Value: func(_ float64, _, dydt []float64) float64 { return dydt[0] },
	}
	for _, m := range methods {
		p := Problem{
			Deriv: func(t float64, y, d []float64) error {
				d[0] = 1
				if t >= 2 {
					d[0] = -1
				}
				return nil
			},
			T1: 5, Y0: []float64{0}, Stops: []float64{2}, Events: []Event{peak},
		}
		sol := solve(t, p, Settings{Method: m.method})
		if len(sol.Hits) != 1 || sol.Hits[0].T != 2 || math.Abs(sol.Hits[0].Y[0]-2) > 1e-12 {
			t.Errorf("%s: %+v", m.name, sol.Hits)
		}
		rate := 1.0
		turn := level(2, +1)
		turn.Action = func(float64, []float64) Verdict { rate = -1; return Restart }
		p.Stops, p.Events = nil, []Event{peak, turn}
		p.Deriv = func(t float64, y, d []float64) error { d[0] = rate; return nil }
		sol = solve(t, p, Settings{Method: m.method})
		if len(sol.Hits) != 2 || sol.Hits[0].Event != 1 || sol.Hits[1].Event != 0 || sol.Hits[1].T != sol.Hits[0].T {
			t.Errorf("%s: %+v", m.name, sol.Hits)
		}
	}
}

func TestEventNaN(t *testing.T) {
	bad := Event{Name: "bad", Value: func(t float64, y, _ []float64) float64 { return math.Sqrt(1 - t) }}
	sol, err := Solve(context.Background(), circle(3, bad), Settings{})
	if !errors.Is(err, ErrNotFinite) || sol.Status != Aborted || sol.T > 1 {
		t.Errorf("%v at %v", err, sol.T)
	}
}
