package optimum

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// noisy adds to each g a noise that is fixed for each place: spread evenly over
// ± amount.
func noisy(p Problem, amount float64, seed uint64) Problem {
	inner := p.Evaluate
	p.Evaluate = evaluate(func(x, g []float64) float64 {
		f, _ := inner(context.Background(), x, g)
		place := seed
		for _, v := range x {
			place = place*1_000_003 + math.Float64bits(v)
		}
		r := rand.New(rand.NewPCG(place, seed))
		for i := range g {
			g[i] += amount * (2*r.Float64() - 1)
		}
		return f
	})
	return p
}

// With a noise of 1e-4 of the temperatures, which are near 100 K in these
// problems, and the default step, both methods come within 0.2 % of the least
// area and keep the limits but for the noise.
func TestNoise(t *testing.T) {
	const amount = 0.01 // K
	worst := map[string]float64{}
	for seed := range uint64(20) {
		for _, k := range openings[1:] {
			p := noisy(k.p, amount, seed)
			slp, err := Minimise(t.Context(), p, k.start, Settings{})
			if err != nil {
				t.Fatal(k.name, err)
			}
			nm, err := Confirm(t.Context(), p, [][]float64{k.start, middle(p)}, Settings{})
			if err != nil {
				t.Fatal(k.name, err)
			}
			for method, s := range map[string]*Solution{"linear programs": slp, "Nelder-Mead": nm} {
				off := math.Abs(k.off(s.F))
				if off > 2e-3 || s.Violation > amount {
					t.Errorf("%s, %s, noise %d: %+v, known %v", k.name, method, seed, s, k.f)
				}
				worst[method+", "+k.name] = math.Max(worst[method+", "+k.name], off)
			}
		}
	}
	for name, off := range worst {
		t.Logf("%-35s off by %.1e at most", name, off)
	}
}

// middle is the middle of the bounds.
func middle(p Problem) []float64 {
	x := make([]float64, len(p.Lo))
	for i := range x {
		x[i] = (p.Lo[i] + p.Hi[i]) / 2
	}
	return x
}

// impossible are problems whose limits cannot all be kept, with the least
// shortfall.
var impossible = []known{
	// 0.8 - x ≤ 0 and x ≤ 0.3; a miss of the second counts twice.
	{"both sides", Problem{Lo: []float64{0}, Hi: []float64{1}, Limits: 2, Scale: []float64{1, 0.5},
		Evaluate: evaluate(func(x, g []float64) float64 {
			g[0], g[1] = x[0]-0.8, 0.3-x[0]
			return 2 + x[0]
		})}, []float64{0.9}, []float64{0.3}, 0.5},
	// A bowl that never reaches 0.
	{"bowl", Problem{Lo: every(2, 0), Hi: every(2, 1), Limits: 1,
		Evaluate: evaluate(func(x, g []float64) float64 {
			g[0] = -1 - sq(x[0]-0.3) - sq(x[1]-0.6)
			return 1 + x[0] + x[1]
		})}, []float64{0.9, 0.1}, []float64{0.3, 0.6}, 1},
	// Too hot with everything open: 100 - 200/(ab) at a = b = 1 misses by 100.
	{"all open", Problem{Lo: every(2, 0.1), Hi: every(2, 1), Limits: 1,
		Evaluate: evaluate(func(x, g []float64) float64 {
			g[0] = 100 - 200/(x[0]*x[1])
			return x[0] + x[1]
		})}, []float64{0.3, 0.8}, []float64{1, 1}, 100},
}

func TestImpossible(t *testing.T) {
	for _, k := range impossible {
		slp, err := Minimise(t.Context(), within(t, k.p), k.start, Settings{})
		if err != nil {
			t.Fatal(k.name, err)
		}
		nm, err := Confirm(t.Context(), within(t, k.p), [][]float64{k.start}, Settings{})
		if err != nil {
			t.Fatal(k.name, err)
		}
		if slp.Status != Converged {
			t.Errorf("%s: %v", k.name, slp.Status)
		}
		for _, s := range []*Solution{slp, nm} {
			t.Logf("%-12s misses %.9g (least %v) at %.6f, %d evaluations, %v", k.name, s.Violation, k.f, s.X, s.Evaluations, s.Status)
			if s.Feasible || math.Abs(s.Violation-k.f) > 1e-4*k.f {
				t.Errorf("%s: %+v, least shortfall %v", k.name, s, k.f)
			}
			for i := range k.x {
				if math.Abs(s.X[i]-k.x[i]) > 5e-3 {
					t.Errorf("%s: at %v, want %v", k.name, s.X, k.x)
				}
			}
		}
	}
}

