package uncertainty

import (
	"context"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// ones is a matrix of no correlations but some.
func ones(n int, pairs map[[2]int]float64) *mat.SymDense {
	m := mat.NewSymDense(n, nil)
	for k := range n {
		m.SetSym(k, k, 1)
	}
	for pair, rho := range pairs {
		m.SetSym(pair[0], pair[1], rho)
	}
	return m
}

// Correlated inputs count together. With a and c correlated by ρ:
//
//	a + 2c + 3b:  (1 + 4 + 4ρ) and 9
//	a c + b:      V[a c] = 1 + ρ², and 1
//	(a + c) b:    neither does anything alone, and each does all beside the other
func TestCorrelatedGroups(t *testing.T) {
	for _, rho := range []float64{-0.8, 0, 0.5, 0.95} {
		study := Study{
			Inputs: standard(3), Outputs: 3, Points: 4096, Workers: 2, Resamples: 50,
			Correlation: ones(3, map[[2]int]float64{{0, 2}: rho}), Groups: []Group{{Inputs: []int{0, 2}}, {Name: "the middle", Inputs: []int{1}}},
			Evaluate: func(_ context.Context, x, y []float64) error {
				y[0], y[1], y[2] = x[0]+2*x[2]+3*x[1], x[0]*x[2]+x[1], (x[0]+x[2])*x[1]
				return nil
			},
		}
		line, product := 5+4*rho, 1+rho*rho
		want := [3]map[string][2]float64{
			{"a and c": {line / (line + 9), line / (line + 9)}, "the middle": {9 / (line + 9), 9 / (line + 9)}},
			{"a and c": {product / (product + 1), product / (product + 1)}, "the middle": {1 / (product + 1), 1 / (product + 1)}},
			{"a and c": {0, 1}, "the middle": {0, 1}},
		}
		deviation := [3]float64{math.Sqrt(line + 9), math.Sqrt(product + 1), math.Sqrt(2 + 2*rho)}
		for i, o := range indicesOf(t, study, nil).Results {
			if len(o.Shares) != 2 || math.Abs(o.Deviation/deviation[i]-1) > 0.01 {
				t.Errorf("ρ = %g, result %d: deviation %g, want %g; %d shares", rho, i, o.Deviation, deviation[i], len(o.Shares))
			}
			for _, share := range o.Shares {
				w, ok := want[i][share.Name]
				t.Logf("ρ = %g, result %d, %s: %.4f and %.4f, want %.4f", rho, i, share.Name, share.First.Value, share.Total.Value, w)
				most := [3]float64{0.002, 0.015, 0.03}[i] // a product of three errs more, as in TestSumAndProduct
				if !ok || math.Abs(share.First.Value-w[0]) > most || math.Abs(share.Total.Value-w[1]) > most {
					t.Errorf("ρ = %g, result %d: %+v, want %v", rho, i, share, w)
				}
			}
		}
	}
}

// Without groups given, what is correlated is one, and what is not stands alone,
// as ever.
func TestGroupsByCorrelation(t *testing.T) {
	f := ishigami()
	study := f.study(64, 1)
	want := indicesOf(t, study, nil).Results[0].Shares
	study.Correlation = ones(3, nil)
	if got := indicesOf(t, study, nil).Results[0].Shares; !slices.EqualFunc(got, want, func(a, b Share) bool {
		return a.Name == b.Name && a.First == b.First && a.Total == b.Total
	}) {
		t.Errorf("%+v, want %+v", got, want)
	}
	study.Correlation.SetSym(0, 2, 0.1)
	sources := indicesOf(t, study, nil)
	names := []string{sources.Results[0].Shares[0].Name, sources.Results[0].Shares[1].Name}
	slices.Sort(names)
	if !slices.Equal(names, []string{"a and c", "b"}) || sources.Runs != 4*64 {
		t.Errorf("%v, %d runs", names, sources.Runs)
	}
}

// Inputs of no group count together, for the price of one: 0.5² each.
func TestAllOthers(t *testing.T) {
	const n = 40
	study := Study{Inputs: standard(n), Outputs: 1, Points: 1024, Workers: 2, Groups: []Group{{Inputs: []int{7}}, {Inputs: []int{3}}}, Evaluate: func(_ context.Context, x, y []float64) error {
		y[0] = 4*x[3] + 3*x[7]
		for k, v := range x {
			if k != 3 && k != 7 {
				y[0] += v / 2
			}
		}
		return nil
	}}
	sources := indicesOf(t, study, nil)
	total := 16 + 9 + (n-2)*0.25
	for place, want := range []struct {
		name  string
		share float64
	}{{study.Inputs[3].Name, 16 / total}, {AllOthers, (n - 2) * 0.25 / total}, {study.Inputs[7].Name, 9 / total}} {
		got := sources.Results[0].Shares[place]
		if got.Name != want.name || math.Abs(got.First.Value-want.share) > 0.02 || math.Abs(got.Total.Value-want.share) > 0.02 {
			t.Errorf("place %d: %+v, want %+v", place, got, want)
		}
	}
	if len(sources.Results[0].Shares[1].Inputs) != n-2 || sources.Runs != 1024*5 {
		t.Errorf("%d others, %d runs", len(sources.Results[0].Shares[1].Inputs), sources.Runs)
	}
}

func TestGroupFaults(t *testing.T) {
	for _, row := range []struct {
		groups []Group
		want   string
	}{
		{[]Group{{Inputs: []int{0}}}, "a and c stand in different groups, but are correlated"},
		{[]Group{{Inputs: []int{0, 1}}, {Inputs: []int{2}}}, "a and c stand in different groups"},
		{[]Group{{Inputs: []int{0, 2}}, {Inputs: []int{2}}}, "c stands in two groups"},
		{[]Group{{Inputs: []int{1, 1}}}, "b stands in two groups"},
		{[]Group{{Name: "none"}}, `group "none" has no inputs`},
		{[]Group{{Name: "g", Inputs: []int{3}}}, `group "g": there is no input 3`},
		{[]Group{{Name: "g", Inputs: []int{-1}}}, `group "g": there is no input -1`},
		{[]Group{}, ""},
		{[]Group{{Inputs: []int{1}}}, ""},
	} {
		study := Study{Inputs: standard(3), Outputs: 1, Points: 16, Evaluate: sums, Groups: row.groups, Correlation: ones(3, map[[2]int]float64{{0, 2}: 0.5})}
		_, err := Indices(t.Context(), study)
		if (err == nil) != (row.want == "") || err != nil && !strings.Contains(err.Error(), row.want) {
			t.Errorf("%+v: %v, want %q", row.groups, err, row.want)
		}
	}
}

// a and c with σ 2 and 3 correlate by ρ: a + c has σ² = 4 + 9 + 12ρ. Equal and
// opposite ones cancel.
func TestPropagateCorrelated(t *testing.T) {
	for _, rho := range []float64{-1, -0.8, 0.3, 1} {
		in := standard(3)
		in[0].Mean, in[0].Deviation, in[2].Deviation = 10, 2, 3
		d := spreadOf(t, Study{
			Inputs: in, Outputs: 2, Points: 4096, Workers: 2, Correlation: ones(3, map[[2]int]float64{{0, 2}: rho}),
			Evaluate: func(_ context.Context, x, y []float64) error {
				y[0], y[1] = x[0]+x[2], x[0]+2*x[2]/3
				return nil
			},
		}).Results
		if want := math.Sqrt(13 + 12*rho); math.Abs(d[0].Mean-10) > 0.01 || math.Abs(d[0].Deviation-want) > 0.002*want {
			t.Errorf("ρ = %g: %g ± %g, want 10 ± %g", rho, d[0].Mean, d[0].Deviation, want)
		}
		if rho == -1 && d[1].Deviation > 1e-12 {
			t.Errorf("opposite ones leave %g", d[1].Deviation)
		}
	}
	study := Study{Inputs: standard(3), Outputs: 1, Evaluate: sums, Correlation: ones(3, map[[2]int]float64{{0, 1}: 1, {1, 2}: 1})}
	if _, err := Propagate(t.Context(), study); err == nil || !strings.Contains(err.Error(), "cannot hold together") {
		t.Errorf("%v", err)
	}
	if _, err := Indices(t.Context(), study); err == nil || !strings.Contains(err.Error(), "cannot hold together") {
		t.Errorf("%v", err)
	}
}
