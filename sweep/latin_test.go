package sweep

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestPermutation: every number once, for any count and key.
func TestPermutation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5000).Draw(t, "n")
		seed := rapid.Uint64().Draw(t, "seed")
		p := newPermutation(uint64(n), rand.New(rand.NewPCG(seed, 0)))
		seen := make([]bool, n)
		for i := range n {
			x := p.of(uint64(i))
			if x >= uint64(n) || seen[x] {
				t.Fatalf("%d goes to %d, which is taken or beyond %d", i, x, n)
			}
			seen[x] = true
		}
	})
}

// TestPermutationsAlike: over many keys the first two numbers go to any two
// places equally often. χ² stays below its degrees of freedom and five of its
// standard deviations.
func TestPermutationsAlike(t *testing.T) {
	const keys = 24000
	for n := 2; n <= 17; n++ {
		count := map[[2]uint64]float64{}
		for key := range uint64(keys) {
			p := newPermutation(uint64(n), rand.New(rand.NewPCG(key, 1)))
			count[[2]uint64{p.of(0), p.of(1)}]++
		}
		pairs := n * (n - 1)
		expected, freedom := keys/float64(pairs), float64(pairs-1)
		chi2 := float64(pairs-len(count)) * expected
		for _, c := range count {
			chi2 += (c - expected) * (c - expected) / expected
		}
		beyond := (chi2 - freedom) / math.Sqrt(2*freedom)
		t.Logf("%d numbers: χ² %.1f at %g degrees of freedom, %.1f standard deviations", n, chi2, freedom, beyond)
		if beyond > 5 {
			t.Errorf("%d numbers: χ² %.1f standard deviations too high", n, beyond)
		}
	}
}

// TestLatinStrata: each of n strata of each dimension once.
func TestLatinStrata(t *testing.T) {
	for _, n := range []int{1, 2, 3, 7, 64, 100, 1000} {
		l := NewLatin(n, 5, 11)
		for d := range 5 {
			hit := make([]int, n)
			for i := range n {
				hit[int(float64(n)*l.Coordinate(i, d))]++
			}
			if i := slices.IndexFunc(hit, func(times int) bool { return times != 1 }); i >= 0 {
				t.Errorf("%d points, dimension %d: stratum %d is hit %d times", n, d, i, hit[i])
			}
		}
	}
}

// TestLatinPlaces: within their strata the points lie anywhere, as often in one
// tenth as in another: χ² of nine degrees of freedom stays below 27.9, which one
// of a thousand exceeds.
func TestLatinPlaces(t *testing.T) {
	const n = 10000
	l := NewLatin(n, 4, 5)
	for d := range 4 {
		var count [10]float64
		for i := range n {
			x := n * l.Coordinate(i, d)
			count[int(10*(x-math.Floor(x)))]++
		}
		chi2 := 0.0
		for _, c := range count {
			chi2 += (c - n/10) * (c - n/10) / (n / 10)
		}
		if chi2 > 27.9 {
			t.Errorf("dimension %d: χ² %.1f of %v", d, chi2, count)
		}
	}
}

// TestLatinRoom: the points of the last strata of a very large hypercube stay
// below 1 and in their strata, and no two are the same.
func TestLatinRoom(t *testing.T) {
	l := NewLatin(mostPoints, 1, 3)
	seen := map[int]bool{}
	for i := mostPoints - 100000; i < mostPoints; i++ {
		u := l.Coordinate(i, 0)
		stratum := int(l.dimensions[0].strata.of(uint64(i)))
		if u >= 1 || int(u*mostPoints) != stratum || seen[stratum] {
			t.Fatalf("point %d at %.17g in stratum %d", i, u, stratum)
		}
		seen[stratum] = true
	}
}

// TestLatinCorrelation: the dimensions are independent of each other, of the
// number of the point, and of the place within the stratum: each coefficient of
// correlation has the standard deviation 1/√n.
func TestLatinCorrelation(t *testing.T) {
	const n, dimensions = 4096, 12
	l := NewLatin(n, dimensions, 5)
	columns := make([][]float64, 0, 2*dimensions+1)
	number := make([]float64, n)
	for i := range number {
		number[i] = float64(i)
	}
	columns = append(columns, number)
	for d := range dimensions {
		stratum, place := make([]float64, n), make([]float64, n)
		for i := range n {
			stratum[i], place[i] = math.Modf(n * l.Coordinate(i, d))
		}
		columns = append(columns, stratum, place)
	}
	worst, square, pairs := 0.0, 0.0, 0
	for a := range columns {
		for b := range a {
			r := correlation(columns[a], columns[b])
			worst, square, pairs = max(worst, math.Abs(r)), square+r*r, pairs+1
		}
	}
	rms := math.Sqrt(square/float64(pairs)) * math.Sqrt(n)
	t.Logf("%d pairs: at most %.2f/√n, root mean square %.2f/√n", pairs, worst*math.Sqrt(n), rms)
	// of 300 pairs one beyond 4 is to be expected in 50 seeds; of their root
	// mean square the standard deviation is 1/√600
	if worst*math.Sqrt(n) > 4 || math.Abs(rms-1) > 0.15 {
		t.Errorf("correlations up to %.2f/√n, root mean square %.2f/√n", worst*math.Sqrt(n), rms)
	}
}

// correlation is the coefficient of two columns.
func correlation(x, y []float64) float64 {
	n := float64(len(x))
	var sx, sy, sxx, syy, sxy float64
	for i := range x {
		sx, sy = sx+x[i], sy+y[i]
		sxx, syy, sxy = sxx+x[i]*x[i], syy+y[i]*y[i], sxy+x[i]*y[i]
	}
	return (sxy - sx*sy/n) / math.Sqrt((sxx-sx*sx/n)*(syy-sy*sy/n))
}

// TestLatinFew: no points or fewer are taken as one.
func TestLatinFew(t *testing.T) {
	for _, n := range []int{-1, 0, 1} {
		if u := NewLatin(n, 1, 1).Coordinate(0, 0); u < 0 || u >= 1 {
			t.Errorf("%d points: %g", n, u)
		}
	}
}
