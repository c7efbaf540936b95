package calibrate

import (
	"context"
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// From their published starts, and where that is said from ten and a hundred
// times as far, the searches end in a known least.
func TestPublished(t *testing.T) {
	for _, p := range moreGarbowHillstrom {
		for _, by := range []float64{1, 10, 100} {
			if p.near && by > 1 {
				continue
			}
			start := make([]float64, len(p.start))
			for k, v := range p.start {
				start[k] = by * v
			}
			s, err := Fit(t.Context(), Problem{Residuals: p.m, Evaluate: exact(p.f)}, start, Settings{})
			if err != nil {
				t.Errorf("%s from %v times its start: %v", p.name, by, err)
				continue
			}
			off := math.Inf(1)
			for _, least := range p.least {
				off = math.Min(off, math.Abs(s.Cost-least)/math.Max(least, 1e-9))
			}
			t.Logf("%-22s %3v: %.7g, off %.1e, angle %.1e, %3d steps, %4d evaluations, %v", p.name, by, s.Cost, off, s.Angle, s.Iterations, s.Evaluations, s.Status)
			if off > 3e-7 || s.Status != Converged { // published with 7 digits
				t.Errorf("%s from %v times its start: %v at %v, known %v, %v", p.name, by, s.Cost, s.X, p.least, s.Status)
			}
		}
	}
}

// The same bytes with one worker and with four.
func TestWorkers(t *testing.T) {
	for _, p := range moreGarbowHillstrom {
		var all [2]*Solution
		for i, workers := range []int{1, 4} {
			s, err := Fit(t.Context(), Problem{Residuals: p.m, Evaluate: exact(p.f), Workers: workers}, p.start, Settings{Iterations: 50})
			if err != nil {
				t.Fatal(p.name, err)
			}
			s.prior = nil // functions are never equal
			all[i] = s
		}
		if !reflect.DeepEqual(all[0], all[1]) {
			t.Errorf("%s: %+v with one worker, %+v with four", p.name, all[0], all[1])
		}
	}
}

// decay is a·exp(-b·t) at twenty times, exact for a = 3, b = 0.5, over σ = 0.1.
func decay(x, r []float64) {
	for i := range r {
		t := float64(i) / 5
		r[i] = (x[0]*math.Exp(-x[1]*t) - 3*math.Exp(-0.5*t)) / 0.1
	}
}

func TestCancel(t *testing.T) {
	for after := range 12 {
		ctx, cancel := context.WithCancel(t.Context())
		asked := 0
		p := Problem{Residuals: 20, Evaluate: func(ctx context.Context, x, r []float64) error {
			if asked++; asked > after {
				cancel()
				return ctx.Err()
			}
			decay(x, r)
			return nil
		}}
		if s, err := Fit(ctx, p, []float64{1, 1}, Settings{}); s != nil || !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled after %d: %v, %v", after, s, err)
		}
		if asked > after+1 {
			t.Errorf("cancelled after %d, asked %d times", after, asked)
		}
		cancel()
	}
}

// Where nothing can be computed, by an error or by NaN or by infinity, the search
// turns back, and still finds the least beside it.
func TestFailures(t *testing.T) {
	for name, failure := range map[string]func(r []float64) error{
		"error": func([]float64) error { return errors.New("too slow to fly") },
		"NaN":   func(r []float64) error { r[3] = math.NaN(); return nil },
		"+Inf":  func(r []float64) error { r[3] = math.Inf(1); return nil },
		"huge":  func(r []float64) error { r[3] = 1e200; return nil },
	} {
		failed := 0
		p := Problem{Residuals: 20, Evaluate: func(_ context.Context, x, r []float64) error {
			decay(x, r)
			if x[1] < 0.49 {
				failed++
				return failure(r)
			}
			return nil
		}}
		s, err := Fit(t.Context(), p, []float64{8, 3}, Settings{})
		if err != nil {
			t.Fatal(name, err)
		}
		if off := math.Hypot(s.X[0]-3, s.X[1]-0.5); off > 1e-8 || failed == 0 || s.Status != Converged {
			t.Errorf("%s: off by %v after %d failures: %+v", name, off, failed, s)
		}
		if s, err := Fit(t.Context(), p, []float64{1, 0.4}, Settings{}); err == nil || !strings.Contains(err.Error(), "at the start") {
			t.Errorf("%s at the start: %v, %v", name, s, err)
		}
	}
}

// A start that can be computed beside places that cannot, on both sides.
func TestNothingBeside(t *testing.T) {
	p := Problem{Residuals: 1, Evaluate: func(_ context.Context, x, r []float64) error {
		r[0] = 1
		if x[0] != 2 {
			return errors.New("only here")
		}
		return nil
	}}
	if s, err := Fit(t.Context(), p, []float64{2}, Settings{}); err == nil || !strings.Contains(err.Error(), "beside") {
		t.Errorf("%v, %v", s, err)
	}
}

