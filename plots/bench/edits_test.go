package bench

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"hotclimb/scenarios"
)

// drawEdit is an edit that may be anything from good to nonsense.
func drawEdit(paths []string) *rapid.Generator[Edit] {
	number := rapid.SampledFrom([]string{"0", "1", "-3", "0.5", "40", "75", "200", "1e9", "-0", "1e-40", "x", ""})
	unit := rapid.SampledFrom([]string{"", " in^2", " mph", " degF", " %", " ft", " lb", " L/min", " ± 10 %", " hp", " min", "\x00"})
	word := rapid.SampledFrom([]string{"coolant", "oil", "chin", "plenum", "belly", "radiator", "settled", "level", "idle", "si", "part_23", "../..", "'; --"})
	return rapid.Custom(func(t *rapid.T) Edit {
		if rapid.IntRange(0, 4).Draw(t, "kind") == 0 {
			return Edit{Change: rapid.SampledFrom([]string{"wide", "heavy_core", "lean", "fast", "nothing"}).Draw(t, "change")}
		}
		e := Edit{Path: rapid.SampledFrom(paths).Draw(t, "path"), Case: rapid.SampledFrom([]string{"", "hot", "cool", "warm"}).Draw(t, "case")}
		if rapid.Bool().Draw(t, "number") {
			e.Value = number.Draw(t, "number") + unit.Draw(t, "unit")
		} else {
			e.Value = word.Draw(t, "word")
		}
		return e
	})
}

// TestAnyEdits: whatever is edited, the answer is a result, or faults that name
// edits.
func TestAnyEdits(t *testing.T) {
	b := smallBench(t)
	b.Rewrite = func([]scenarios.CaseSetting) ([]byte, error) { return nil, nil }
	s, err := newServer(b)
	if err != nil {
		t.Fatal(err)
	}
	h := s.handler()
	paths := append(s.paths(), "nothing", "exits..area", "cases.hot.day.temperature", "size.doubt", "changes.wide.weight", ".", "title")
	one := drawEdit(paths)
	rapid.Check(t, func(t *rapid.T) {
		q := request{
			Case: rapid.SampledFrom([]string{"", "hot", "cool"}).Draw(t, "case"), Edits: rapid.SliceOfN(one, 0, 3).Draw(t, "edits"),
			Pinned: rapid.SliceOfN(one, 0, 1).Draw(t, "pinned"),
		}
		body, err := json.Marshal(q)
		if err != nil {
			t.Fatal(err)
		}
		w := serve(h, asking("POST", "/fly", string(body)))
		var a answer
		if err := json.Unmarshal(w.Body.Bytes(), &a); err != nil {
			t.Fatalf("%s: %v", w.Body, err)
		}
		switch w.Code {
		case 200:
			if len(a.Faults) > 0 || a.Result == "" || a.Summary == "" || a.Say == "" || len(a.Controls) == 0 {
				t.Fatalf("half an answer: %s", w.Body)
			}
		case 422:
			if len(a.Faults) == 0 {
				t.Fatal("a fault without words")
			}
			for _, f := range a.Faults {
				if f.Text == "" || f.Edit >= len(q.Edits) || !f.Pinned && f.Edit < 0 {
					t.Fatalf("%s: fault %+v", body, f)
				}
			}
		default:
			t.Fatalf("%s: status %d: %s", body, w.Code, w.Body)
		}
	})
}
