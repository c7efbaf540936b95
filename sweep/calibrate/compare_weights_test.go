package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// flown is a flight of variance u² whose step is wrong by slopes of numbers.
func flown(variance float64, slopes ...float64) *ComparedReading {
	return &ComparedReading{variance: variance, slopes: slopes}
}

// TestWeights: the closed forms. Without slopes the inverse variances; with a slope of
// its own a flight has u² + g²; in like air flights are held against each other; and
// where a line through two flights would lead to the reference, the nearer one counts
// alone.
func TestWeights(t *testing.T) {
	for name, test := range map[string]struct {
		a, b []*ComparedReading
		want []float64
	}{
		"variances": {[]*ComparedReading{flown(1, 0), flown(3, 0)}, []*ComparedReading{flown(2, 0)}, []float64{0.75, 0.25, -1}},
		"own slope": {[]*ComparedReading{flown(1, 2), flown(1, 0)}, []*ComparedReading{flown(1, 0)}, []float64{1. / 6, 5. / 6, -1}},
		// min p² + (1−p)² + g² (1−p)², with the first of a in the air of b.
		"like air": {[]*ComparedReading{flown(1, 3), flown(1, 0)}, []*ComparedReading{flown(1, 3)}, []float64{10. / 11, 1. / 11, -1}},
		"no line":  {[]*ComparedReading{flown(0.01, 5), flown(0.01, 3)}, []*ComparedReading{flown(0.01, 0)}, []float64{0, 1, -1}},
	} {
		n := &numbers{paths: []string{"x"}}
		for i, w := range n.weights(test.a, test.b) {
			if math.Abs(w-test.want[i]) > 1e-9 {
				t.Errorf("%s: %v, want %v", name, n.weights(test.a, test.b), test.want)
				break
			}
		}
	}
}

// TestWeightsOddNumbers: numbers that go together wholly, and slopes far above any
// variance, still give weights that add up.
func TestWeightsOddNumbers(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	n := &numbers{paths: []string{"x", "y"}, correlations: []pairing{{0, 1, -1}}}
	for range 200 {
		list := make([]*ComparedReading, 5)
		for i := range list {
			scale := math.Exp(6 * random.NormFloat64())
			list[i] = flown(math.Exp(3*random.NormFloat64()), scale*random.NormFloat64(), scale*random.NormFloat64())
		}
		w := n.weights(list[:3], list[3:])
		if a, b := w[0]+w[1]+w[2], w[3]+w[4]; math.Abs(a-1) > 1e-6 || math.Abs(b+1) > 1e-6 || min(w[0], w[1], w[2], -w[3], -w[4]) < 0 {
			t.Fatalf("weights %v", w)
		}
	}
}

// TestMixedAirFalseAlarms: flights of one configuration in unlike air raise no more
// false alarms than the level says.
func TestMixedAirFalseAlarms(t *testing.T) {
	const n, alpha = 2000, 0.05
	share := trials(n, 8, func(random *rand.Rand) bool {
		factor, x := priorFreedom/chiSquare(random, priorFreedom), random.NormFloat64()
		flights := func(slopes ...float64) (list []*ComparedReading) {
			for _, g := range slopes {
				list = append(list, values(random, 1, 100, factor, g, x)...)
			}
			return list
		}
		groups := [][]*ComparedReading{flights(3, 0.5), flights(1, 2.5)}
		s := newScatter(groups)
		return s.difference(groups[1], groups[0], &numbers{paths: []string{"x"}}, alpha).Real
	})
	t.Logf("%.4f", share)
	if share > alpha+binomial(alpha, n) || share < alpha/3 {
		t.Errorf("%.4f false alarms, want %.2f", share, alpha)
	}
}
