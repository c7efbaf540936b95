package sweep

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// standardNormals are named a, b, ….
func standardNormals(n int) []Normal {
	list := make([]Normal, n)
	for k := range list {
		list[k] = Normal{Name: string(rune('a' + k)), Deviation: 1}
	}
	return list
}

// drawnColumns are n draws of a Sobol sequence, number by number.
func drawnColumns(t *testing.T, normals []Normal, correlation *mat.SymDense, n int) [][]float64 {
	t.Helper()
	d, err := NewDraws(normals, correlation)
	if err != nil {
		t.Fatal(err)
	}
	points, err := NewPoints(SobolDesign, n, len(normals), 1)
	if err != nil {
		t.Fatal(err)
	}
	columns := make([][]float64, len(normals))
	x := make([]float64, len(normals))
	for i := range n {
		d.At(points, i, 0, x)
		for k := range x {
			columns[k] = append(columns[k], x[k])
		}
	}
	return columns
}

// Mean and variance of a normal cut off at α and β deviations, with
// Z = Φ(β) - Φ(α):
//
//	μ + σ (φ(α) - φ(β))/Z,  σ² (1 + (α φ(α) - β φ(β))/Z - ((φ(α) - φ(β))/Z)²)
//
// (Johnson, Kotz and Balakrishnan 1994, equations 13.134 and 13.135). A
// correlation with another number changes nothing of that.
func TestTruncated(t *testing.T) {
	density := func(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
	times := func(z float64) float64 {
		if math.IsInf(z, 0) {
			return 0
		}
		return z * density(z)
	}
	for _, in := range []Normal{
		{Name: "both sides", Mean: 5, Deviation: 2, Lo: 4, Hi: 8},
		{Name: "half", Mean: 0, Deviation: 3, Lo: 0, Hi: math.Inf(1)},
		{Name: "below", Mean: 1, Deviation: 0.5, Lo: math.Inf(-1), Hi: 1.2},
		{Name: "narrow", Mean: 1, Deviation: 1000, Lo: 0, Hi: 2},
		{Name: "far", Mean: 1, Deviation: 0.01, Lo: 0, Hi: 2},
	} {
		a, b := (in.Lo-in.Mean)/in.Deviation, (in.Hi-in.Mean)/in.Deviation
		z := phi(b) - phi(a)
		shift := (density(a) - density(b)) / z
		mean := in.Mean + in.Deviation*shift
		deviation := in.Deviation * math.Sqrt(1+(times(a)-times(b))/z-shift*shift)
		alone := drawnColumns(t, []Normal{in}, nil, 4096)[0]
		tied := drawnColumns(t, []Normal{{Name: "other", Deviation: 1}, in}, mat.NewSymDense(2, []float64{1, 0.7, 0.7, 1}), 4096)[1]
		for _, x := range [][]float64{alone, tied} {
			m, s := stat.MeanStdDev(x, nil)
			t.Logf("%s: %.5f ± %.5f, want %.5f ± %.5f", in.Name, m, s, mean, deviation)
			if math.Abs(m-mean) > 2e-3*deviation || math.Abs(s/deviation-1) > 2e-3 {
				t.Errorf("%s: %g ± %g, want %g ± %g", in.Name, m, s, mean, deviation)
			}
		}
		n := newTruncated(&in)
		if got := n.spread(); math.Abs(got/deviation-1) > 1e-6 {
			t.Errorf("%s: spreads by %g, want %g", in.Name, got, deviation)
		}
	}
}

// Numbers stay within bounds and rise with the coordinate, however far off the
// bounds are.
func TestTruncatedRises(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.OneOf(rapid.Float64Range(0, 12), rapid.Just(math.Inf(1)))
		in := Normal{Mean: rapid.Float64Range(-1e3, 1e3).Draw(t, "mean"), Deviation: rapid.Float64Range(1e-3, 1e3).Draw(t, "deviation")}
		in.Lo = in.Mean - in.Deviation*side.Draw(t, "below")
		in.Hi = in.Mean + in.Deviation*(side.Draw(t, "above")+0.01)
		if err := in.Fault(); err != nil {
			t.Fatal(err)
		}
		u := rapid.Float64Range(0, 1-1e-9).Draw(t, "u")
		n := newTruncated(&in)
		lo, hi := n.at(standardNormal(u)), n.at(standardNormal(u+1e-9))
		if !(lo >= in.Lo && hi <= in.Hi && lo <= hi) {
			t.Fatalf("%g and %g within %g to %g", lo, hi, in.Lo, in.Hi)
		}
	})
}

