package ode

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// Steps land on stops to the last bit and Deriv never sees a time from the other
// side: the jumps of f cost no rejected step.
func TestStops(t *testing.T) {
	stops := []float64{0.7, 0.1, 1. / 3, 0.7, -5, 2, 9, math.Nextafter(1, 2), 1}
	for _, m := range methods {
		y := 0.0
		legs := []float64{0, 0.1, 1. / 3, 0.7, 1, math.Nextafter(1, 2), 2}
		p := Problem{
			Deriv: func(t float64, _, d []float64) error {
				leg := 0
				for leg+1 < len(legs) && t >= legs[leg+1] {
					leg++
				}
				d[0] = float64(1 + leg*leg*1000)
				return nil
			},
			T1: 2, Y0: []float64{0}, Stops: stops,
		}
		for leg := range 6 {
			y += float64(1+leg*leg*1000) * (legs[leg+1] - legs[leg])
		}
		var ends []float64
		set := Settings{Method: m.method, OnStep: func(s *Step) { ends = append(ends, s.T1) }}
		sol := solve(t, p, set)
		for _, want := range legs[1:] {
			if !slices.Contains(ends, want) {
				t.Errorf("%s: no step ends at %v", m.name, want)
			}
		}
		near(t, m.name, sol.Y[0], y, 1e-13)
		if sol.Stats.Rejected != 0 || sol.T != 2 {
			t.Errorf("%s: %+v", m.name, sol)
		}
	}
}

func TestStepLimits(t *testing.T) {
	for _, m := range methods {
		set := Settings{Method: m.method, MaxStep: 0.25, FirstStep: 0.01}
		first := 0.0
		set.OnStep = func(s *Step) {
			if first == 0 {
				first = s.T1
			}
			if s.T1-s.T0 > 0.25+1e-12 {
				t.Errorf("%s: step of %v", m.name, s.T1-s.T0)
			}
		}
		solve(t, oneNode(10), set)
		if first != 0.01 {
			t.Errorf("%s: first step %v", m.name, first)
		}
	}
}

func TestTooManySteps(t *testing.T) {
	for _, m := range methods {
		sol, err := Solve(context.Background(), stiffLoop(), Settings{Method: m.method, MaxSteps: 7})
		if !errors.Is(err, ErrMaxSteps) || sol.Status != Aborted {
			t.Errorf("%s: %v, %v", m.name, err, sol.Status)
		}
		if sol.Stats.Steps+sol.Stats.Rejected != 7 || sol.T <= 0 || len(sol.Y) != 9 {
			t.Errorf("%s: partial solution %+v", m.name, sol)
		}
	}
}

func TestCancellation(t *testing.T) {
	for _, m := range methods {
		ctx, cancel := context.WithCancel(context.Background())
		steps := 0
		set := Settings{Method: m.method, OnStep: func(s *Step) {
			if steps++; steps == 5 {
				cancel()
			}
		}}
		sol, err := Solve(ctx, stiffLoop(), set)
		if !errors.Is(err, context.Canceled) || sol.Stats.Steps != 5 || sol.Status != Aborted {
			t.Errorf("%s: %v, %+v", m.name, err, sol.Stats)
		}
	}
}

// The error of Deriv comes back with time and state, and the solution up to a
// point just before it.
func TestDerivError(t *testing.T) {
	broken := errors.New("flow solve failed")
	for _, m := range methods {
		p := oneNode(100)
		inner := p.Deriv
		p.Deriv = func(t float64, y, d []float64) error {
			if t > 40 {
				return broken
			}
			return inner(t, y, d)
		}
		sol, err := Solve(context.Background(), p, tolerance(m.method, 1, 1e-6))
		if !errors.Is(err, broken) || !strings.Contains(err.Error(), "at t = ") || !strings.Contains(err.Error(), "y = [27.5") {
			t.Errorf("%s: %v", m.name, err)
		}
		if sol.Status != Aborted || math.Abs(sol.T-40) > 1e-9 {
			t.Errorf("%s: stopped at %v", m.name, sol.T)
		}
		near(t, m.name, sol.Y[0], 50*(1-math.Exp(-sol.T/50)), 1e-5)
	}
}

