package ode_test

import (
	"fmt"
	"math"
	"os"
	"slices"
	"testing"
	"time"

	"hotclimb/sim/ode"
)

// TestAgainstCVODE holds the evaluations of the default method against CVODE's for
// the same errors, both with the given Jacobian, so that calls of f are all that is
// counted.
//
// As it comes, CVODE never needs fewer. With the best of its options, picked for each
// error out of some 120 runs, it needs up to 22 % less: around the kinks of
// thermostats a formula of one step tries some steps in vain. Without the Jacobian it
// needs half of ours or less, down to 30 %, and nothing is held: a Rosenbrock formula
// needs a true one every step, where CVODE keeps one for fifty.
func TestAgainstCVODE(t *testing.T) {
	const byDefault, atBest = 1.0, 1.3 // our evaluations over CVODE's, at most
	c, cvode := readConstants(t), cvodeRuns(t)
	for _, f := range c.flights() {
		on := contest{f.name, true}
		ours := ourRuns(t, c, on, methods[0].method)
		for _, level := range levels {
			options, least := best(cvode[on], level)
			for _, theirs := range []struct {
				options             string
				evaluations, factor float64
			}{{"default", fewest(cvode[on]["default"], level), byDefault}, {options, least, atBest}} {
				n := fewest(ours, level)
				if !(n > 0 && n <= theirs.factor*theirs.evaluations) {
					t.Errorf("%s, %g K: %.0f evaluations, allowed %g times CVODE's %.0f (%s)",
						f.name, level, n, theirs.factor, theirs.evaluations, theirs.options)
				}
			}
		}
		if os.Getenv(cvodeDir) != "" {
			printGiven(t, c, cvode, ours, f.name)
			printDifferences(t, c, cvode, f.name)
		}
	}
}

// printGiven prints CVODE's and our runs with the given Jacobian side by side.
func printGiven(t testing.TB, c constants, all map[contest]map[string][]run, ours []run, flight string) {
	on := contest{flight, true}
	fmt.Printf("\nThe %s, Jacobian given: evaluations of f, time in µs, error in K\n", flight)
	printSideBySide([]column{
		{"CVODE, default", all[on]["default"]}, {"CVODE, one_newton", all[on]["one_newton"]}, {"sim/ode, default", ours},
		{"sim/ode, Rodas4", ourRuns(t, c, on, ode.Rodas4)},
		{"sim/ode, Dormand-Prince", ourRuns(t, c, on, ode.DormandPrince)},
	})
	printFewest(all[on], ours)
}

// printDifferences prints CVODE's and our runs without a Jacobian side by side.
func printDifferences(t testing.TB, c constants, all map[contest]map[string][]run, flight string) {
	on := contest{flight, false}
	ours := ourRuns(t, c, on, methods[0].method)
	fmt.Printf("\nThe %s, Jacobian by differences: evaluations of f, time in µs, error in K\n", flight)
	printSideBySide([]column{
		{"CVODE, default", all[on]["default"]}, {"CVODE, loose", all[on]["loose"]}, {"sim/ode, default", ours},
	})
	printFewest(all[on], ours)
}

// printFewest prints what the errors of levels take.
func printFewest(cvode map[string][]run, ours []run) {
	for _, level := range levels {
		options, least := best(cvode, level)
		fmt.Printf("error below %5g K: %5.0f evaluations, CVODE by default %4.0f, with the best options %4.0f (%s)\n",
			level, fewest(ours, level), fewest(cvode["default"], level), least, options)
	}
}

// column is one solver's in the table.
type column struct {
	name string
	runs []run
}

// printSideBySide prints a line for each power of ten of the tolerance.
func printSideBySide(columns []column) {
	fmt.Printf("%-9s", "tolerance")
	for _, c := range columns {
		fmt.Printf(" |%24s", c.name)
	}
	fmt.Println()
	for i := range columns {
		columns[i].runs = slices.DeleteFunc(slices.Clone(columns[i].runs), func(r run) bool { return !r.whole() })
	}
	for i, first := range columns[0].runs {
		fmt.Printf("%-9.0e", first.tol)
		for _, c := range columns {
			r := c.runs[i]
			fmt.Printf(" |%6.0f%9.0f%9.1e", r.evaluations, r.time, r.off)
		}
		fmt.Println()
	}
}

// whole reports whether the tolerance is a whole power of ten.
func (r run) whole() bool {
	power := math.Log10(r.tol)
	return math.Abs(power-math.Round(power)) < 0.01
}

// timed returns the best time of several flights [µs].
func timed(t testing.TB, p *pilot) float64 {
	best, until := math.Inf(1), time.Now().Add(8*time.Millisecond)
	for i := 0; i < 3 || time.Now().Before(until); i++ {
		start := time.Now()
		p.mustFly(t, 0)
		best = min(best, float64(time.Since(start).Nanoseconds())/1e3)
	}
	return best
}
