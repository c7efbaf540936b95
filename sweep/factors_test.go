package sweep

import (
	"testing"

	"hotclimb/scenarios"
)

// A case without the number is passed over, and an area counts that is given by
// its sides.
func TestFiled(t *testing.T) {
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	filed := func(path string) (float64, bool) {
		p, _, err := Compile(cases, path)
		if err != nil {
			t.Fatal(err)
		}
		return Filed(cases, p)
	}
	const inch = 0.0254
	area, _ := filed("inlets.chin.area")
	near(t, "area of 11 in by 5.6 in", area, 11*5.6*inch*inch)
	height, _ := filed("inlets.chin.height")
	near(t, "height", height, 5.6*inch)
	if v, ok := filed("inlets.chin.diameter"); ok {
		t.Errorf("a rectangle has the diameter %v", v)
	}
	p, k, err := Compile(cases, "flight.legs.tow.speed")
	if err != nil {
		t.Fatal(err)
	}
	cruise := cases[len(cases)-1]
	if _, ok := p.Get(cruise.Scenario); ok {
		t.Fatalf("case %s has a tow", cruise.Name)
	}
	n, _ := p.Get(k.Scenario)
	if v, ok := Filed([]scenarios.CaseScenario{cruise, k}, p); !ok || v != n.Value {
		t.Errorf("speed of the tow: %v %v, want %v", v, ok, n.Value)
	}
}