func TestSameForAnyWorkers(t *testing.T) {
	for _, k := range allKnown() {
		var first []*Solution
		for _, workers := range []int{1, 4, 8} {
			k.p.Workers = workers
			slp, err := Minimise(t.Context(), k.p, k.start, Settings{})
			if err != nil {
				t.Fatal(err)
			}
			nm, err := Confirm(t.Context(), k.p, [][]float64{k.start, middle(k.p), k.p.Lo}, Settings{Evaluations: 300})
			if err != nil {
				t.Fatal(err)
			}
			got := []*Solution{slp, nm}
			if first == nil {
				first = got
			}
			if d := cmp.Diff(first, got); d != "" {
				t.Errorf("%s: with %d workers instead of 1:\n%s", k.name, workers, d)
			}
		}
	}
}

func TestCancelled(t *testing.T) {
	k := openings[1]
	for _, after := range []int{0, 1, 2, 7} {
		for _, method := range []string{"Minimise", "Confirm"} {
			ctx, cancel := context.WithCancel(t.Context())
			left := after
			p := k.p
			p.Evaluate = func(ctx context.Context, x, g []float64) (float64, error) {
				if left--; left < 0 {
					cancel()
					return 0, ctx.Err()
				}
				return k.p.Evaluate(ctx, x, g)
			}
			var err error
			if method == "Minimise" {
				_, err = Minimise(ctx, p, k.start, Settings{})
			} else {
				_, err = Confirm(ctx, p, [][]float64{k.start}, Settings{})
			}
			if !errors.Is(err, context.Canceled) {
				t.Errorf("%s, cancelled after %d evaluations: %v", method, after, err)
			}
			cancel()
		}
	}
}

// A region where nothing can be computed, whichever way it shows, is avoided.
// The least, 1.08, lies at its edge x₀ + x₁ = 1, nearest to (0.2, 0.4). Linear
// programs know nothing of the edge and stall where they meet it, here 2 % off;
// Nelder and Mead's method finds its way along.
func TestFailures(t *testing.T) {
	for name, fail := range map[string]func(g []float64) (float64, error){
		"error":        func([]float64) (float64, error) { return 0, errors.New("no flight") },
		"f NaN":        func([]float64) (float64, error) { return math.NaN(), nil },
		"f Inf":        func([]float64) (float64, error) { return math.Inf(-1), nil },
		"limit NaN":    func(g []float64) (float64, error) { g[0] = math.NaN(); return 0, nil },
		"limit -Inf":   func(g []float64) (float64, error) { g[0] = math.Inf(-1); return 0, nil },
		"f overflowed": func([]float64) (float64, error) { return math.Exp(1000), nil },
	} {
		p := Problem{Lo: every(2, 0), Hi: every(2, 2), Limits: 1, Evaluate: func(_ context.Context, x, g []float64) (float64, error) {
			g[0] = 1.9 - x[0]
			if x[0]+x[1] < 1 {
				return fail(g)
			}
			return 1 + sq(x[0]-0.2) + sq(x[1]-0.4), nil
		}}
		slp, err := Minimise(t.Context(), p, []float64{1.5, 1.5}, Settings{})
		if err != nil {
			t.Fatal(name, err)
		}
		nm, err := Confirm(t.Context(), p, [][]float64{{0.1, 0.1}, {1.5, 1.5}}, Settings{})
		if err != nil {
			t.Fatal(name, err)
		}
		if !(slp.F >= 1.08-1e-9 && slp.F < 1.08*1.025) || !slp.Feasible || slp.Status != Stalled {
			t.Errorf("%s: %+v, want f 1.08 at (0.4, 0.6)", name, slp)
		}
		if !(nm.F >= 1.08-1e-9 && nm.F < 1.08*1.00001) || !nm.Feasible {
			t.Errorf("%s: %+v, want f 1.08 at (0.4, 0.6)", name, nm)
		}
		if _, err := Minimise(t.Context(), p, []float64{0.1, 0.1}, Settings{}); err == nil || !strings.Contains(err.Error(), "at the start") {
			t.Errorf("%s at the start: %v", name, err)
		}
	}
}

// A place where nothing can be computed is bad to Nelder and Mead's method, but
// finite, and is never the best.
func TestPenaltyOfFailure(t *testing.T) {
	p := Problem{Lo: every(1, 0), Hi: every(1, 1), Evaluate: evaluate(func(x, _ []float64) float64 {
		return math.Sqrt(0.5 - x[0])
	})}
	w := &walk{scaled: &scaled{Problem: &p, unit: 1}, weight: 1}
	if c, _ := w.look(t.Context(), []float64{0.75}); c[0].high != failed || w.best != nil {
		t.Errorf("penalty %v, best %v", c[0].high, w.best)
	}
	if c, _ := w.look(t.Context(), []float64{0.25}); c[0].high != 0.5 || w.best == nil {
		t.Errorf("penalty %v, best %v", c[0].high, w.best)
	}
}

