package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// values are readings of one configuration about a mean, each of variance 2 K²
// times a factor, with a step of the model that is wrong by x of its deviations.
func values(random *rand.Rand, n int, mean, factor, slope, x float64) []*ComparedReading {
	list := make([]*ComparedReading, n)
	for i := range list {
		list[i] = &ComparedReading{
			Value: mean + math.Sqrt(2*factor)*random.NormFloat64() + slope*x, variance: 2, slopes: []float64{slope},
		}
	}
	return list
}

// chiSquare draws from χ² with ν degrees of freedom.
func chiSquare(random *rand.Rand, nu int) (sum float64) {
	for range nu {
		z := random.NormFloat64()
		sum += z * z
	}
	return sum
}

// binomial is how far a share of n trials may lie from p: 3.3 standard
// deviations, passed once in a thousand tests.
func binomial(p float64, n int) float64 { return 3.3 * math.Sqrt(p*(1-p)/float64(n)) }

// trials is the share of trials in which something happens.
func trials(n int, seed uint64, happens func(*rand.Rand) bool) float64 {
	count, random := 0, rand.New(rand.NewPCG(seed, 0))
	for range n {
		if happens(random) {
			count++
		}
	}
	return float64(count) / float64(n)
}

// TestFalseAlarms: without a difference one is claimed as often as the level says
// when the scatter is what it was judged to be, give or take its quarter, and the
// doubt of the model is what it says; whatever the repeats, and for all intervals
// together when there are several.
func TestFalseAlarms(t *testing.T) {
	const n, alpha = 2000, 0.05
	numbers := &numbers{paths: []string{"x"}}
	for _, flights := range []int{1, 4} {
		for _, slope := range []float64{0, 1, 3} {
			for _, others := range []int{1, 3} {
				share := trials(n, 1, func(random *rand.Rand) bool {
					factor := priorFreedom / chiSquare(random, priorFreedom)
					groups := [][]*ComparedReading{values(random, flights, 100, factor, 0, 0)}
					for range others {
						groups = append(groups, values(random, flights, 100, factor, slope, random.NormFloat64()))
					}
					s := newScatter(groups)
					for _, g := range groups[1:] {
						if s.difference(g, groups[0], numbers, alpha/float64(others)).Real {
							return true
						}
					}
					return false
				})
				t.Logf("%d flights, slope %g, %d intervals: %.4f", flights, slope, others, share)
				// Bonferroni's share is a bound, and near for intervals that share a
				// baseline.
				lowest := alpha - binomial(alpha, n) - 0.005*float64(others-1)
				if share > alpha+binomial(alpha, n) || share < lowest {
					t.Errorf("%d flights, slope %g, %d intervals: %.4f false alarms, want %.2f", flights, slope, others, share, alpha)
				}
			}
		}
	}
}

// TestScatterMisjudged measures what happens when flights scatter more than was
// supposed: repeats correct most of it.
func TestScatterMisjudged(t *testing.T) {
	const n, alpha = 4000, 0.05
	alarms := func(flights int, times float64) float64 {
		return trials(n, 2, func(random *rand.Rand) bool {
			groups := [][]*ComparedReading{values(random, flights, 100, times*times, 0, 0), values(random, flights, 100, times*times, 0, 0)}
			s := newScatter(groups)
			return s.difference(groups[1], groups[0], &numbers{paths: []string{"x"}}, alpha).Real
		})
	}
	for _, test := range []struct {
		flights int
		times   float64
		most    float64
	}{
		{1, 1, alpha}, {6, 1, alpha + binomial(alpha, n)}, {1, 0.5, 0.001}, // as judged, or less
		{1, 1.5, 0.15}, {6, 1.5, 0.09}, {20, 1.5, 0.07}, // half as much again
	} {
		share := alarms(test.flights, test.times)
		t.Logf("%d flights each, %g times the scatter: %.4f", test.flights, test.times, share)
		if share > test.most {
			t.Errorf("%d flights each, %g times the scatter: %.4f false alarms, want at most %.3f", test.flights, test.times, share, test.most)
		}
	}
	if one, many := alarms(1, 1.5), alarms(6, 1.5); many >= one {
		t.Errorf("%.4f false alarms with repeats, %.4f without", many, one)
	}
}

