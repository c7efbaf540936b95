package sweep

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"os"
	"strconv"
	"testing"
)

// TestSobolTable: coordinates published and computed elsewhere, to the last
// digit, in all dimensions.
func TestSobolTable(t *testing.T) {
	s := mustSobol(t, SobolDimensions)
	for _, row := range sobolTable(t) {
		if got := s.Coordinate(row.point, row.dimension-1); got != row.coordinate {
			t.Errorf("point %d, dimension %d: %.17g, want %.17g (%s)", row.point, row.dimension, got, row.coordinate, row.source)
		}
	}
}

// TestSobolPolynomials: all primitive polynomials of a degree come before those
// of the next, each once. There are φ(2^s - 1)/s of degree s (R. Lidl and
// H. Niederreiter, "Introduction to Finite Fields and Their Applications", 1994,
// theorem 3.5): 1, 1, 2, 2, 6, 6, 18, 16, 48, 60, and 176 of degree 11.
func TestSobolPolynomials(t *testing.T) {
	seen := map[uint32]bool{}
	count := make([]int, 12)
	for i, row := range joeKuo {
		s := len(row) - 1
		polynomial := 1<<s | uint32(row[0])<<1 | 1
		if order := orderOfX(polynomial, s); order != 1<<s-1 || seen[polynomial] {
			t.Errorf("dimension %d: polynomial %b has order %d of %d, or stands twice", i+2, polynomial, order, 1<<s-1)
		}
		for k, m := range row[1:] {
			if m%2 == 0 || m >= 2<<k {
				t.Errorf("dimension %d: m_%d = %d is not odd, or not below 2^%d", i+2, k+1, m, k+1)
			}
		}
		seen[polynomial] = true
		count[s]++
	}
	if got, want := fmt.Sprint(count[1:]), "[1 1 2 2 6 6 18 16 48 60 95]"; got != want {
		t.Errorf("%s polynomials by degree, want %s", got, want)
	}
}

// orderOfX is the least k for which x^k = 1 modulo a polynomial of degree s.
func orderOfX(polynomial uint32, s int) int {
	power := uint32(1)
	for k := 1; k <= 1<<s; k++ {
		power <<= 1
		if power>>s == 1 {
			power ^= polynomial
		}
		if power == 1 {
			return k
		}
	}
	return 0
}

// TestSobolPropertyA: the first 2^d points in d dimensions lie one in each of
// the 2^d parts that halving every side makes (I. M. Sobol', "Uniformly
// distributed sequences with an additional uniform property", USSR
// Computational Mathematics and Mathematical Physics 16(5), 236-242 (1976)).
// Joe and Kuo have it up to dimension 1111; 32 digits show it up to 32. It holds
// when the first digits of the first d direction numbers are independent.
func TestSobolPropertyA(t *testing.T) {
	for d := 1; d <= sobolBits; d++ {
		rows := make([]uint32, d)
		for j := range rows {
			for k, v := range directions(j) {
				rows[j] |= v >> 31 << k
			}
			rows[j] &= uint32(1<<d - 1)
		}
		if rank := rankOf(rows); rank != d {
			t.Errorf("%d dimensions: %d independent", d, rank)
		}
	}
}

// rankOf is the number of independent rows of binary digits.
func rankOf(rows []uint32) int {
	rank := 0
	for i := range rows {
		pivot := rows[i]
		if pivot == 0 {
			continue
		}
		rank++
		for j := i + 1; j < len(rows); j++ {
			if rows[j]>>bits.TrailingZeros32(pivot)&1 == 1 {
				rows[j] ^= pivot
			}
		}
	}
	return rank
}

// TestSobolStrata: in every dimension, shifted or not, any block of 2^k points
// from a multiple of 2^k on has one in each of 2^k strata.
func TestSobolStrata(t *testing.T) {
	const n = 1 << 10
	plain := mustSobol(t, SobolDimensions)
	for name, s := range map[string]Sobol{"plain": plain, "shifted": plain.Shifted(7)} {
		for d := range SobolDimensions {
			for _, start := range []int{0, 5 * n} {
				var hit [n]int
				for i := start; i < start+n; i++ {
					hit[int(n*s.Coordinate(i, d))]++
				}
				for stratum, times := range hit {
					if times != 1 {
						t.Fatalf("%s, dimension %d: stratum %d of the block from %d is hit %d times", name, d, stratum, start, times)
					}
				}
			}
		}
	}
}