// A column of slopes becomes e⁴⁰ times smaller on the way, beside one that is 0:
// what is unseen does not hold up the rest.
func TestShrinkingColumn(t *testing.T) {
	var all [2]*Solution
	for i, start := range [][]float64{{4}, {4, 1}} {
		s, err := Fit(t.Context(), Problem{Residuals: 10, Evaluate: exact(func(x, r []float64) {
			for i := range r {
				t := float64(i + 1)
				r[i] = 2 + 2*t - math.Exp(t*x[0])
			}
		})}, start, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		all[i] = s
	}
	if math.Abs(all[0].X[0]-all[1].X[0]) > 1e-9 || all[1].X[1] != 1 || all[1].Status != Converged || all[1].Iterations > 100 {
		t.Errorf("%+v alone, %+v beside nothing", all[0], all[1])
	}
}

// A place that can be computed but nothing beside it is no place to go on from:
// here the first that comes near the least.
func TestIsland(t *testing.T) {
	island := math.NaN()
	p := Problem{Residuals: 1, Evaluate: func(_ context.Context, x, r []float64) error {
		r[0] = math.Exp(x[0]) - 1
		if math.IsNaN(island) && math.Abs(x[0]) < 0.3 {
			island = x[0]
		}
		if off := math.Abs(x[0] - island); off > 0 && off < 1e-3 {
			return errors.New("under water")
		}
		return nil
	}}
	s, err := Fit(t.Context(), p, []float64{2}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if math.IsNaN(island) || s.Cost > 1e-12 {
		t.Errorf("%+v, island at %v", s, island)
	}
}

// A parameter that changes its unit changes its answer by the unit and nothing
// else: the steps are the same but for rounding.
func TestUnitsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Powers of two make the rounding the same too.
		unit := []float64{math.Ldexp(1, rapid.IntRange(-20, 20).Draw(t, "a")), math.Ldexp(1, rapid.IntRange(-20, 20).Draw(t, "b"))}
		one, err := Fit(context.Background(), Problem{Residuals: 20, Evaluate: exact(decay)}, []float64{1, 1}, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		other, err := Fit(context.Background(), Problem{Residuals: 20, Evaluate: exact(func(x, r []float64) {
			decay([]float64{x[0] / unit[0], x[1] / unit[1]}, r)
		})}, []float64{unit[0], unit[1]}, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		for k := range unit {
			if math.Abs(other.X[k]/unit[k]-one.X[k]) > 1e-9 || math.Abs(other.Sigma[k]/unit[k]/one.Sigma[k]-1) > 1e-6 {
				t.Fatalf("in units %v: %v ± %v, in units of 1: %v ± %v", unit, other.X, other.Sigma, one.X, one.Sigma)
			}
		}
		if one.Evaluations != other.Evaluations {
			t.Fatalf("in units %v: %d evaluations, in units of 1: %d", unit, other.Evaluations, one.Evaluations)
		}
	})
}

// Residuals with noise of 1e-3 of their σ, as integrators leave: with a step of
// differences above it the end is within a few hundredths of σ, and soon.
func TestNoisy(t *testing.T) {
	p := Problem{Residuals: 20, Scale: []float64{0.1, 0.05}, Step: 0.1, Evaluate: exact(func(x, r []float64) {
		decay(x, r)
		for i := range r {
			r[i] += 1e-3 * math.Sin(1e9*(x[0]+x[1]*float64(i+1)))
		}
	})}
	s, err := Fit(t.Context(), p, []float64{1, 1}, Settings{Gain: 1e-8})
	if err != nil {
		t.Fatal(err)
	}
	for k, truth := range []float64{3, 0.5} {
		if math.Abs(s.X[k]-truth) > 0.02*s.Sigma[k] {
			t.Errorf("parameter %d is %v ± %v, truly %v", k, s.X[k], s.Sigma[k], truth)
		}
	}
	if s.Evaluations > 150 {
		t.Errorf("%d evaluations", s.Evaluations)
	}
	t.Log(s.Evaluations, s.Status)
}

// A search that is cut short tells so, with the best that it had found.
func TestOutOfIterations(t *testing.T) {
	p := moreGarbowHillstrom[11] // Wood
	s, err := Fit(t.Context(), Problem{Residuals: p.m, Evaluate: exact(p.f)}, p.start, Settings{Iterations: 5})
	if err != nil {
		t.Fatal(err)
	}
	if s.Status != OutOfIterations || s.Iterations != 5 || fmt.Sprint(s.Status) != "out of iterations" {
		t.Errorf("%+v", s)
	}
	start := make([]float64, p.m)
	p.f(p.start, start)
	before := 0.0
	for _, r := range start {
		before += r * r
	}
	if !(s.Cost < before) {
		t.Errorf("%v after 5 steps, %v at the start", s.Cost, before)
	}
}

func BenchmarkFit(b *testing.B) {
	p := Problem{Residuals: 20, Evaluate: exact(decay)}
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Fit(b.Context(), p, []float64{1, 1}, Settings{}); err != nil {
			b.Fatal(err)
		}
	}
}
