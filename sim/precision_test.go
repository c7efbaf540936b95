package sim_test

import (
	"math"
	"testing"

	"hotclimb/sim"
)

// TestWorkAndPrecision logs (-v) what a tolerance costs and brings with each
// formula, and checks that the error falls with it. The Jacobian lets the flows of
// the air stand, so that Rosenbrock formulas lose some of their order: ten times
// the precision costs three times the steps.
func TestWorkAndPrecision(t *testing.T) {
	p := builtIn(t, "tug", "hot_tow")
	exact := run(t, p, sim.Settings{RelTol: 1e-9, Method: sim.Explicit})
	names := map[sim.Method]string{sim.Stiff: "Kaps-Rentrop", sim.LStable: "Rodas4", sim.Explicit: "Dormand-Prince"}
	for _, m := range []sim.Method{sim.Stiff, sim.LStable, sim.Explicit} {
		for _, c := range []struct{ tol, allowed float64 }{
			{1e-3, 0.02}, {1e-4, 3e-3}, {1e-5, 5e-4}, {1e-6, 1e-4}, {1e-7, 5e-5},
		} {
			r := run(t, p, sim.Settings{RelTol: c.tol, Method: m})
			off := 0.0
			for i := range r.Peaks {
				off = math.Max(off, math.Abs(r.Peaks[i].Value-exact.Peaks[i].Value))
			}
			t.Logf("%-14s %7.0e  %4d steps %6d evaluations  peaks off by %.1e K", names[m], c.tol, r.Steps, r.Evaluations, off)
			if !(off < c.allowed) {
				t.Errorf("%s at %g is off by %g K", names[m], c.tol, off)
			}
		}
	}
}