// TestSobolShift: a shift moves point 0 off its corner, is the same for the same
// seed, and another one for another seed and for another dimension.
func TestSobolShift(t *testing.T) {
	s := mustSobol(t, 3)
	a, again, b := s.Shifted(1), s.Shifted(1), s.Shifted(2)
	seen := map[float64]bool{0: true}
	for d := range 3 {
		if s.Coordinate(0, d) != 0 {
			t.Errorf("point 0 of the plain sequence is no corner: %g", s.Coordinate(0, d))
		}
		if a.Coordinate(9, d) != again.Coordinate(9, d) {
			t.Error("the same seed gives another shift")
		}
		for _, x := range []float64{a.Coordinate(0, d), b.Coordinate(0, d)} {
			if seen[x] {
				t.Errorf("shift %g comes twice", x)
			}
			seen[x] = true
		}
	}
}

func TestSobolDimensions(t *testing.T) {
	for _, d := range []int{0, SobolDimensions + 1} {
		if _, err := NewSobol(d); err == nil {
			t.Errorf("%d dimensions are taken", d)
		}
	}
}

// gFunction is the product of (|4 {u_i + δ_i} - 2| + a_i)/(1 + a_i), {} being
// the fraction: mean 1, variance ∏(1 + 1/3/(1+a_i)²) - 1 (A. Saltelli and others,
// Computer Physics Communications 181, 259-270 (2010), G* with α = 1, after Sobol'
// 1993). δ keeps its kinks away from halves and quarters, where points in binary
// digits would meet them all too well.
func gFunction(coordinate func(d int) float64) float64 {
	y := 1.0
	for d, a := range gCoefficients {
		_, x := math.Modf(coordinate(d) + math.Sqrt(float64(d+2)))
		y *= (math.Abs(4*x-2) + a) / (1 + a)
	}
	return y
}

var gCoefficients = [...]float64{0, 1, 4.5, 9, 99, 99}

// TestIntegrals: the error of the mean of the g-function, root mean square over
// 100 seeds. Independent random points err by √(variance/n); a Sobol sequence by
// 1/n at the most, but for powers of log n; a Latin hypercube takes away what comes from single dimensions.
func TestIntegrals(t *testing.T) {
	variance := 1.0
	for _, a := range gCoefficients {
		variance *= 1 + 1.0/3/(1+a)/(1+a)
	}
	variance--
	const few, many = 1 << 7, 1 << 12
	s := mustSobol(t, len(gCoefficients))
	sobol := func(n int, seed uint64) func(i, d int) float64 { return s.Shifted(seed).Coordinate }
	latin := func(n int, seed uint64) func(i, d int) float64 {
		return NewLatin(n, len(gCoefficients), seed).Coordinate
	}
	chance := func(n int, seed uint64) func(i, d int) float64 {
		r := rand.New(rand.NewPCG(seed, 0))
		return func(int, int) float64 { return r.Float64() }
	}
	for _, row := range []struct {
		name   string
		points func(n int, seed uint64) func(i, d int) float64
		order  [2]float64 // of the fall of the error with n: least and most
		share  float64    // of the error of chance with many points: at most
	}{
		{"sobol", sobol, [2]float64{0.9, math.Inf(1)}, 0.03},
		{"latin hypercube", latin, [2]float64{0.4, 0.6}, 0.5},
		{"chance", chance, [2]float64{0.4, 0.6}, 1.2},
	} {
		a, b := meanError(few, row.points), meanError(many, row.points)
		order, share := math.Log(a/b)/math.Log(many/few), b/math.Sqrt(variance/many)
		t.Logf("%s: %.2g with %d points, %.2g with %d: order %.2f, %.3f of chance", row.name, a, few, b, many, order, share)
		if order < row.order[0] || order > row.order[1] || share > row.share {
			t.Errorf("%s: order %.2f, %.3f of chance", row.name, order, share)
		}
	}
}

// meanError is the error of the mean of the g-function over n points, root mean
// square over seeds.
func meanError(n int, points func(n int, seed uint64) func(i, d int) float64) float64 {
	const seeds = 100
	square := 0.0
	for seed := range uint64(seeds) {
		u, sum := points(n, seed), 0.0
		for i := range n {
			sum += gFunction(func(d int) float64 { return u(i, d) })
		}
		square += math.Pow(sum/float64(n)-1, 2)
	}
	return math.Sqrt(square / seeds)
}

func mustSobol(t testing.TB, dimensions int) Sobol {
	t.Helper()
	s, err := NewSobol(dimensions)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// sobolRow is a line of the table of points.
type sobolRow struct {
	point, dimension int // dimension from 1
	coordinate       float64
	source           string
}

func sobolTable(t *testing.T) []sobolRow {
	t.Helper()
	f, err := os.Open("../testdata/tables/sobol_points.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	lines, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var rows []sobolRow
	for _, line := range lines[1:] {
		point, err1 := strconv.Atoi(line[0])
		dimension, err2 := strconv.Atoi(line[1])
		coordinate, err3 := strconv.ParseFloat(line[2], 64)
		if err1 != nil || err2 != nil || err3 != nil {
			t.Fatalf("%q is no row", line)
		}
		rows = append(rows, sobolRow{point, dimension, coordinate, line[3]})
	}
	return rows
}
