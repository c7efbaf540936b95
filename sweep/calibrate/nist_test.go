package calibrate

import (
	"context"
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"
)

// nistSet is a data set with its certified answer.
type nistSet struct {
	name, level string
	starts      [2][]float64
	value       []float64 // certified parameters
	sigma       []float64 // their certified standard deviations
	rss, rsd    float64   // residual sum of squares and standard deviation
	y           []float64
	x           [][]float64
}

// problem is the set as a problem with σ = 1.
func (s *nistSet) problem() Problem {
	model := nistModels[s.name]
	return Problem{Residuals: len(s.y), Evaluate: exact(func(b, r []float64) {
		for i, x := range s.x {
			r[i] = model(x, b) - s.y[i]
			if s.name == "nelson" { // which is fitted in the logarithm
				r[i] = math.Log(model(x, b)) - math.Log(s.y[i])
			}
		}
	})}
}

// exact makes an Evaluate of a function that cannot fail.
func exact(f func(x, r []float64)) func(context.Context, []float64, []float64) error {
	return func(_ context.Context, x, r []float64) error {
		f(x, r)
		return nil
	}
}

// table reads a table of published values without its comments and header.
func table(t testing.TB, name string) [][]string {
	t.Helper()
	text, err := os.ReadFile("../../testdata/tables/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	reader := csv.NewReader(strings.NewReader(string(text)))
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	if err != nil {
		t.Fatal(name, err)
	}
	return rows[1:]
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// nistSets reads all sets.
func nistSets(t testing.TB) []*nistSet {
	t.Helper()
	var all []*nistSet
	for _, row := range table(t, "nist_certified") {
		if len(all) == 0 || all[len(all)-1].name != row[0] {
			all = append(all, &nistSet{name: row[0], level: row[1]})
			all[len(all)-1].observe(t)
		}
		s := all[len(all)-1]
		value, sigma := number(t, row[5]), number(t, row[6])
		if row[2] == "rss" {
			s.rss, s.rsd = value, sigma
			continue
		}
		s.value, s.sigma = append(s.value, value), append(s.sigma, sigma)
		for i := range s.starts {
			s.starts[i] = append(s.starts[i], number(t, row[3+i]))
		}
	}
	return all
}

// observe reads the observations of a set.
func (s *nistSet) observe(t testing.TB) {
	file := s.name
	if strings.HasPrefix(file, "misra1") {
		file = "misra1"
	}
	for _, row := range table(t, "nist_"+file) {
		var x []float64
		for _, text := range row[1:] {
			x = append(x, number(t, text))
		}
		s.y, s.x = append(s.y, number(t, row[0])), append(s.x, x)
	}
}

// digits is how many digits of got are those of want, at the worst of all.
func digits(got, want []float64) float64 {
	if len(got) != len(want) {
		return 0
	}
	least := 11.0 // as many as are certified
	for i := range want {
		if off := math.Abs(got[i]/want[i] - 1); off > 0 {
			least = math.Min(least, -math.Log10(off))
		}
	}
	return least
}

// At the certified parameters the residuals add up to the certified sum of
// squares, in all digits that the rounding of the parameters leaves: the
// observations are the published ones.
func TestNISTObservations(t *testing.T) {
	for _, s := range nistSets(t) {
		r, sum := make([]float64, len(s.y)), 0.0
		if err := s.problem().Evaluate(t.Context(), s.value, r); err != nil {
			t.Fatal(err)
		}
		for _, v := range r {
			sum += v * v
		}
		rsd := math.Sqrt(sum / float64(len(s.y)-len(s.value)))
		if got := digits([]float64{sum, rsd}, []float64{s.rss, s.rsd}); got < 9 {
			t.Errorf("%s: %d observations give %.11g and %.11g, certified %.11g and %.11g", s.name, len(s.y), sum, rsd, s.rss, s.rsd)
		}
	}
}

// All sets from both official starts, with nothing but what is printed for them:
// no scale, no bounds, no priors.
func TestNIST(t *testing.T) {
	levels, sum := map[string]int{}, 0.0
	for _, s := range nistSets(t) {
		levels[s.level]++
		for i, start := range s.starts {
			sol, err := Fit(t.Context(), s.problem(), start, Settings{})
			if err != nil {
				t.Errorf("%s from start %d: %v", s.name, i+1, err)
				continue
			}
			parameters, deviations := digits(sol.X, s.value), digits(sol.ScaledSigma(), s.sigma)
			rss := digits([]float64{sol.SumOfSquares}, []float64{s.rss})
			sum += parameters
			t.Logf("%-8s %-7s start %d: parameters to %4.1f digits, deviations %4.1f, sum of squares %4.1f, angle %.0e, %3d steps, %4d evaluations, %v",
				s.name, s.level, i+1, parameters, deviations, rss, sol.Angle, sol.Iterations, sol.Evaluations, sol.Status)
			if parameters < 6.5 || deviations < 6 || rss < 9 || sol.Status != Converged {
				t.Errorf("%s from start %d: %v, certified %v; deviations %v, certified %v", s.name, i+1, sol.X, s.value, sol.ScaledSigma(), s.sigma)
			}
		}
	}
	mean := sum / float64(2*(levels["lower"]+levels["average"]+levels["higher"]))
	t.Logf("parameters to %.2f digits on average", mean)
	if mean < 8.9 { // 9.1 when this was written
		t.Errorf("parameters to %.2f digits on average", mean)
	}
	if levels["lower"] < 5 || levels["average"] < 5 || levels["higher"] < 5 {
		t.Errorf("sets by level of difficulty: %v", levels)
	}
}
