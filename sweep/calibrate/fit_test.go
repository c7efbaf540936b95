package calibrate

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
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

func TestBadProblems(t *testing.T) {
	for want, change := range map[string]func(p *Problem, start *[]float64){
		"needs a parameter":       func(_ *Problem, start *[]float64) { *start = nil },
		"no residuals":            func(p *Problem, _ *[]float64) { p.Residuals = 0 },
		"nothing to evaluate":     func(p *Problem, _ *[]float64) { p.Evaluate = nil },
		"difference step":         func(p *Problem, _ *[]float64) { p.Step = -1 },
		"2 parameters and 1 pri":  func(p *Problem, _ *[]float64) { p.Prior = make([]Prior, 1) },
		"2 parameters and 3 lowe": func(p *Problem, _ *[]float64) { p.Lo = make([]float64, 3) },
		"2 parameters and 1 uppe": func(p *Problem, _ *[]float64) { p.Hi = make([]float64, 1) },
		"2 parameters and 1 scal": func(p *Problem, _ *[]float64) { p.Scale = make([]float64, 1) },
		"parameter 1: starts":     func(_ *Problem, start *[]float64) { (*start)[1] = math.NaN() },
		"lower bound 1 is not":    func(p *Problem, _ *[]float64) { p.Lo, p.Hi = []float64{1, 0}, []float64{1, 1} },
		"lower bound NaN":         func(p *Problem, _ *[]float64) { p.Lo = []float64{math.NaN(), 0} },
		"deviation -1":            func(p *Problem, _ *[]float64) { p.Prior = []Prior{{}, {1, -1}} },
		"deviation NaN":           func(p *Problem, _ *[]float64) { p.Prior = []Prior{{}, {1, math.NaN()}} },
		"mean NaN":                func(p *Problem, _ *[]float64) { p.Prior = []Prior{{}, {math.NaN(), 1}} },
		"scale is -1":             func(p *Problem, _ *[]float64) { p.Scale = []float64{-1, 1} },
		"no loss of kind 7":       func(p *Problem, _ *[]float64) { p.Loss.Kind = 7 },
		"bend":                    func(p *Problem, _ *[]float64) { p.Loss = Loss{Huber, -1} },
	} {
		p, start := Problem{Residuals: 20, Evaluate: exact(decay)}, []float64{1, 1}
		change(&p, &start)
		if s, err := Fit(t.Context(), p, start, Settings{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q: %v, %v", want, s, err)
		}
	}
}

// inside fails the test when a problem is asked outside its bounds.
func inside(t interface {
	Errorf(format string, args ...any)
}, p Problem) Problem {
	inner := p.Evaluate
	p.Evaluate = func(ctx context.Context, x, r []float64) error {
		for k := range x {
			if !(x[k] >= p.Lo[k] && x[k] <= p.Hi[k]) {
				t.Errorf("asked at %v, outside %v to %v", x, p.Lo, p.Hi)
			}
		}
		return inner(ctx, x, r)
	}
	return p
}

// Random linear problems within bounds: the conditions of Karush, Kuhn and Tucker
// hold at the end, which for a convex problem is proof of the least.
func TestBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "parameters")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		a, b := randomRows(rng, 2*n+3, n)
		lo, hi, start := make([]float64, n), make([]float64, n), make([]float64, n)
		for k := range n {
			lo[k] = rng.NormFloat64()
			hi[k] = lo[k] + 0.1 + rng.ExpFloat64()
			start[k] = lo[k] + 3*rng.NormFloat64()
		}
		p := inside(t, Problem{Residuals: len(b), Lo: lo, Hi: hi, Evaluate: exact(func(x, r []float64) { linear(a, b, x, r) })})
		s, err := Fit(context.Background(), p, start, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		r, size := make([]float64, len(b)), 0.0
		linear(a, b, s.X, r)
		for _, v := range r {
			size += v * v
		}
		for k := range n {
			g, long := 0.0, 0.0
			for i := range r {
				g += a[i][k] * r[i]
				long += sq(a[i][k])
			}
			g /= math.Sqrt(long * size)
			atLo, atHi := s.X[k] == lo[k], s.X[k] == hi[k]
			if g < -1e-6 && !atHi || g > 1e-6 && !atLo {
				t.Fatalf("parameter %d has slope %v at %v in %v to %v", k, g, s.X[k], lo[k], hi[k])
			}
			if held := slices.Contains(s.Held, k); math.Abs(g) > 1e-6 && !held || held && !atLo && !atHi {
				t.Fatalf("parameter %d has slope %v at %v in %v to %v: held %v", k, g, s.X[k], lo[k], hi[k], held)
			}
		}
	})
}

// randomRows is a random linear problem.
func randomRows(rng *rand.Rand, m, n int) (a [][]float64, b []float64) {
	for range m {
		row := make([]float64, n)
		for k := range row {
			row[k] = rng.NormFloat64()
		}
		a, b = append(a, row), append(b, 3*rng.NormFloat64())
	}
	return a, b
}

// linear is r = A x - b.
func linear(a [][]float64, b, x, r []float64) {
	for i := range r {
		r[i] = -b[i]
		for k, v := range x {
			r[i] += a[i][k] * v
		}
	}
}

// A least at a bound, of a problem that is not linear: Rosenbrock's with x ≤ 0.5
// is least at (0.5, 0.25), where r = (0, 0.5).
func TestCurvedAtBound(t *testing.T) {
	p := Problem{Residuals: 2, Lo: []float64{-3, -3}, Hi: []float64{0.5, 3}, Evaluate: exact(moreGarbowHillstrom[0].f)}
	s, err := Fit(t.Context(), inside(t, p), []float64{-1.2, 1}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s.X[0]-0.5)+math.Abs(s.X[1]-0.25) > 1e-9 || math.Abs(s.Cost-0.25) > 1e-12 || !slices.Equal(s.Held, []int{0}) || s.Status != Converged {
		t.Errorf("%+v", s)
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
