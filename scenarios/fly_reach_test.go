package scenarios_test

import (
	"maps"
	"reflect"
	"strings"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// resting are the numbers that change nothing as the built-in files stand, by
// the end of their paths, and why.
var resting = map[string]string{
	"engine.fuel_energy":   "heat is given over brake power",
	".other_liquid_factor": "the core serves what it was rated with",
	".fairing_drag":        "no inlet has a fairing",
	".flap_angle":          "the exit is not a flap, or its numbers are given",
	".drag_area":           "the exit is flush",
	".plate.free_share":    "no air passes a plate exchanger",
}

func rests(path string) bool {
	for end := range maps.Keys(resting) {
		if strings.HasSuffix(path, end) {
			return true
		}
	}
	return false
}

func built(t *testing.T, sc *scenarios.Scenario) *sim.Plant {
	t.Helper()
	p, err := sc.Build()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// moved returns the plant with one number a percent of itself and a little of
// its range further on, or back where the range ends.
func moved(t *testing.T, sc *scenarios.Scenario, p *scenarios.Param) *sim.Plant {
	t.Helper()
	n, _ := p.Get(sc)
	v := n.Value*1.01 + 1e-4*(p.Hi-p.Lo)
	if v > p.Hi {
		v = n.Value*0.99 - 1e-4*(p.Hi-p.Lo)
	}
	other := sc.Clone()
	if err := p.Set(other, v); err != nil {
		t.Fatal(err)
	}
	other, err := other.With(nil) // fills anew and checks
	if err != nil {
		t.Fatal(err)
	}
	return built(t, other)
}

// numbers calls f with every number of a scenario that a plant is made of.
func numbers(t *testing.T, sc *scenarios.Scenario, f func(p *scenarios.Param)) {
	t.Helper()
	for _, path := range sc.Paths() {
		p, err := sc.Compile(path)
		if err != nil {
			t.Fatal(err)
		}
		beside := strings.HasPrefix(path, "changes") || strings.HasPrefix(path, "gauges")
		if _, known := p.Get(sc); known && p.IsNumber() && !beside {
			f(&p)
		}
	}
}

// TestEveryNumberReachesThePlant: whatever number of a file is changed, another
// plant is built from it. One that is read, checked and forgotten would not.
func TestEveryNumberReachesThePlant(t *testing.T) {
	count := 0
	for _, file := range append([]string{highwing}, builtIns...) {
		sc, err := scenarios.LoadFile(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range sc.CaseNames() {
			c := effective(t, file, name, nil)
			base := built(t, c)
			if !reflect.DeepEqual(base, built(t, c)) {
				t.Fatal("two plants of one scenario differ")
			}
			numbers(t, c, func(p *scenarios.Param) {
				count++
				if !rests(p.Path) && reflect.DeepEqual(base, moved(t, c, p)) {
					t.Errorf("%s %s: %s does nothing", file, name, p.Path)
				}
			})
		}
	}
	if count < 1000 { // gauges and changes make no plant
		t.Errorf("only %d numbers", count)
	}
}

// TestRestingNumbersWake: those that rest act where their sections call for
// them, and so do the numbers that no built-in file gives.
func TestRestingNumbersWake(t *testing.T) {
	for path, s := range map[string]set{
		"engine.fuel_energy":                       {"engine.heat_basis=fuel_energy", "engine.heat_to_coolant=0.2", "engine.heat_to_oil=0.05"},
		"exchangers.auxiliary.other_liquid_factor": {"exchangers.auxiliary.serves=oil"},
		"inlets.chin.fairing_drag":                 {"inlets.chin.fairing_area=0.05 m^2"},
		"inlets.chin.fairing_area":                 {"inlets.chin.fairing_area=0.05 m^2"},
		"inlets.chin.diffuser.face_area":           {"inlets.chin.diffuser.face_area=0.1 m^2"},
		"exits.belly.flap_angle":                   nil,
		"exits.belly.drag_area":                    {"exits.belly.flap_angle=20 deg"},
		"exits.belly.rise":                         {"exits.belly.rise=0.3 m"},
		"exits.belly.propeller_suction":            {"exits.belly.propeller_suction=0.2"},
	} {
		c := effective(t, "tug", "hot_tow", s)
		p, err := c.Compile(path)
		if err != nil {
			t.Fatal(err)
		}
		if reflect.DeepEqual(built(t, c), moved(t, c, &p)) {
			t.Errorf("%s does nothing with %q", path, s)
		}
	}
}