// a and c with σ 2 and 3 correlate by -0.8, b is cut off at its mean: a - c has
// σ² = 4 + 9 + 2·0.8·6 = 22.6.
func TestCorrelated(t *testing.T) {
	in := standardNormals(3)
	in[0].Mean, in[0].Deviation, in[2].Deviation = 10, 2, 3
	in[1].Hi = math.Inf(1) // independent, between the others
	x := drawnColumns(t, in, mat.NewSymDense(3, []float64{1, 0, -0.8, 0, 1, 0, -0.8, 0, 1}), 4096)
	difference := make([]float64, len(x[0]))
	for i := range difference {
		difference[i] = x[0][i] - x[2][i]
	}
	mean, deviation := stat.MeanStdDev(difference, nil)
	rho, half := stat.Correlation(x[0], x[2], nil), stat.Mean(x[1], nil)
	t.Logf("a - c: %.4f ± %.4f; correlation %.4f; half a normal %.4f", mean, deviation, rho, half)
	if math.Abs(mean-10) > 0.01 || math.Abs(deviation/math.Sqrt(22.6)-1) > 0.002 || math.Abs(rho+0.8) > 0.002 {
		t.Errorf("a - c is %g ± %g and the correlation %g", mean, deviation, rho)
	}
	if math.Abs(half-math.Sqrt(2/math.Pi)) > 1e-3 || math.Abs(stat.Correlation(x[0], x[1], nil)) > 0.002 {
		t.Errorf("the mean of half a normal is %g", half)
	}
}

// Three that go together have each of their correlations.
func TestCorrelatedChain(t *testing.T) {
	want := mat.NewSymDense(3, []float64{1, 0.6, -0.3, 0.6, 1, 0.4, -0.3, 0.4, 1})
	x := drawnColumns(t, standardNormals(3), want, 4096)
	for j := range 3 {
		for k := range j {
			if got := stat.Correlation(x[j], x[k], nil); math.Abs(got-want.At(j, k)) > 0.003 {
				t.Errorf("%d and %d: %g, want %g", j, k, got, want.At(j, k))
			}
		}
	}
}

// Of two normals with correlation ρ both are above their medians with the
// probability 1/4 + asin ρ/2π (W. F. Sheppard 1899), cut off or not.
func TestCorrelatedQuadrant(t *testing.T) {
	for _, rho := range []float64{-1, -0.5, 0.5, 0.9, 1} {
		in := standardNormals(2)
		in[1].Hi = math.Inf(1) // its median is Φ⁻¹(3/4)
		x := drawnColumns(t, in, mat.NewSymDense(2, []float64{1, rho, rho, 1}), 4096)
		both := 0.0
		for i := range x[0] {
			if x[0][i] > 0 && x[1][i] > 0.6744897501960817 {
				both++
			}
		}
		got, want := both/4096, 0.25+math.Asin(rho)/2/math.Pi
		t.Logf("ρ = %g: %.4f, want %.4f", rho, got, want)
		if math.Abs(got-want) > 0.003 {
			t.Errorf("ρ = %g: %g above both medians, want %g", rho, got, want)
		}
	}
}

