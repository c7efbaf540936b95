package uncertainty

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"testing"

	"hotclimb/sweep"
)

func long() bool { return os.Getenv("HOTCLIMB_LONG") != "" }

// known is a function of numbers even between 0 and 1, with its indices.
type known struct {
	name         string
	f            func(u []float64) float64
	mean         float64
	deviation    float64
	first, total []float64
}

// ishigami is sin v₁ + 7 sin² v₂ + 0.1 v₃⁴ sin v₁ with v even from -π to π
// (T. Ishigami and T. Homma, "An importance quantification technique in
// uncertainty analysis for computer models", ISUMA '90, 398-403), the variances
// as A. Saltelli and others, "Global sensitivity analysis: the primer", 2008.
func ishigami() known {
	const a, b = 7.0, 0.1
	v1 := math.Pow(1+b*math.Pow(math.Pi, 4)/5, 2) / 2
	v2 := a * a / 8
	v13 := b * b * math.Pow(math.Pi, 8) * 8 / 225
	v := v1 + v2 + v13
	return known{"Ishigami", func(u []float64) float64 {
		v1, v2, v3 := (2*u[0]-1)*math.Pi, (2*u[1]-1)*math.Pi, (2*u[2]-1)*math.Pi
		return math.Sin(v1) + a*math.Pow(math.Sin(v2), 2) + b*math.Pow(v3, 4)*math.Sin(v1)
	}, a / 2, math.Sqrt(v), []float64{v1 / v, v2 / v, 0}, []float64{(v1 + v13) / v, v2 / v, v13 / v}}
}

// gFunction is the product of (|4 u_k - 2| + a_k)/(1 + a_k) (Saltelli and others
// 2008): V_k = 1/3/(1+a_k)², V = ∏(1 + V_k) - 1, T_k V = V_k ∏_{j≠k}(1 + V_j).
// With kinks off, u_k is moved on by √(k+2), which leaves mean and variances as
// they are, and takes the kinks away from where points in binary digits meet
// them all too well.
func gFunction(off bool) known {
	a := []float64{0, 1, 4.5, 9, 99, 99}
	g := known{name: fmt.Sprintf("g-function, kinks off halves %t", off), mean: 1}
	product := 1.0
	for _, a := range a {
		product *= 1 + 1.0/3/(1+a)/(1+a)
	}
	g.deviation = math.Sqrt(product - 1)
	for _, a := range a {
		v := 1.0 / 3 / (1 + a) / (1 + a)
		g.first = append(g.first, v/(product-1))
		g.total = append(g.total, v*product/(1+v)/(product-1))
	}
	g.f = func(u []float64) float64 {
		y := 1.0
		for k, a := range a {
			x := u[k]
			if off {
				_, x = math.Modf(x + math.Sqrt(float64(k+2)))
			}
			y *= (math.Abs(4*x-2) + a) / (1 + a)
		}
		return y
	}
	return g
}

// study draws standard normals and gives f their probabilities Φ, which are even
// between 0 and 1.
func (f *known) study(points int, seed uint64) Study {
	return Study{
		Inputs: standard(len(f.first)), Outputs: 1, Points: points, Seed: seed, Workers: 2, Resamples: 1,
		Evaluate: func(_ context.Context, x, y []float64) error {
			u := make([]float64, len(x))
			for k := range x {
				u[k] = phi(x[k])
			}
			y[0] = f.f(u)
			return nil
		},
	}
}

// phi is Φ, the probability that a standard normal variable stays below z.
func phi(z float64) float64 { return math.Erfc(-z/math.Sqrt2) / 2 }

// standard are standard normals named a, b, ….
func standard(n int) []sweep.Normal {
	in := make([]sweep.Normal, n)
	for k := range in {
		in[k] = sweep.Normal{Name: string(rune('a' + k)), Deviation: 1}
	}
	return in
}

// chance are independent points.
type chance [][]float64

func newChance(n, dimensions int, seed uint64) chance {
	r := rand.New(rand.NewPCG(seed, 99))
	c := make(chance, n)
	for i := range c {
		c[i] = make([]float64, dimensions)
		for d := range c[i] {
			c[i][d] = r.Float64()
		}
	}
	return c
}

func (c chance) Coordinate(i, dimension int) float64 { return c[i][dimension] }

// indicesOf are those of a study, over points of another kind than its design
// when there are any.
func indicesOf(t testing.TB, study Study, points sweep.Points) *Sources {
	t.Helper()
	if points == nil {
		sources, err := Indices(t.Context(), study)
		if err != nil {
			t.Fatal(err)
		}
		return sources
	}
	s, err := study.prepared()
	if err != nil {
		t.Fatal(err)
	}
	d, _, err := s.draws(2)
	if err != nil {
		t.Fatal(err)
	}
	if s.Groups, err = s.grouped(d.Groups()); err != nil {
		t.Fatal(err)
	}
	sources, err := s.indices(t.Context(), d, points)
	if err != nil {
		t.Fatal(err)
	}
	return sources
}

func spreadOf(t testing.TB, study Study) *Spread {
	t.Helper()
	spread, err := Propagate(t.Context(), study)
	if err != nil {
		t.Fatal(err)
	}
	return spread
}
