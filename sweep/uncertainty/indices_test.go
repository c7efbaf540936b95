package uncertainty

import (
	"context"
	"errors"
	"math"
	"testing"

	"hotclimb/sweep"
)

// errorsOf are the greatest error of any index, and their mean square, over
// seeds.
func errorsOf(t *testing.T, f known, design string, n, seeds int) (worst, rms float64) {
	t.Helper()
	count := 0
	for seed := range uint64(seeds) {
		study := f.study(n, seed)
		var points sweep.Points
		if design == "chance" {
			points = newChance(n, 2*len(f.first), seed)
		} else {
			study.Design = design
		}
		for _, share := range indicesOf(t, study, points).Results[0].Shares {
			for _, e := range []float64{share.First.Value - f.first[share.Inputs[0]], share.Total.Value - f.total[share.Inputs[0]]} {
				worst, rms, count = max(worst, math.Abs(e)), rms+e*e, count+1
			}
		}
	}
	return worst, math.Sqrt(rms / float64(count))
}

// TestClosedForms: the greatest error of any first or total index over ten seeds
// stays below what is stated. With four times the points chance errs half as
// much, a Sobol sequence a quarter or less.
func TestClosedForms(t *testing.T) {
	for _, row := range []struct {
		f      known
		design string
		most   [2]float64 // with 1024 and with 4096 points
		order  float64    // of the fall of the root mean square: at least
		long   bool
	}{
		{ishigami(), sweep.SobolDesign, [2]float64{0.023, 0.003}, 1, false},
		{ishigami(), sweep.LatinDesign, [2]float64{0.060, 0.040}, 0.3, false},
		{ishigami(), "chance", [2]float64{0.13, 0.054}, 0.2, true},
		{gFunction(false), sweep.SobolDesign, [2]float64{0.010, 0.003}, 0.8, true},
		{gFunction(true), sweep.SobolDesign, [2]float64{0.010, 0.003}, 0.8, false},
		{gFunction(true), sweep.LatinDesign, [2]float64{0.070, 0.030}, 0.3, true},
		{gFunction(true), "chance", [2]float64{0.060, 0.035}, 0.2, true},
	} {
		if row.long && !long() {
			continue
		}
		few, a := errorsOf(t, row.f, row.design, 1024, 10)
		many, b := errorsOf(t, row.f, row.design, 4096, 10)
		order := math.Log(a/b) / math.Log(4)
		t.Logf("%s, %s: at most %.4f with 1024 points and %.4f with 4096; root mean squares %.4f and %.4f, order %.2f", row.f.name, row.design, few, many, a, b, order)
		if few > row.most[0] || many > row.most[1] || order < row.order {
			t.Errorf("%s, %s: errors up to %.4f and %.4f, stated %g; order %.2f, stated %g", row.f.name, row.design, few, many, row.most, order, row.order)
		}
	}
}

// TestCoverage: intervals of 90 % hold the true index in so many of the trials.
// Over independent points that is nine tenths; over a Sobol sequence, for which
// the bootstrap does not allow, nearly always.
func TestCoverage(t *testing.T) {
	trials, n := 300, 256
	if long() {
		trials, n = 500, 512
	}
	f := ishigami()
	for _, row := range []struct {
		design      string
		least, most float64
	}{{"chance", 0.85, 0.95}, {sweep.SobolDesign, 0.95, 1}} {
		var first, total [3]float64
		for seed := range uint64(trials) {
			study, points := f.study(n, seed), sweep.Points(nil)
			study.Resamples = 200
			if row.design == "chance" {
				points = newChance(n, 6, seed)
			}
			for _, share := range indicesOf(t, study, points).Results[0].Shares {
				k := share.Inputs[0]
				if share.First.Lo <= f.first[k] && f.first[k] <= share.First.Hi {
					first[k] += 1 / float64(trials)
				}
				if share.Total.Lo <= f.total[k] && f.total[k] <= share.Total.Hi {
					total[k] += 1 / float64(trials)
				}
			}
		}
		t.Logf("%s, %d trials of %d points: first %.3f, total %.3f", row.design, trials, n, first, total)
		for _, covered := range append(first[:], total[:]...) {
			if covered < row.least || covered > row.most+1e-9 {
				t.Errorf("%s: %.3f of the intervals hold the index, stated %g to %g", row.design, covered, row.least, row.most)
			}
		}
	}
}