// TestRepeatsShrink: the variance of the flights falls as 1/n, that of the model
// stays, and the interval is Student's.
func TestRepeatsShrink(t *testing.T) {
	steady := func(n int, mean, slope float64) []*ComparedReading {
		return values(rand.New(rand.NewPCG(1, 1)), n, mean, 0, slope, 0)
	}
	for _, n := range []int{1, 4, 16} {
		groups := [][]*ComparedReading{steady(n, 100, 0), steady(n, 97, 0.6)}
		s := newScatter(groups)
		d := s.difference(groups[1], groups[0], &numbers{paths: []string{"x"}}, 0.05)
		// Equal values: no scatter seen, so the factor is ν₀/(ν₀ + 2n − 2).
		nu := priorFreedom + 2*float64(n-1)
		if want := math.Sqrt(priorFreedom / nu * 4 / float64(n)); math.Abs(d.Flights-want) > 1e-12 {
			t.Errorf("%d flights: %.6f K by flights, want %.6f", n, d.Flights, want)
		}
		if math.Abs(d.Model-0.6) > 1e-12 || math.Abs(d.Value+3) > 1e-12 {
			t.Errorf("%d flights: %.6f ± %.6f K by the model", n, d.Value, d.Model)
		}
	}
	groups := [][]*ComparedReading{steady(1, 100, 0), steady(1, 97, 0)}
	s := newScatter(groups)
	d := s.difference(groups[1], groups[0], &numbers{paths: []string{"x"}}, 0.05)
	// t(0.975) with 8 degrees of freedom, from tables: 2.306.
	if want := 2.306 * 2; math.Abs((d.High-d.Low)/2-want) > 1e-3 {
		t.Errorf("half an interval of %.5f K, want %.5f", (d.High-d.Low)/2, want)
	}
}

// TestFlightsAhead: with as many further flights as is said, a true difference of the
// size seen is told in about eight cases of ten, and without them in fewer.
func TestFlightsAhead(t *testing.T) {
	const n, alpha = 2000, 0.05
	numbers := &numbers{paths: []string{"x"}}
	for _, test := range []struct{ size, slope float64 }{{2.5, 0}, {2, 0}, {2.5, 0.4}} {
		still := func(mean, slope float64) []*ComparedReading {
			return values(rand.New(rand.NewPCG(1, 1)), 1, mean, 0, slope, 0)
		}
		groups := [][]*ComparedReading{still(100, 0), still(100+test.size, test.slope)}
		s := newScatter(groups)
		d := s.difference(groups[1], groups[0], numbers, alpha)
		s.ahead(d, groups[1], groups[0], alpha)
		if d.Real || d.More < 1 || d.More > MostFlights {
			t.Fatalf("size %g: %+v", test.size, d)
		}
		told := func(flights int) float64 {
			return trials(n, 3, func(random *rand.Rand) bool {
				x := random.NormFloat64()
				groups := [][]*ComparedReading{values(random, flights, 100, 1, 0, 0), values(random, flights, 100+test.size, 1, test.slope, x)}
				s := newScatter(groups)
				return s.difference(groups[1], groups[0], numbers, alpha).Real
			})
		}
		with, before := told(1+d.More), told(d.More)
		t.Logf("size %g, slope %g: %d more (%d in one air): %.3f, one less %.3f", test.size, test.slope, d.More, d.Alike, with, before)
		if with < chance-0.05 || before > chance+0.05 {
			t.Errorf("size %g: told in %.3f with %d further flights, in %.3f with one less", test.size, with, d.More, before)
		}
	}
}

// TestNeverSettled: where the model's part is as large as the difference, no number
// of flights in such air tells it, but some in one air do; a tiny difference takes
// more flights than anybody flies.
func TestNeverSettled(t *testing.T) {
	of := func(size, slope float64) *CircuitDifference {
		random := rand.New(rand.NewPCG(1, 1))
		groups := [][]*ComparedReading{values(random, 1, 100, 0, 0, 0), values(random, 1, 100+size, 0, slope, 0)}
		s := newScatter(groups)
		d := s.difference(groups[1], groups[0], &numbers{paths: []string{"x"}}, 0.05)
		s.ahead(d, groups[1], groups[0], 0.05)
		return d
	}
	if d := of(3, 2); d.More != Never || d.Alike < 2 || d.Alike > MostFlights || d.Sources[0] != (Source{"x", 1}) {
		t.Errorf("a doubtful step: %+v", d)
	}
	for _, slope := range []float64{0, 2} {
		if d := of(0.1, slope); d.More != MostFlights+1 || d.Alike != MostFlights+1 {
			t.Errorf("a tiny difference, slope %g: %+v", slope, d)
		}
	}
	if d := of(20, 1); !d.Real || d.More != 0 || d.Alike != 0 {
		t.Errorf("a large difference: %+v", d)
	}
}

// TestCovarianceOfSteps: gᵀ R g of two numbers that go together.
func TestCovarianceOfSteps(t *testing.T) {
	n := &numbers{paths: []string{"x", "y"}, correlations: []pairing{{0, 1, 0.5}}}
	if got := n.covariance([]float64{2, 3}, []float64{2, 3}); got != 4+9+2*0.5*6 {
		t.Errorf("covariance %g, want 19", got)
	}
	n.correlations[0].rho = 1
	if got := n.covariance([]float64{2, -2}, []float64{2, -2}); got != 0 {
		t.Errorf("opposite slopes of one number leave %g", got)
	}
}
