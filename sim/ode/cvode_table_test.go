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

// most is what our method may need over what CVODE needs for the same errors, those
// of levels; above 1, CVODE needs less. By default it never does. Its best options
// are picked for each error out of some 180 runs, and need up to a quarter less:
// around the kinks of thermostats a formula of one step tries some steps in vain.
var most = map[string]struct{ byDefault, atBest [3]float64 }{
	"climb":  {[3]float64{1, 1, 1}, [3]float64{0.9, 1.2, 1.4}},
	"flight": {[3]float64{1, 1, 1}, [3]float64{1.2, 1.2, 1.4}},
}

// TestAgainstCVODE holds the evaluations of the default method against CVODE's, both
// with the given Jacobian, so that calls of f are all that is counted. Without it
// CVODE needs two thirds to a sixth of ours, and nothing is held: a Rosenbrock formula
// needs a true Jacobian every step, where CVODE keeps one for fifty.
func TestAgainstCVODE(t *testing.T) {
	c, cvode := readConstants(t), cvodeRuns(t)
	for _, f := range c.flights() {
		on := contest{f.name, true}
		ours := ourRuns(t, c, on, methods[0].method, 4)
		for i, level := range levels {
			mine, plain := fewest(ours, level), fewest(cvode[on]["default"], level)
			options, least := best(cvode[on], level)
			for _, limit := range []struct {
				options         string
				theirs, allowed float64
			}{{"default", float64(plain), most[f.name].byDefault[i]}, {options, float64(least), most[f.name].atBest[i]}} {
				if ratio := float64(mine) / limit.theirs; !(mine > 0 && ratio <= limit.allowed) {
					t.Errorf("%s, %g K: %d evaluations, CVODE's %s %g: %.2f times as many, allowed %g",
						f.name, level, mine, limit.options, limit.theirs, ratio, limit.allowed)
				}
			}
		}
		printRuns(t, c, on, cvode, ours)
		on.given = false
		printRuns(t, c, on, cvode, nil)
	}
}

// printRuns prints CVODE's and our runs side by side, where a table is asked for.
func printRuns(t testing.TB, c constants, on contest, all map[contest]map[string][]run, ours []run) {
	if os.Getenv(cvodeDir) == "" {
		return
	}
	if ours == nil {
		ours = ourRuns(t, c, on, methods[0].method, 4)
	}
	cvode, tuned, jacobian := all[on], "one_newton", "given"
	if !on.given {
		tuned, jacobian = "loose", "by differences"
	}
	fmt.Printf("\nThe %s, Jacobian %s: evaluations of f, time in µs, error in K\n", on.flight, jacobian)
	printSideBySide([]column{
		{"CVODE, default", cvode["default"]}, {"CVODE, " + tuned, cvode[tuned]}, {"sim/ode, default", ours},
		{"sim/ode, Rodas4", ourRuns(t, c, on, ode.Rodas4, 1)},
		{"sim/ode, Dormand-Prince", ourRuns(t, c, on, ode.DormandPrince, 1)},
	})
	for _, level := range levels {
		options, least := best(cvode, level)
		fmt.Printf("error below %5g K: %5d evaluations, CVODE by default %4d, with the best options %4d (%s)\n",
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
			fmt.Printf(" |%6d%9.0f%9.1e", r.evaluations, r.time, r.off)
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
		p.mustFly(t)
		best = min(best, float64(time.Since(start).Nanoseconds())/1e3)
	}
	return best
}