// The factor gives the correlations back, for random ones of any rank. Those of
// lesser rank hold together by a hair.
func TestCorrelationFactor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 7).Draw(t, "numbers")
		rank := rapid.IntRange(1, n).Draw(t, "rank")
		rows := make([][]float64, n)
		for j := range rows {
			size := 0.0
			for range rank {
				v := rapid.Float64Range(-1, 1).Draw(t, "entry")
				rows[j], size = append(rows[j], v), size+v*v
			}
			if size < 1e-6 { // no direction
				rows[j][0], size = 1, 1
			}
			for i := range rows[j] {
				rows[j][i] /= math.Sqrt(size)
			}
		}
		r := mat.NewSymDense(n, nil)
		for j := range n {
			for k := range j {
				dot := 0.0
				for i := range rows[j] {
					dot += rows[j][i] * rows[k][i]
				}
				r.SetSym(j, k, min(max(dot, -1), 1))
			}
			r.SetSym(j, j, 1)
		}
		factor, err := correlationFactor(standardNormals(n), r)
		if err != nil {
			t.Fatal(err)
		}
		for j := range n {
			for k := range j + 1 {
				got := 0.0
				for i := range k + 1 {
					got += factor[j][i] * factor[k][i]
				}
				if math.Abs(got-r.At(j, k)) > 1.1*rounded {
					t.Fatalf("%d and %d: %g, want %g", j, k, got, r.At(j, k))
				}
			}
		}
	})
}

// Correlations that cannot hold together are named, and only those.
func TestCorrelationConflict(t *testing.T) {
	r := func(n int, pairs map[[2]int]float64) *mat.SymDense {
		m := mat.NewSymDense(n, nil)
		for k := range n {
			m.SetSym(k, k, 1)
		}
		for pair, rho := range pairs {
			m.SetSym(pair[0], pair[1], rho)
		}
		return m
	}
	for _, row := range []struct {
		of   *mat.SymDense
		want string // "" when they hold
	}{
		{r(3, map[[2]int]float64{{0, 1}: 0.9, {0, 2}: 0.9, {1, 2}: -0.9}), "the correlations 0.9 of a with b, 0.9 of a with c, -0.9 of b with c cannot hold together"},
		{r(5, map[[2]int]float64{{0, 1}: 0.3, {1, 2}: 0.9, {1, 4}: 0.9, {0, 3}: 0.4}), "the correlations 0.9 of b with c, 0.9 of b with e cannot hold together"},
		{r(3, map[[2]int]float64{{0, 1}: 1, {1, 2}: 1, {0, 2}: 1}), ""},
		{r(3, map[[2]int]float64{{0, 1}: 1, {1, 2}: -1, {0, 2}: -1}), ""},
		{r(3, map[[2]int]float64{{0, 1}: 1, {1, 2}: 1, {0, 2}: 0.9}), "1 of a with b"},
		{r(3, map[[2]int]float64{{0, 1}: 0.707, {1, 2}: 0.7072, {0, 2}: 0}), ""}, // by the last digit
		{r(2, map[[2]int]float64{{0, 1}: 1.5}), "the correlation of a and b is 1.5"},
		{r(2, map[[2]int]float64{{0, 1}: math.NaN()}), "the correlation of a and b is NaN"},
		{r(2, map[[2]int]float64{{1, 1}: 2}), "the correlation of b with itself is 2"},
		{r(3, nil), ""},
	} {
		_, err := NewDraws(standardNormals(row.of.SymmetricDim()), row.of)
		if (err == nil) != (row.want == "") || err != nil && (!strings.Contains(err.Error(), row.want) || strings.Contains(err.Error(), "\n")) {
			t.Errorf("%v, want %q", err, row.want)
		}
	}
	if _, err := NewDraws(standardNormals(2), r(3, nil)); err == nil || !strings.Contains(err.Error(), "3 rows for 2 numbers") {
		t.Errorf("%v", err)
	}
}

// What goes together stands in one group.
func TestGroups(t *testing.T) {
	r := mat.NewSymDense(6, nil)
	for k := range 6 {
		r.SetSym(k, k, 1)
	}
	r.SetSym(5, 1, 0.3)
	r.SetSym(1, 3, -0.3)
	d, err := NewDraws(standardNormals(6), r)
	if err != nil {
		t.Fatal(err)
	}
	got := d.Groups()
	if len(got) != 4 || len(got[1]) != 3 || got[1][0] != 1 || got[1][1] != 3 || got[1][2] != 5 || got[3][0] != 4 {
		t.Errorf("%v", got)
	}
}