// Limits and f in other units, chosen without rounding, are the same problem:
// the same answer, and prices in the new units.
func TestUnitsDoNotMatter(t *testing.T) {
	for _, k := range openings {
		one, err := Minimise(t.Context(), k.p, k.start, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		p := k.p
		p.Scale = every(p.Limits, 16)
		p.Evaluate = evaluate(func(x, g []float64) float64 {
			f, _ := k.p.Evaluate(t.Context(), x, g)
			for i := range g {
				g[i] *= 16
			}
			return 1024 * f
		})
		other, err := Minimise(t.Context(), p, k.start, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		for i := range one.Multipliers {
			one.Multipliers[i] *= 1024. / 16
		}
		if !cmp.Equal(one.X, other.X) || !cmp.Equal(one.Multipliers, other.Multipliers) {
			t.Errorf("%s: %+v in other units, expected %+v", k.name, other, one)
		}
	}
}

// A limit that is nowhere near (+Inf) does not disturb, nor does one that
// becomes finite on the way.
func TestLimitNowhereNear(t *testing.T) {
	p := Problem{Lo: every(2, 0), Hi: every(2, 4), Limits: 3, Evaluate: evaluate(func(x, g []float64) float64 {
		g[0], g[1], g[2] = x[0]*x[1]-1, math.Inf(1), math.Inf(1)
		if x[0] < 2 {
			g[2] = x[0] - 0.5
		}
		return x[0] + 4*x[1]
	})}
	// 4·x₁ = x₀ at x₀·x₁ = 1: (2, ½); from 3 across the jump at 2 it is found from both sides.
	for _, start := range [][]float64{{3, 3}, {1, 2}} {
		s, err := Minimise(t.Context(), p, start, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(s.F-4) > 1e-5 || !s.Feasible || s.Multipliers[1] != 0 || s.Multipliers[2] != 0 {
			t.Errorf("from %v: %+v", start, s)
		}
	}
}

// A kink, the worse of two temperatures as one limit, is no good to linear
// programs: they stop beside it, here 1 mK short of the limit. The same limits
// in two rows are the problem "vertex", which they solve.
func TestKink(t *testing.T) {
	p := Problem{Lo: every(2, 0.1), Hi: every(2, 6), Limits: 1, Evaluate: evaluate(func(x, g []float64) float64 {
		g[0] = math.Min(80-160/(sq(x[0])*x[1]), 80-320/(x[0]*sq(x[1])))
		return x[0] + x[1]
	})}
	for _, start := range [][]float64{{4, 4}, {0.4, 5}, {5, 0.4}} {
		s, err := Minimise(t.Context(), p, start, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("f %.6f, misses %.1e K, %d evaluations, %v", s.F, s.Violation, s.Evaluations, s.Status)
		if math.Abs(s.F-3) > 0.002*3 || s.Violation > 0.01 {
			t.Errorf("%+v, want 3 at (1, 2)", s)
		}
	}
}

func TestBadProblems(t *testing.T) {
	good := openings[0].p
	for want, change := range map[string]func(*Problem){
		"needs a variable":         func(p *Problem) { p.Lo, p.Hi = nil, nil },
		"2 lower and 1 upper":      func(p *Problem) { p.Hi = []float64{1} },
		"the lower must be less":   func(p *Problem) { p.Hi = []float64{0.1, 4} },
		"both finite":              func(p *Problem) { p.Hi = []float64{math.Inf(1), 4} },
		"1 limits and 2 scales":    func(p *Problem) { p.Scale = []float64{1, 1} },
		"scale 0 of limit 0":       func(p *Problem) { p.Scale = []float64{0} },
		"difference step 0.7":      func(p *Problem) { p.Step = 0.7 },
		"difference step NaN":      func(p *Problem) { p.Step = math.NaN() },
		"bounds NaN":               func(p *Problem) { p.Lo = []float64{math.NaN(), 0} },
		"there is nothing to eval": func(p *Problem) { p.Evaluate = nil },
	} {
		p := good
		change(&p)
		if _, err := Minimise(t.Context(), p, []float64{1, 1}, Settings{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Minimise: %v, want %q", err, want)
		}
		if _, err := Confirm(t.Context(), p, [][]float64{{1, 1}}, Settings{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Confirm: %v, want %q", err, want)
		}
	}
	for _, start := range [][]float64{nil, {1}, {1, math.NaN()}} {
		if _, err := Minimise(t.Context(), good, start, Settings{}); err == nil {
			t.Errorf("Minimise started from %v", start)
		}
		if _, err := Confirm(t.Context(), good, [][]float64{{1, 1}, start}, Settings{}); err == nil {
			t.Errorf("Confirm started from %v", start)
		}
	}
	if _, err := Confirm(t.Context(), good, nil, Settings{}); err == nil {
		t.Error("Confirm started from nothing")
	}
}
