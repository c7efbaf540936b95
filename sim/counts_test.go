package sim_test

import (
	"runtime"
	"testing"

	"hotclimb/sim"
)

// TestCountsOfFlights: the work of the built-in flights to the last evaluation.
// A change of the formula, the tolerances or the physics moves these numbers:
// look at TestWorkAndPrecision before they are written anew. Processors that add
// and multiply in one rounding may take another step here and there.
func TestCountsOfFlights(t *testing.T) {
	if runtime.GOARCH != "amd64" {
		t.Logf("counts are those of amd64, not of %s", runtime.GOARCH)
		return
	}
	for _, c := range []struct {
		file, name         string
		steps, evaluations int
	}{
		{"tug", "hot_tow", 60, 218}, {"tug", "hot_taxi", 38, 135}, {"tug", "cruise", 7, 132},
		{"rotary", "hot_climb", 65, 229}, {"rotary", "hot_taxi", 27, 97}, {"rotary", "cruise", 7, 126},
		{"seaplane", "hot_climb", 68, 249}, {"seaplane", "water_taxi", 51, 182}, {"seaplane", "cruise", 7, 132},
	} {
		checkCounts(t, c.file+" "+c.name, builtIn(t, c.file, c.name), c.steps, c.evaluations)
	}
	checkCounts(t, "20 minutes of climb", climbFor(t, "20 min"), 31, 109)
}

func checkCounts(t *testing.T, name string, p *sim.Plant, steps, evaluations int) {
	t.Helper()
	r := run(t, p, sim.Settings{})
	if r.Steps != steps || r.Evaluations != evaluations {
		t.Errorf("%s: %d steps and %d evaluations, not %d and %d", name, r.Steps, r.Evaluations, steps, evaluations)
	}
}
