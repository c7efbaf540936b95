package bench

import (
	"html"
	"slices"
	"strings"
	"testing"

	"hotclimb/plots"
)

// TestOtherUnits: a display that is set changes the units of all figures, as it
// does those of the command run.
func TestOtherUnits(t *testing.T) {
	b := smallBench(t)
	h := handler(t, b)
	m := move(t, h, 200, `{"case":"hot","edits":[{"path":"display","value":"si"},{"path":"title","value":"Mine"}]}`)
	_, r := asRun(t, b.Scenario, m.Command)
	shown := html.UnescapeString(m.Result)
	for _, want := range quantities(r, plots.SI) {
		if !strings.Contains(shown, want) {
			t.Errorf("the page lacks %s:\n%s", want, shown)
		}
	}
	m = move(t, h, 200, `{"case":"hot","edits":[{"path":"display","value":"si"},{"path":"title","value":"Mine"}],"pinned":[]}`)
	everything := m.Say + string(m.Cowl) + m.Summary
	for _, other := range []string{"°F", " lb", " ft", " hp"} {
		if strings.Contains(everything, other) {
			t.Errorf("the page has %s:\n%s", other, everything)
		}
	}
	if m.Chart.Unit != "°C" || !strings.Contains(string(m.Cowl), "Mine") || m.Chart.Pinned == nil || slices.Max(m.Chart.Pinned.Oil) > 150 {
		t.Errorf("the chart is in %s; the drawing:\n%s", m.Chart.Unit, m.Cowl)
	}
}
