package bench

import (
	"maps"
	"strings"
	"testing"

	"hotclimb/scenarios"
)

// TestFaults: texts are those of the command check, at the edit that is to blame.
func TestFaults(t *testing.T) {
	b := smallBench(t)
	h := handler(t, b)
	const good = `{"path":"exits.belly.area","value":"60 in^2"},`
	for _, c := range []struct {
		edits, path, value string
		edit               int
	}{
		{good + `{"path":"exits.belly.area","value":"60"}`, "exits.belly.area", "60", 1},
		{good + `{"path":"inlets.chin.area","value":"60 lb"}`, "inlets.chin.area", "60 lb", 1},
		{good + `{"path":"inlets.chin.area","value":""}`, "inlets.chin.area", "", 1},
		{`{"path":"inlets.chin.area","value":"60 m^2"},` + good + `{"change":"wide"}`, "inlets.chin.area", "60 m^2", 0},
		{good + `{"path":"inlets.chn.area","value":"60 in^2"}`, "inlets.chn.area", "60 in^2", 1},
		{good + `{"path":"exchangers.cooler.serves","value":"water"}`, "exchangers.cooler.serves", "water", 1},
		{good + `{"path":"day.temperature","value":"500 degF"}`, "day.temperature", "500 degF", 1},
		{good + `{"path":"exchangers.cooler.into","value":"belly_pod"}`, "exchangers.cooler.into", "belly_pod", 1},
		{good + `{"path":"size.doubt","value":"1"}`, "size.doubt", "1", 1},
		{good + `{"path":"<script>","value":"1"}`, "<script>", "1", 1},
	} {
		m := move(t, h, 422, `{"case":"hot","edits":[`+strings.TrimSuffix(c.edits, ",")+`]}`)
		_, err := b.Scenario.EffectiveCases([]string{"hot"}, []scenarios.Setting{{Path: c.path, Text: c.value}})
		if err == nil {
			t.Fatalf("%s=%s is no fault", c.path, c.value)
		}
		want := Fault{Path: c.path, Text: err.Error(), Edit: c.edit}
		if len(m.Faults) != 1 || m.Faults[0] != want {
			t.Errorf("%s:\ngot  %+v\nwant %+v", c.edits, m.Faults, want)
		}
	}
}

// TestFaultsOfCases: of two edits of a path in different cases the bad one is to
// blame, wherever it stands.
func TestFaultsOfCases(t *testing.T) {
	h := handler(t, smallBench(t))
	const bad, good = `{"path":"day.temperature","value":"500 degF","case":"hot"}`, `{"path":"day.temperature","value":"60 degF","case":"cool"}`
	for i, edits := range []string{bad + "," + good, good + "," + bad} {
		if m := move(t, h, 422, `{"edits":[`+edits+`]}`); len(m.Faults) != 1 || m.Faults[0].Edit != i {
			t.Errorf("%s: %+v", edits, m.Faults)
		}
	}
}

// TestManyFaults: each stands at its own edit.
func TestManyFaults(t *testing.T) {
	m := move(t, handler(t, smallBench(t)), 422, `{"edits":[{"change":"wide"},{"path":"day.temperature","value":"500 degF","case":"hot"},`+
		`{"path":"exits.belly.area","value":"60 in^2"},{"path":"inlets.chin.area","value":"60 lb"}]}`)
	blamed := map[string]int{}
	for _, f := range m.Faults {
		blamed[f.Path] = f.Edit
	}
	if want := map[string]int{"day.temperature": 1, "inlets.chin.area": 3}; !maps.Equal(blamed, want) {
		t.Errorf("blamed are %v, want %v", blamed, want)
	}
}

// TestFaultsOfTwo: where two edits do not go together, the later one is to blame,
// also when the fault stands at the path of the other.
func TestFaultsOfTwo(t *testing.T) {
	h := handler(t, smallBench(t))
	const caution, maximum = `{"path":"coolant.caution","value":"230 degF"}`, `{"path":"coolant.maximum","value":"229 degF"}`
	for _, edits := range []string{caution + "," + maximum, maximum + "," + caution} {
		m := move(t, h, 422, `{"edits":[`+edits+`]}`)
		if len(m.Faults) != 1 || m.Faults[0].Path != "coolant.caution" || m.Faults[0].Edit != 1 {
			t.Errorf("%s: %+v", edits, m.Faults)
		}
	}
}

// TestFaultsWithoutPath: what is wrong with the whole is laid to the edit that
// brought it.
func TestFaultsWithoutPath(t *testing.T) {
	h := handler(t, smallBench(t))
	const before = `{"path":"exits.belly.area","value":"60 in^2"},{"change":"wide"},`
	const behind = `,{"path":"inlets.chin.area","value":"60 in^2"},{"change":"heavy_core"}`
	m := move(t, h, 422, `{"edits":[`+before+`{"path":"flight.legs.climb.kind","value":"level","case":"cool"}`+behind+`]}`)
	for _, f := range m.Faults {
		if f.Edit != 2 || !strings.HasPrefix(f.Text, "flight.legs.climb.to_altitude: a leg of kind level") {
			t.Errorf("%+v", f)
		}
	}
	if len(m.Faults) == 0 {
		t.Error("no fault of a level leg that ends at an altitude")
	}
}

// TestUnknown: cases and changes that there are not.
func TestUnknown(t *testing.T) {
	h := handler(t, smallBench(t))
	for body, want := range map[string]Fault{
		`{"case":"warm"}`: {Text: "there is no case warm (known: cool, hot)", Edit: -1},
		`{"case":"hot","edits":[{"change":"wide"},{"change":"wiser"}]}`: {
			Text: "there is no change wiser (known: wide, heavy_core, lean, fast)", Edit: 1,
		},
		`{"edits":[{"path":"day.temperature","value":"90 degF","case":"warm"}]}`: {
			Text: "there is no case warm (known: cool, hot)", Edit: 0,
		},
		`{"pinned":[{"path":"exits.belly.area","value":"1"}]}`: {
			Path: "exits.belly.area", Text: "exits.belly.area: 1 has no unit; area takes in^2, ft^2, cm^2, m^2", Edit: -1, Pinned: true,
		},
	} {
		if m := move(t, h, 422, body); len(m.Faults) != 1 || m.Faults[0] != want {
			t.Errorf("%s:\ngot  %+v\nwant %+v", body, m.Faults, want)
		}
	}
}
