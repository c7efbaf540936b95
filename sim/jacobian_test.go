package sim_test

import (
	"math"
	"testing"

	"hotclimb/sim"
)

// TestJacobian holds the Jacobian of many plants against central differences of
// derivatives afresh: entries are off by at most 2 % of the largest of their
// column, for openings by 12 %.
func TestJacobian(t *testing.T) {
	plants := airs(t)
	bare := builtIn(t, "rotary", "hot_climb")
	bare.Coolant.Thermostat, bare.Oil.Thermostat = nil, nil
	plants["without thermostats"] = bare
	plants["with plate"] = builtIn(t, "seaplane", "hot_climb")
	for name, p := range plants {
		for leg := range p.Legs {
			probe, err := sim.NewProbe(p, leg)
			if err != nil {
				t.Fatal(err)
			}
			if name == "spray" {
				probe.Spray()
			}
			if err := probe.Turn([5]float64{112, 101, 88, 104, 92}, 600); err != nil {
				t.Fatal(err)
			}
			given, want, err := probe.Columns()
			if err != nil {
				t.Fatal(err)
			}
			for j := range given {
				allowed := 0.02
				if j == sim.Moving-1 || j == sim.Moving-2 {
					allowed = 0.12
				}
				checkColumn(t, name+" "+p.Legs[leg].Name, j, given[j], want[j], allowed)
			}
		}
	}
}

// checkColumn holds the entries of temperatures, openings and altitude.
func checkColumn(t *testing.T, name string, j int, given, want []float64, allowed float64) {
	t.Helper()
	if given == nil {
		return
	}
	largest := 0.0
	for _, x := range want[:sim.Moving+1] {
		largest = math.Max(largest, math.Abs(x))
	}
	for i, x := range want[:sim.Moving+1] {
		if off := math.Abs(given[i] - x); !(off <= allowed*largest+1e-9) {
			t.Errorf("%s: entry %d of column %d is %g, by differences %g", name, i, j, given[i], x)
		}
	}
}
