package uncertainty

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"strings"
	"sync/atomic"
	"testing"

	"gonum.org/v1/gonum/mat"
	"hotclimb/sweep"
)

// TestWorkersAlike: the same to the last digit with one worker and with eight,
// and something else from another seed.
func TestWorkersAlike(t *testing.T) {
	f := ishigami()
	bytesOf := func(workers int, seed uint64, design string) []byte {
		study := f.study(128, seed)
		study.Workers, study.Design, study.Resamples = workers, design, 50
		run := study.Evaluate
		study.Evaluate = func(ctx context.Context, x, y []float64) error {
			if x[0] > 1.5 {
				return errors.New("boils")
			}
			return run(ctx, x, y)
		}
		type failure struct {
			Run int
			X   []float64
		}
		var failures []failure
		sources, spread := indicesOf(t, study, nil), spreadOf(t, study)
		for _, f := range append(sources.Failures, spread.Failures...) {
			failures = append(failures, failure{f.Run, f.Inputs})
		}
		sources.Failures, spread.Failures = nil, nil
		text, err := json.Marshal([]any{sources, spread, failures})
		if err != nil {
			t.Fatal(err)
		}
		return text
	}
	for _, design := range []string{sweep.SobolDesign, sweep.LatinDesign} {
		one := bytesOf(1, 3, design)
		for _, workers := range []int{4, 8} {
			if !bytes.Equal(one, bytesOf(workers, 3, design)) {
				t.Errorf("%s: %d workers give something else than one", design, workers)
			}
		}
		if bytes.Equal(one, bytesOf(1, 4, design)) {
			t.Errorf("%s: another seed gives the same", design)
		}
	}
}

// TestCancel: no more runs than are under way are made after the context has
// ended, and its error comes back.
func TestCancel(t *testing.T) {
	doors := map[string]func(context.Context, Study) error{
		"spread":  func(ctx context.Context, s Study) error { _, err := Propagate(ctx, s); return err },
		"indices": func(ctx context.Context, s Study) error { _, err := Indices(ctx, s); return err },
	}
	for name, door := range doors {
		for _, after := range []int64{1, 100, 1024} {
			ctx, stop := context.WithCancel(context.Background())
			var runs atomic.Int64
			err := door(ctx, Study{Inputs: standard(2), Outputs: 1, Workers: 4, Evaluate: func(ctx context.Context, x, y []float64) error {
				switch n := runs.Add(1); {
				case n == after:
					stop()
				case n > after:
					<-ctx.Done() // the other may not have come to it yet
				}
				return ctx.Err()
			}})
			stop()
			if !errors.Is(err, context.Canceled) || runs.Load() > after+4 {
				t.Errorf("%s, cancelled in run %d: %d runs and %v", name, after, runs.Load(), err)
			}
		}
	}
}