// TestSumAndProduct: of 3a - 2b + c + 100 with deviations 1, 2, 2 the variances
// are 9, 16 and 4; of a b neither alone does anything, and each does all beside
// the other.
func TestSumAndProduct(t *testing.T) {
	in := standard(3)
	in[0].Mean, in[1].Deviation, in[2].Deviation = 5, 2, 2
	study := Study{Inputs: in, Outputs: 3, Points: 4096, Workers: 2, Evaluate: func(_ context.Context, x, y []float64) error {
		y[0], y[1], y[2] = 3*x[0]-2*x[1]+x[2]+100, (x[0]-5)*x[1], 7.1
		return nil
	}}
	sources := indicesOf(t, study, nil)
	line := sources.Results[0]
	for place, want := range []struct {
		input int
		share float64
	}{{1, 16.0 / 29}, {0, 9.0 / 29}, {2, 4.0 / 29}} {
		got := line.Shares[place]
		t.Logf("line: %s first %.5f, total %.5f, want %.5f", got.Name, got.First, got.Total, want.share)
		if got.Inputs[0] != want.input || got.Name != in[want.input].Name || math.Abs(got.First.Value-want.share) > 2e-3 || math.Abs(got.Total.Value-want.share) > 2e-3 {
			t.Errorf("place %d: %+v, want input %d with %g", place, got, want.input, want.share)
		}
		if got.First.Lo > want.share || got.First.Hi < want.share || got.Total.Lo > want.share || got.Total.Hi < want.share {
			t.Errorf("intervals %+v do not hold %g", got, want.share)
		}
	}
	if math.Abs(line.Deviation/math.Sqrt(29)-1) > 2e-3 || math.Abs(line.Mean-115) > 2e-3 {
		t.Errorf("mean %g and deviation %g, want 115 and √29", line.Mean, line.Deviation)
	}
	for _, share := range sources.Results[1].Shares {
		want := [3]float64{1, 1, 0}[share.Inputs[0]]
		t.Logf("product: %s first %.4f, total %.4f", share.Name, share.First.Value, share.Total.Value)
		if math.Abs(share.First.Value) > 0.03 || math.Abs(share.Total.Value-want) > 0.03 {
			t.Errorf("product: %+v, want 0 and %g", share, want)
		}
	}
	constant := sources.Results[2]
	if constant.Deviation != 0 || constant.Mean != 7.1 {
		t.Errorf("a constant has mean %g and deviation %g", constant.Mean, constant.Deviation)
	}
	for k, share := range constant.Shares {
		if share.Inputs[0] != k || share.First != (Estimate{}) || share.Total != (Estimate{}) {
			t.Errorf("a constant has the share %+v", share)
		}
	}
}

// TestFailedPoints: a point with a failed run is dropped whole, and each of its
// runs that failed is told.
func TestFailedPoints(t *testing.T) {
	hot := errors.New("boils")
	study := Study{Inputs: standard(2), Outputs: 1, Points: 256, Workers: 2, Evaluate: func(_ context.Context, x, y []float64) error {
		if y[0] = x[0] + x[1]; x[0] > 2 {
			return hot
		}
		return nil
	}}
	sources := indicesOf(t, study, nil)
	points := map[int]bool{}
	for _, f := range sources.Failures {
		if !errors.Is(f.Err, hot) || f.Inputs[0] <= 2 {
			t.Errorf("failure %+v", f)
		}
		points[f.Run/4] = true
	}
	if len(points) == 0 || sources.Dropped != len(points) || sources.Runs != 4*256 {
		t.Errorf("%d of %d runs failed in %d points, %d dropped", len(sources.Failures), sources.Runs, len(points), sources.Dropped)
	}
	study.Evaluate = func(context.Context, []float64, []float64) error { return hot }
	if _, err := Indices(t.Context(), study); !errors.Is(err, hot) {
		t.Errorf("all runs fail: %v", err)
	}
}
