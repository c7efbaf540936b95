package scenarios_test

import (
	"bytes"
	"testing"

	"hotclimb/scenarios"
)

// The scenario as it was run holds the same cases as were flown, also where a
// setting overrules one of a case that excludes it.
func TestAsRun(t *testing.T) {
	base, err := scenarios.LoadFile("../testdata/script/small.yaml", nil)
	if err != nil {
		t.Fatal(err)
	}
	base.Cases[1].Set["day.isa_offset"] = "20 K"
	for _, settings := range [][]scenarios.Setting{
		nil,
		{{Path: "inlets.chin.area", Text: "40 in^2"}},
		{{Path: "day.temperature", Text: "99 degF"}}, // excludes isa_offset
		{{Path: "exits.belly.area", Text: "44 in^2"}, {Path: "display", Text: "si"}},
		{{Path: "cases.hot.day.elevation", Text: "900 ft"}, {Path: "exchangers.cooler.serves", Text: "coolant"}},
	} {
		flown, err := base.EffectiveCases(nil, settings)
		if err != nil {
			t.Fatal(err)
		}
		written, err := base.AsRun(flown, settings)
		if err != nil {
			t.Fatal(err)
		}
		var text bytes.Buffer
		if err := scenarios.Write(&text, written); err != nil {
			t.Fatal(err)
		}
		again, err := scenarios.Load(scenarios.Source{Name: "written.yaml", Text: text.Bytes()})
		if err != nil {
			t.Fatalf("%v: %v\n%s", settings, err, &text)
		}
		cases, err := again.EffectiveCases(nil, nil)
		if err != nil {
			t.Fatalf("%v: %v", settings, err)
		}
		for i := range cases {
			if cases[i].Scenario.SHA256() != flown[i].Scenario.SHA256() {
				t.Errorf("%v: case %s is not what was flown", settings, cases[i].Name)
			}
		}
	}
}
