package uncertainty

import (
	"context"
	"errors"
	"math"
	"testing"

	"gonum.org/v1/gonum/mathext"
	"hotclimb/sweep"
)

// sums is y = Σ x.
func sums(_ context.Context, x, y []float64) error {
	y[0] = 0
	for _, v := range x {
		y[0] += v
	}
	return nil
}

// TestNormalTails: the sum of 60 ± 3 and -50 ± 4 is 10 ± 5, with 5 and 95 % at
// 1.6449 deviations, and passes 0 with the probability Φ(-2) = 2.275 %. A
// quantile and a probability jump at a line across the inputs, so that evenness
// helps them less than the mean.
func TestNormalTails(t *testing.T) {
	for _, row := range []struct {
		design string
		points int
		most   [4]float64 // errors of mean, deviation, quantiles [σ], and of the probability
	}{
		{sweep.SobolDesign, 1024, [4]float64{0.001, 0.002, 0.03, 0.003}},
		{sweep.SobolDesign, 16384, [4]float64{0.0001, 0.0003, 0.010, 0.0005}},
		{sweep.LatinDesign, 1000, [4]float64{0.001, 0.05, 0.15, 0.01}},
	} {
		var worst [4]float64
		for seed := range uint64(5) {
			d := spreadOf(t, Study{
				Inputs:   []sweep.Normal{{Name: "a", Mean: 60, Deviation: 3}, {Name: "b", Mean: -50, Deviation: 4, Lo: math.Inf(-1), Hi: math.Inf(1)}},
				Evaluate: sums, Outputs: 1, Points: row.points, Design: row.design, Seed: seed, Workers: 2,
			}).Results[0]
			tail := 5 * mathext.NormalQuantile(0.95)
			for i, e := range [4]float64{
				(d.Mean - 10) / 5, d.Deviation/5 - 1,
				max(math.Abs(d.Low-10+tail), math.Abs(d.Median-10), math.Abs(d.High-10-tail)) / 5,
				d.Passed.Value - phi(-2),
			} {
				worst[i] = max(worst[i], math.Abs(e))
			}
			if d.Passed.Lo > phi(-2) || d.Passed.Hi < phi(-2) {
				t.Errorf("%s, %d points: interval %.4f does not hold %.4f", row.design, row.points, d.Passed, phi(-2))
			}
		}
		t.Logf("%s, %d points: errors up to %.2g", row.design, row.points, worst)
		for i := range worst {
			if worst[i] > row.most[i] {
				t.Errorf("%s, %d points: errors up to %.2g, stated %.2g", row.design, row.points, worst, row.most)
				break
			}
		}
	}
}

// TestFailuresTold: errors, panics and results that are no numbers are listed by
// number, and widen the interval of the probability by as much as they could
// have changed it.
func TestFailuresTold(t *testing.T) {
	study := Study{Inputs: standard(1), Outputs: 1, Points: 1024, Workers: 4, Evaluate: func(_ context.Context, x, y []float64) error {
		y[0] = x[0] + 1
		switch {
		case x[0] > 2:
			return errors.New("boils")
		case x[0] > 1.8:
			panic("no core")
		case x[0] > 1.7:
			y[0] = math.NaN()
		case x[0] > 1.6:
			y[0] = -1e160
		}
		return nil
	}}
	s := spreadOf(t, study)
	failed := int(math.Round(1024 * phi(-1.6)))
	if n := len(s.Failures); n < failed-1 || n > failed+1 {
		t.Errorf("%d failures, want %d", n, failed)
	}
	messages := map[string]bool{}
	for i, f := range s.Failures {
		messages[f.Err.Error()] = true
		if i > 0 && f.Run <= s.Failures[i-1].Run || f.Inputs[0] <= 1.6 {
			t.Errorf("failure %+v", f)
		}
	}
	for _, want := range []string{"boils", "internal fault, please report it: no core", "result 0 is NaN", "result 0 is -1e+160"} {
		if !messages[want] {
			t.Errorf("%q is not among %v", want, messages)
		}
	}
	p := s.Results[0].Passed
	if p.Lo > phi(-1) || p.Hi < phi(-1)+phi(-1.6) || s.Results[0].High > 2.6 {
		t.Errorf("passed %+v, 95 %% below %g", p, s.Results[0].High)
	}
	study.Evaluate = func(context.Context, []float64, []float64) error { panic("never") }
	if _, err := Propagate(t.Context(), study); err == nil {
		t.Error("all runs fail, and there is no error")
	}
}

// TestHistory: the bands of a history are those of its values, each with a limit
// of its own.
func TestHistory(t *testing.T) {
	const minutes = 200
	limits := make([]float64, minutes)
	for m := range limits {
		limits[m] = float64(m)
	}
	s := spreadOf(t, Study{Inputs: standard(1), Outputs: minutes, Points: 512, Workers: 2, Limits: limits, Evaluate: func(_ context.Context, x, y []float64) error {
		for m := range y {
			y[m] = float64(m) * (1 + 0.1*x[0])
		}
		return nil
	}})
	for m, d := range s.Results {
		want := float64(m) * 0.1 * mathext.NormalQuantile(0.95)
		if math.Abs(d.High-float64(m)-want) > 0.01*want || math.Abs(float64(m)-d.Low-want) > 0.01*want {
			t.Fatalf("minute %d: %g to %g, want %g ± %g", m, d.Low, d.High, float64(m), want)
		}
		if m > 0 && math.Abs(d.Passed.Value-0.5) > 0.005 {
			t.Fatalf("minute %d: %g at the limit or below", m, d.Passed.Value)
		}
	}
}

// TestMeansConverge: the error of mean and deviation of exp(x/2 + z/4), a
// lognormal with σ² = 5/16, falls nearly with 1/n over a Sobol sequence.
func TestMeansConverge(t *testing.T) {
	v := 5.0 / 16
	mean, deviation := math.Exp(v/2), math.Exp(v/2)*math.Sqrt(math.Expm1(v))
	rms := func(n int) (m, d float64) {
		const seeds = 20
		for seed := range uint64(seeds) {
			r := spreadOf(t, Study{Inputs: standard(2), Outputs: 1, Points: n, Seed: seed, Evaluate: func(_ context.Context, x, y []float64) error {
				y[0] = math.Exp(x[0]/2 + x[1]/4)
				return nil
			}}).Results[0]
			m += math.Pow(r.Mean-mean, 2) / seeds
			d += math.Pow(r.Deviation-deviation, 2) / seeds
		}
		return math.Sqrt(m), math.Sqrt(d)
	}
	m1, d1 := rms(1 << 7)
	m2, d2 := rms(1 << 12)
	orders := [2]float64{math.Log2(m1/m2) / 5, math.Log2(d1/d2) / 5}
	t.Logf("mean %.2g and %.2g, deviation %.2g and %.2g: orders %.2f", m1, m2, d1, d2, orders)
	if orders[0] < 0.85 || orders[1] < 0.7 {
		t.Errorf("orders %.2f", orders)
	}
}