// A trial outside the domain of f only shortens the step: y' = −√y stays in a
// tube around (1 − t/2)², but the stages of a long step do not.
func TestDerivErrorOutsideDomain(t *testing.T) {
	for _, m := range methods {
		failed := 0
		p := Problem{
			Deriv: func(t float64, y, d []float64) error {
				if math.Abs(y[0]-(1-t/2)*(1-t/2)) > 0.02 {
					failed++
					return errors.New("outside")
				}
				d[0] = -math.Sqrt(y[0])
				return nil
			},
			T1: 1.9, Y0: []float64{1},
		}
		sol := solve(t, p, Settings{Method: m.method, FirstStep: 1.9, RelTol: 1e-7, AbsTol: []float64{1e-9}})
		near(t, m.name, sol.Y[0], 0.05*0.05, 1e-3) // (1 − t/2)²
		if failed == 0 {
			t.Errorf("%s: the test never left the domain", m.name)
		}
	}
}

// A component at the edge of the domain is shifted the other way for J.
func TestJacobianAtEdge(t *testing.T) {
	for _, m := range methods[:2] {
		refused := 0
		p := Problem{
			Deriv: func(t float64, y, d []float64) error {
				if y[0] > 1 {
					refused++
					return errors.New("beyond the edge")
				}
				d[0], d[1] = 0, y[0]-y[1]
				return nil
			},
			T1: 2, Y0: []float64{1, 0},
		}
		sol := solve(t, p, Settings{Method: m.method, RelTol: 1e-7})
		near(t, m.name, sol.Y[1], 1-math.Exp(-2), 1e-5)
		if refused == 0 || sol.Stats.Rejected != 0 {
			t.Errorf("%s: %d calls refused, %+v", m.name, refused, sol.Stats)
		}
	}
}

func TestNotFinite(t *testing.T) {
	for _, m := range methods {
		for _, bad := range []float64{math.NaN(), math.Inf(1)} {
			for _, from := range []float64{0, 1} {
				p := oneNode(10)
				inner := p.Deriv
				p.Deriv = func(t float64, y, d []float64) error {
					err := inner(t, y, d)
					if t >= from {
						d[0] = bad
					}
					return err
				}
				sol, err := Solve(context.Background(), p, Settings{Method: m.method})
				if !errors.Is(err, ErrNotFinite) || sol.Status != Aborted {
					t.Errorf("%s, %v from %v: %v", m.name, bad, from, err)
				}
				if math.IsNaN(sol.Y[0]) || math.Abs(sol.T-from) > 1e-9 {
					t.Errorf("%s: partial solution %+v", m.name, sol)
				}
			}
		}
	}
}

func TestJacobianError(t *testing.T) {
	broken := errors.New("no Jacobian")
	p := oneNode(10)
	p.Jacobian = func(float64, []float64, []float64) error { return broken }
	for _, m := range methods[:2] {
		if _, err := Solve(context.Background(), p, Settings{Method: m.method}); !errors.Is(err, broken) {
			t.Errorf("%s: %v", m.name, err)
		}
	}
	p.Jacobian = func(_ float64, _, j []float64) error { j[0] = math.NaN(); return nil }
	for _, m := range methods[:2] {
		if _, err := Solve(context.Background(), p, Settings{Method: m.method}); !errors.Is(err, ErrNotFinite) {
			t.Errorf("%s: %v", m.name, err)
		}
	}
}

