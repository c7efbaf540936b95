package ode_test

import (
	"cmp"
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"hotclimb/sim/ode"
)

// What CVODE made of the reduced climb lies in testdata/cvode, where run.sh makes
// it anew. HOTCLIMB_CVODE names another directory to read; then the tests print a
// table of both, with times.
const cvodeDir = "HOTCLIMB_CVODE"

// readCVODE returns the rows of a file of CVODE's, without comments and heading.
func readCVODE(t testing.TB, name string, heading bool) [][]string {
	t.Helper()
	f, err := os.Open(filepath.Join(cmp.Or(os.Getenv(cvodeDir), "../../testdata/cvode"), name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if heading {
		rows = rows[1:]
	}
	return rows
}

func number(t testing.TB, text string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// state is one at which C wrote derivatives.
type state struct {
	leg  int // of the flight
	y    [reducedStates]float64
	dydt [reducedStates]float64
	dfdy [reducedStates * reducedStates]float64
}

func readStates(t testing.TB) (states []state) {
	t.Helper()
	for _, row := range readCVODE(t, "derivatives.csv", false) {
		s := state{leg: int(number(t, row[0]))}
		rest := row[1:]
		for _, to := range [][]float64{s.y[:], s.dydt[:], s.dfdy[:]} {
			for i := range to {
				to[i] = number(t, rest[i])
			}
			rest = rest[len(to):]
		}
		states = append(states, s)
	}
	if len(states) != 12 {
		t.Fatalf("%d states, want 12", len(states))
	}
	return states
}

// TestSameEquations: derivatives of Go and C differ by rounding only, and so do
// Jacobians, entry by entry.
func TestSameEquations(t *testing.T) {
	const allowed = 1e-12
	c := readConstants(t)
	m, worst := newReduced(c), 0.0
	for k, s := range readStates(t) {
		m.leg = c.flights()[1].legs[s.leg]
		var here state
		if err := m.derivative(0, s.y[:], here.dydt[:]); err != nil {
			t.Fatal(err)
		}
		if err := m.jacobian(0, s.y[:], here.dfdy[:]); err != nil {
			t.Fatal(err)
		}
		compare := func(what string, here, there []float64) {
			for i := range there {
				off := math.Abs(here[i]-there[i]) / math.Abs(there[i])
				if here[i] == there[i] {
					off = 0
				}
				worst = math.Max(worst, off)
				if !(off <= allowed) {
					t.Errorf("state %d: %s %d is %.16g in Go, %.16g in C", k, what, i, here[i], there[i])
				}
			}
		}
		compare("derivative", here.dydt[:], s.dydt[:])
		compare("Jacobian entry", here.dfdy[:], s.dfdy[:])
	}
	say("Derivatives and Jacobians of Go and C at 12 states agree within %.0e of themselves.\n", worst)
}

// say prints where a table is asked for.
func say(format string, args ...any) {
	if os.Getenv(cvodeDir) != "" {
		fmt.Printf(format, args...)
	}
}

// exact flies from all starts with Dormand–Prince at a tolerance of 1e-12.
func exact(t testing.TB, c constants, f reducedFlight) (answers []answer) {
	t.Helper()
	p := newPilot(c, f, ode.DormandPrince, 1e-12, false)
	for k := range p.starts {
		p.mustFly(t, k)
		answers = append(answers, p.answer)
	}
	return answers
}

// TestSameReference: two programs, two methods, one answer.
func TestSameReference(t *testing.T) {
	const allowed = 1e-6 // K
	c := readConstants(t)
	for _, f := range c.flights() {
		here := exact(t, c, f)
		there := make([]answer, len(here))
		for _, row := range readCVODE(t, "reference.csv", true) {
			if row[0] != f.name {
				continue
			}
			a, both := &there[int(number(t, row[1]))], [2]float64{number(t, row[3]), number(t, row[4])}
			if row[2] == "peak" {
				a.peak = both
			} else {
				a.at[int(number(t, row[2]))/60] = both
			}
		}
		off := 0.0
		for k := range here {
			off = math.Max(off, here[k].difference(&there[k]))
		}
		say("References of the %s agree within %.0e K; coolant peaks at %.3f °C, oil at %.3f °C.\n",
			f.name, off, here[0].peak[0], here[0].peak[1])
		if !(off <= allowed) {
			t.Errorf("references of the %s differ by %g K", f.name, off)
		}
	}
}

// run is the work and the precision of flights from all starts.
type run struct {
	tol         float64
	evaluations float64 // of f, mean
	time        float64 // of a flight from the first [µs]
	off         float64 // error, root mean square [K]
}

// contest is one flight with or without a given Jacobian.
type contest struct {
	flight string
	given  bool
}

// cvodeRuns returns CVODE's runs by contest and options, from loose to tight.
func cvodeRuns(t testing.TB) map[contest]map[string][]run {
	t.Helper()
	all := map[contest]map[string][]run{}
	for _, row := range readCVODE(t, "table.csv", true) {
		c := contest{row[0], row[1] == "given"}
		if all[c] == nil {
			all[c] = map[string][]run{}
		}
		all[c][row[2]] = append(all[c][row[2]], run{
			tol: number(t, row[3]), evaluations: number(t, row[5]), time: number(t, row[7]), off: number(t, row[8]),
		})
	}
	return all
}

// ourRuns returns runs of a method at the tolerances of CVODE's: from 1e-1 to 1e-10,
// four a decade to 1e-6 from all starts, then one from the first.
func ourRuns(t testing.TB, c constants, on contest, m ode.Method) (runs []run) {
	t.Helper()
	flights := c.flights()
	f := flights[slices.IndexFunc(flights[:], func(f reducedFlight) bool { return f.name == on.flight })]
	want := exact(t, c, f)
	for k := 4; k <= 40; k++ {
		if k > 24 && k%4 != 0 {
			continue
		}
		r := run{tol: math.Pow(10, -0.25*float64(k))}
		p := newPilot(c, f, m, r.tol, on.given)
		starts := len(want)
		if k > 24 {
			starts = 1
		}
		for start := range starts {
			r.evaluations += float64(p.mustFly(t, start).Evaluations) / float64(starts)
			r.off += math.Pow(p.answer.difference(&want[start]), 2) / float64(starts)
		}
		r.off = math.Sqrt(r.off)
		if os.Getenv(cvodeDir) != "" && r.whole() {
			r.time = timed(t, p)
		}
		runs = append(runs, r)
	}
	return runs
}

// fewest returns the fewest evaluations that keep the error within a level, at a
// tolerance below which it is never larger: no lucky shot counts. 0: none.
func fewest(runs []run, level float64) (least float64) {
	for _, r := range slices.Backward(runs) {
		if r.off > level {
			break
		}
		if least == 0 || r.evaluations < least {
			least = r.evaluations
		}
	}
	return least
}

// best returns the options with the fewest evaluations within a level.
func best(options map[string][]run, level float64) (name string, least float64) {
	for o, runs := range options {
		n := fewest(runs, level)
		if n > 0 && (least == 0 || n < least || n == least && o < name) {
			name, least = o, n
		}
	}
	return name, least
}

// levels are the errors to be reached [K].
var levels = []float64{0.1, 0.01, 1e-3}
