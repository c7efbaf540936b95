package scenarios_test

import (
	"context"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// builtIns are the scenarios that come with the program.
var builtIns = []string{"tug", "rotary", "seaplane"}

// set is a list of settings, "PATH=VALUE" each.
type set []string

// effective returns the effective scenario of one case with settings on top.
func effective(t testing.TB, file, name string, s set) *scenarios.Scenario {
	t.Helper()
	sc, err := scenarios.LoadFile(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases([]string{name}, settings(t, s))
	if err != nil {
		t.Fatalf("%s %s %v: %v", file, name, s, err)
	}
	return cases[0].Scenario
}

func settings(t testing.TB, s set) []scenarios.Setting {
	t.Helper()
	var list []scenarios.Setting
	for _, text := range s {
		one, err := scenarios.ParseSetting(text)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, one)
	}
	return list
}

// plantOf builds the plant of a case with settings.
func plantOf(t testing.TB, file, name string, s ...string) *sim.Plant {
	t.Helper()
	p, err := effective(t, file, name, s).Build()
	if err != nil {
		t.Fatalf("%s %s %v: %v", file, name, s, err)
	}
	return p
}

// fly runs a plant and checks the books that every run must keep.
func fly(t testing.TB, p *sim.Plant, settings sim.Settings) *sim.Result {
	t.Helper()
	r, err := sim.Run(context.Background(), p, settings)
	if err != nil {
		t.Fatal(err)
	}
	if !(r.EnergyResidual < 1e-6) || !(r.MassResidual < 1e-9) {
		t.Errorf("energy is off by %.2g, mass by %.2g", r.EnergyResidual, r.MassResidual)
	}
	return r
}

// flown builds and runs a case with settings.
func flown(t testing.TB, file, name string, s ...string) *sim.Result {
	t.Helper()
	return fly(t, plantOf(t, file, name, s...), sim.Settings{})
}

// traced is flown with a trajectory sampled every second.
func traced(t testing.TB, file, name string, s ...string) *sim.Result {
	t.Helper()
	return fly(t, plantOf(t, file, name, s...), sim.Settings{Sample: 1})
}

// everyCase calls f with every case of every built-in scenario.
func everyCase(t *testing.T, f func(t *testing.T, p *sim.Plant)) {
	for _, file := range builtIns {
		sc, err := scenarios.LoadFile(file, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range sc.CaseNames() {
			t.Run(file+"/"+name, func(t *testing.T) { f(t, plantOf(t, file, name)) })
		}
	}
}

// variant loads a built-in scenario with an overlay on top and builds one of
// its cases.
func variant(t testing.TB, file, overlay, name string, s ...string) *sim.Plant {
	t.Helper()
	base, ok := scenarios.Builtin(file)
	if !ok {
		t.Fatalf("no built-in %s", file)
	}
	sc, err := scenarios.Load(base, scenarios.Source{Name: "overlay", Text: []byte(overlay)})
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases([]string{name}, settings(t, s))
	if err != nil {
		t.Fatal(err)
	}
	p, err := cases[0].Scenario.Build()
	if err != nil {
		t.Fatal(err)
	}
	return p
}