// TestFaults: what cannot be studied is refused, all faults at once.
func TestFaults(t *testing.T) {
	good := func() Study {
		return Study{Inputs: standard(2), Outputs: 1, Points: 16, Evaluate: sums}
	}
	for _, row := range []struct {
		spoil func(*Study)
		want  string
	}{
		{func(s *Study) { s.Evaluate = nil }, "no formula"},
		{func(s *Study) { s.Outputs = 0 }, "0 results"},
		{func(s *Study) { s.Limits = []float64{1, 2} }, "2 limits for 1 results"},
		{func(s *Study) { s.Limits = []float64{math.NaN()} }, "limit 0 is no number"},
		{func(s *Study) { s.Design = "grid" }, `design "grid" is not known`},
		{func(s *Study) { s.Points = 1000 }, "1000 points: a Sobol sequence needs a power of two"},
		{func(s *Study) { s.Points = 1 }, "1 points: take 2 to 1048576"},
		{func(s *Study) { s.Points = -4 }, "-4 points"},
		{func(s *Study) { s.Points, s.Outputs = 1<<20, 1<<12 }, "too many to keep"},
		{func(s *Study) { s.Workers = -1 }, "-1 workers"},
		{func(s *Study) { s.Level = 90 }, "level 90"},
		{func(s *Study) { s.Level = math.NaN() }, "level NaN"},
		{func(s *Study) { s.Resamples = -1 }, "-1 resamples"},
		{func(s *Study) { s.Inputs = nil }, "no inputs"},
		{func(s *Study) { s.Inputs[1].Deviation = 0 }, `input "b": the standard deviation is 0`},
		{func(s *Study) { s.Inputs[1].Deviation = math.NaN() }, "deviation is NaN"},
		{func(s *Study) { s.Inputs[0].Mean = math.Inf(1) }, `input "a": the mean is +Inf`},
		{func(s *Study) { s.Inputs[0].Lo = math.NaN() }, "nothing lies between"},
		{func(s *Study) { s.Inputs[0].Lo, s.Inputs[0].Hi = 2, 1 }, "nothing lies between"},
		{func(s *Study) { s.Inputs[0].Lo, s.Inputs[0].Hi = 1, 2 }, "outside of the bounds 1 to 2"},
		{func(s *Study) { s.Inputs[0].Mean, s.Workers = math.NaN(), -1 }, "-1 workers\ninput \"a\": the mean is NaN"},
		{func(s *Study) { s.Inputs = standard(sweep.SobolDimensions + 1) }, "Latin hypercube has no such bound"},
		{func(s *Study) { s.Correlation = mat.NewSymDense(1, []float64{1}) }, "1 rows for 2 numbers"},
	} {
		s := good()
		row.spoil(&s)
		if _, err := Propagate(t.Context(), s); err == nil || !strings.Contains(err.Error(), row.want) {
			t.Errorf("%v, want %q", err, row.want)
		}
	}
	if _, err := Indices(t.Context(), Study{Inputs: standard(sweep.SobolDimensions/2 + 1), Outputs: 1, Evaluate: sums}); err == nil {
		t.Error("indices of more inputs than the sequence has dimensions for")
	}
}

// TestQuantile: of 1, 2, 3, 4 a half lies below 2.5 and three eighths below 2.
func TestQuantile(t *testing.T) {
	for p, want := range map[float64]float64{0: 1, 0.05: 1, 0.125: 1, 0.25: 1.5, 0.375: 2, 0.5: 2.5, 0.875: 4, 1: 4} {
		if got := quantile([]float64{1, 2, 3, 4}, p); math.Abs(got-want) > 1e-12 {
			t.Errorf("%g below %g, want %g", p, got, want)
		}
	}
}

// TestDistribution: 4, 1, 3, 2 have mean 5/2 and variance 5/3, and two of them
// are at 2 or below.
func TestDistribution(t *testing.T) {
	s := Study{Level: 0.9}
	d := s.distribution([]float64{4, 1, 3, 2}, 2, 0)
	if d.Mean != 2.5 || math.Abs(d.Deviation-math.Sqrt(5.0/3)) > 1e-12 || d.Median != 2.5 || d.Passed.Value != 0.5 {
		t.Errorf("%+v", d)
	}
}

// TestWilson: the published interval of 81 of 263 at 95 % (R. G. Newcombe,
// "Two-sided confidence intervals for the single proportion", Statistics in
// Medicine 17, 857-872 (1998), table I, from memory), and the ends of all and
// of none: n/(n + z²).
func TestWilson(t *testing.T) {
	z2 := 1.959964 * 1.959964
	for _, row := range []struct {
		k, n   int
		lo, hi float64
	}{{81, 263, 0.2553, 0.3662}, {0, 20, 0, z2 / (20 + z2)}, {20, 20, 20 / (20 + z2), 1}} {
		lo, hi := wilson(row.k, row.n, 0.95)
		if math.Abs(lo-row.lo) > 5e-5 || math.Abs(hi-row.hi) > 5e-5 {
			t.Errorf("%d of %d: %.4f to %.4f, want %.4f to %.4f", row.k, row.n, lo, hi, row.lo, row.hi)
		}
	}
}