func TestBadInput(t *testing.T) {
	nan := math.NaN()
	for name, spoil := range map[string]func(*Problem, *Settings){
		"no Deriv":       func(p *Problem, _ *Settings) { p.Deriv = nil },
		"no state":       func(p *Problem, _ *Settings) { p.Y0 = nil },
		"state NaN":      func(p *Problem, _ *Settings) { p.Y0 = []float64{nan} },
		"backwards":      func(p *Problem, _ *Settings) { p.T1 = -1 },
		"time NaN":       func(p *Problem, _ *Settings) { p.T0 = nan },
		"endless":        func(p *Problem, _ *Settings) { p.T1 = math.Inf(1) },
		"all passive":    func(p *Problem, _ *Settings) { p.Passive = 1 },
		"stop NaN":       func(p *Problem, _ *Settings) { p.Stops = []float64{nan} },
		"event no value": func(p *Problem, _ *Settings) { p.Events = []Event{{Name: "x"}} },
		"abs length":     func(_ *Problem, s *Settings) { s.AbsTol = []float64{1, 1} },
		"abs negative":   func(_ *Problem, s *Settings) { s.AbsTol = []float64{-1} },
		"rel negative":   func(_ *Problem, s *Settings) { s.RelTol = -1 },
		"rel NaN":        func(_ *Problem, s *Settings) { s.RelTol = nan },
		"max step":       func(_ *Problem, s *Settings) { s.MaxStep = -1 },
		"method":         func(_ *Problem, s *Settings) { s.Method = 99 },
	} {
		p, set := oneNode(1), Settings{}
		spoil(&p, &set)
		if _, err := Solve(context.Background(), p, set); !errors.Is(err, ErrBadInput) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, err := NewSolver(3).Solve(context.Background(), oneNode(1), Settings{}); !errors.Is(err, ErrBadInput) {
		t.Errorf("wrong size: %v", err)
	}
}

func TestEmptyInterval(t *testing.T) {
	for _, m := range methods {
		sol := solve(t, oneNode(0), Settings{Method: m.method})
		if sol.Status != Reached || sol.T != 0 || sol.Y[0] != 0 || sol.Stats.Steps != 0 {
			t.Errorf("%s: %+v", m.name, sol)
		}
	}
}

// A reused solver gives the same bits as a new one and leaves the input alone.
func TestReuse(t *testing.T) {
	s := NewSolver(9)
	for _, m := range methods {
		p := stiffLoop()
		p.T1 = 100
		p.Events = []Event{level(90, 0)}
		set := tolerance(m.method, 9, 1e-4)
		want := solve(t, p, set)
		for range 2 {
			got, err := s.Solve(context.Background(), p, set)
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(got.Y, want.Y) || got.Stats != want.Stats || len(got.Hits) != len(want.Hits) {
				t.Errorf("%s: %+v, new solver %+v", m.name, got, want)
			}
		}
		if !slices.Equal(p.Y0, filled(9, 35)) || !slices.Equal(p.Stops, []float64{60, 600}) {
			t.Error("the problem was changed")
		}
	}
}

// A long integration allocates no more than a short one.
func TestNoAllocationPerStep(t *testing.T) {
	never := level(1e4, 0)
	for _, m := range methods {
		s := NewSolver(9)
		sum := 0.0
		set := tolerance(m.method, 9, 1e-4)
		set.OnStep = func(s *Step) {
			v, at := s.Extremum(0)
			sum += v + at + s.Rate(1, s.T1)
		}
		count := func(T1 float64) (allocs float64, steps int) {
			p := stiffLoop()
			p.T1, p.Stops = T1, nil
			p.Events = []Event{never}
			allocs = testing.AllocsPerRun(3, func() {
				sol, err := s.Solve(context.Background(), p, set)
				if err != nil {
					t.Fatal(err)
				}
				steps = sol.Stats.Steps
			})
			return allocs, steps
		}
		short, few := count(1)
		long, many := count(50)
		if long != short || many < 2*few {
			t.Errorf("%s: %v allocations in %d steps, %v in %d", m.name, short, few, long, many)
		}
		if short > 1 { // the state of the solution
			t.Errorf("%s: %v allocations", m.name, short)
		}
	}
}
