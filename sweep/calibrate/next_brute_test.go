package calibrate

import (
	"context"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// TestBruteForceFlights: truths drawn within the doubts, a bias, a lag and a
// correlation among them, flown as real flights from starts that nobody knows,
// and read with noise; then the margin of the hot day is flown with the truth and
// with what the readings make of the numbers. The errors spread as the design
// says before anything is read. With a quarter of the doubts of the file the
// numbers are found to first order; HOTCLIMB_LONG=1 takes all of them, and fits.
func TestBruteForceFlights(t *testing.T) {
	brute(t, kept, 0.25, 60, (*drawnFlight).linear)
	if os.Getenv("HOTCLIMB_LONG") != "" {
		brute(t, kept, 1, 20, (*drawnFlight).fitted)
	}
}

// drawnFlight is a flight of which readings are drawn.
type drawnFlight struct {
	*planned
	t        *testing.T
	list     []openNumber
	prior    belief
	left     belief
	whitened *mat.Dense
	starts   *mat.Dense // slopes along them, in noises
}

func brute(t *testing.T, keep []string, share float64, draws int, find func(f *drawnFlight, y []float64) []float64) {
	t.Helper()
	sc, cases := towed(t, keep, "gauges.oil.bias=0 K ± 2 K", "gauges.coolant.lag=10 s ± 4 s")
	cases[0].Scenario = coupled(t, cases[0].Scenario, share)
	hot, names := cases[0].Scenario, []string{"as_it_is", "half_belly"}
	table := studied(t, 2, mild, sc, cases, names...)
	list, err := openNumbersOf(hot, mustDoubts(t, hot))
	if err != nil || len(list) != len(keep)+2 {
		t.Fatal(list, err)
	}
	var said, spread [2][2]float64
	rng := rand.New(rand.NewPCG(5, 4))
	for n, name := range names {
		f := toDraw(t, table.named(name), list, table.belief)
		for range draws {
			truth := f.prior.draw(rng)
			y := f.flown(t, list, truth, [2]float64{3 * rng.NormFloat64(), 3 * rng.NormFloat64()})
			for i := range y {
				y[i] += f.noise[i] * rng.NormFloat64()
			}
			is, found := margins(t, at(t, hot, list, truth)), margins(t, at(t, hot, list, find(f, y)))
			for c := range is {
				spread[n][c] += (found[c] - is[c]) * (found[c] - is[c])
			}
		}
		for c := range spread[n] {
			spread[n][c], said[n][c] = math.Sqrt(spread[n][c]/float64(draws)), table.named(name).After[c]
			t.Logf("%s: %s %.3f K now, said %.3f K, spread %.3f K", name, circuitName(c), table.Now[c], said[n][c], spread[n][c])
		}
	}
	chi := distuv.ChiSquared{K: float64(draws * len(names))}
	for c := range 2 {
		squares := 0.0
		for n := range names {
			squares += float64(draws) * math.Pow(spread[n][c]/said[n][c], 2)
		}
		if q := chi.CDF(squares); q < 1e-3 || q > 1-1e-3 {
			t.Errorf("%s errors are %.2f of what is said", circuitName(c), math.Sqrt(squares/chi.K))
		}
		// A spread of n draws is known to 1/√(2n), so that flights less than three
		// times their joint error apart have no order by draws.
		apart := math.Abs(said[0][c]-said[1][c]) / (said[0][c] + said[1][c]) * 2
		told := apart > 3/math.Sqrt(float64(draws))
		if told && (said[0][c]-said[1][c])*(spread[0][c]-spread[1][c]) < 0 {
			t.Errorf("%s: another order by draws: said %v, spread %v", circuitName(c), said, spread)
		}
	}
}

// coupled is a scenario with a share of its doubts, two of which go together.
func coupled(t *testing.T, sc *scenarios.Scenario, share float64) *scenarios.Scenario {
	t.Helper()
	sc, err := sc.Edit(func(c *scenarios.Scenario) error {
		list, err := openNumbersOf(sc, mustDoubts(t, sc))
		for _, u := range list {
			if n, _ := u.param.Get(c); err == nil {
				n.Doubt *= share
				err = u.param.SetText(c, n.Exact(u.param.Dimension))
			}
		}
		one := &scenarios.Correlation{Name: "heat", Of: "engine.heat_to_coolant", With: "exchangers.radiator.rating.heat"}
		one.Value.Number = known(0.6, "")
		c.Correlations = []*scenarios.Correlation{one}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return sc
}

// margins are those of a flight.
func margins(t *testing.T, sc *scenarios.Scenario) [2]float64 {
	t.Helper()
	o, err := outcome(context.Background(), sc)
	if err != nil {
		t.Fatal(err)
	}
	return [2]float64{o.Circuits[sweep.Coolant].Margin, o.Circuits[sweep.Oil].Margin}
}

func toDraw(t *testing.T, row *NextRow, list []openNumber, prior belief) *drawnFlight {
	t.Helper()
	p, err := planFlight(context.Background(), &row.Flight)
	if err != nil {
		t.Fatal(err)
	}
	starts, err := p.startSlopes(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	p.perNoise(starts)
	return &drawnFlight{planned: p, t: t, list: list, prior: prior, left: prior.after(row.slopes), whitened: row.slopes, starts: starts}
}

// draw is one truth, in deviations.
func (b belief) draw(rng *rand.Rand) []float64 {
	_, d := b.root.Dims()
	var z mat.VecDense
	z.MulVec(b.root, normals(rng, d, 1).ColView(0))
	return z.RawVector().Data
}

// flown are the readings without noise, from a start that is warmer.
func (p *planned) flown(t *testing.T, list []openNumber, z []float64, warmer [2]float64) []float64 {
	t.Helper()
	start := [2]float64{p.record.Start[0].Value + warmer[0], p.record.Start[1].Value + warmer[1]}
	trace, err := p.record.Fly(context.Background(), at(t, p.record.Scenario, list, z), Conditions{Start: &start, RelTol: fitTol})
	if err != nil {
		t.Fatal(err)
	}
	y := make([]float64, len(p.record.Readings))
	for i, m := range p.record.Readings {
		y[i] = trace.Of(m)
	}
	return y
}

// linear is what readings make of the numbers to first order.
func (f *drawnFlight) linear(y []float64) []float64 {
	off := mat.NewDense(len(y), 1, nil)
	for i, m := range f.record.Readings {
		off.Set(i, 0, (y[i]-f.base.Of(m))/f.noise[i])
	}
	read := whitened(off, f.starts).ColView(0).(*mat.VecDense)
	return learned(f.left, f.whitened, read).RawVector().Data
}

// fitted are the numbers, in deviations, that readings make most probable, the
// starts found with them.
func (f *drawnFlight) fitted(y []float64) []float64 {
	f.t.Helper()
	d := len(f.list)
	problem := Problem{
		Residuals: len(y), Step: 0.1, Workers: 2, Correlation: mat.NewSymDense(d+2, nil),
		Evaluate: func(_ context.Context, x, r []float64) error {
			for i, v := range f.flown(f.t, f.list, x[:d], [2]float64{x[d], x[d+1]}) {
				r[i] = (v - y[i]) / f.noise[i]
			}
			return nil
		},
	}
	correlation := correlationsOf(f.record.Scenario, f.list)
	for k := range d + 2 {
		problem.Prior = append(problem.Prior, Prior{0, 1})
		problem.Correlation.SetSym(k, k, 1)
		for j := range min(k, d) {
			if k < d {
				problem.Correlation.SetSym(j, k, correlation.At(j, k))
			}
		}
	}
	problem.Prior[d].Sigma, problem.Prior[d+1].Sigma = unread, unread
	s, err := Fit(context.Background(), problem, make([]float64, d+2), Settings{Gain: 1e-4})
	if err != nil {
		f.t.Fatal(err)
	}
	return s.X[:d]
}

// at is a scenario with its numbers so many deviations from their means.
func at(t *testing.T, sc *scenarios.Scenario, list []openNumber, z []float64) *scenarios.Scenario {
	t.Helper()
	moved, err := sc.Edit(func(c *scenarios.Scenario) error {
		for k, u := range list {
			if err := u.param.Set(c, min(max(u.mean+z[k]*u.sigma, u.param.Lo), u.param.Hi)); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return moved
}
