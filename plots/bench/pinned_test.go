package bench

import (
	"html"
	"slices"
	"strings"
	"testing"

	"hotclimb/plots"
	"hotclimb/sim"
)

// TestPinned: changes are those from the pinned state, and none from itself.
func TestPinned(t *testing.T) {
	b := smallBench(t)
	h := handler(t, b)
	const edits = `[{"path":"exits.belly.area","value":"95 in^2"}]`
	m := move(t, h, 200, `{"case":"hot","edits":`+edits+`,"pinned":[]}`)
	_, now := asRun(t, b.Scenario, m.Command)
	_, then := asRun(t, b.Scenario, "hotclimb run small.yaml --case hot")
	text := html.UnescapeString(m.Result)
	for _, want := range []string{
		plots.Warmth.Change(plots.US, now.BoilMargin-then.BoilMargin),
		plots.Force.Change(plots.US, now.Worst.CoolingDrag-then.Worst.CoolingDrag),
		strings.TrimSuffix(plots.Warmth.Change(plots.US, now.Peaks[0].Margin-then.Peaks[0].Margin), " °F"),
		strings.TrimSuffix(plots.Warmth.Change(plots.US, now.Peaks[1].Value-then.Peaks[1].Value), " °F"),
		strings.TrimSuffix(plots.Heat.Change(plots.US, now.Exchangers[0].Heat-then.Exchangers[0].Heat), " BTU/min"),
	} {
		if !strings.Contains(text, "("+want) {
			t.Errorf("the page lacks the change %s:\n%s", want, text)
		}
	}
	if then.Status != sim.OverLimit || now.Status == sim.OverLimit || !strings.Contains(text, "was over limit") {
		t.Errorf("from %s to %s: no word of it:\n%s", then.Status, now.Status, text)
	}
	if m.Chart.Pinned == nil || slices.Max(m.Chart.Pinned.Oil) <= slices.Max(m.Chart.Oil) {
		t.Errorf("the pinned curves are %+v", m.Chart.Pinned)
	}

	m = move(t, h, 200, `{"case":"hot","edits":`+edits+`,"pinned":`+edits+`}`)
	for part := range strings.SplitSeq(m.Result, `class="by">(`) {
		if change, _, ok := strings.Cut(part, ")"); ok && part != m.Result && strings.ContainsAny(strings.Split(part, "<")[0], "123456789") {
			t.Errorf("compared with itself: %s", change)
		}
	}
	if m := move(t, h, 200, `{"case":"hot","edits":`+edits+`,"pinned":null}`); strings.Contains(m.Result, `class="by"`) || m.Chart.Pinned != nil {
		t.Errorf("nothing is pinned:\n%s", m.Result)
	}
}

// TestPinnedTimes: how much later a limit is reached stands beside the time, in
// the table of the case and in that of all cases.
func TestPinnedTimes(t *testing.T) {
	result := func(coolant, oil float64) *sim.Result { // times to limits [s], 0 for one that is not reached
		return &sim.Result{Peaks: []sim.Peak{
			{Exceeded: coolant > 0, TimeToLimit: coolant}, {Exceeded: oil > 0, TimeToLimit: oil},
		}}
	}
	for _, c := range []struct {
		now, before *sim.Result
		want        Cell
	}{
		{result(100, 90), result(0, 75), Cell{Text: "1:30", Change: "+0:15", Alarm: true}},
		{result(80, 90), result(0, 100), Cell{Text: "1:20", Change: "-0:20", Alarm: true}},
		{result(80, 0), result(80, 0), Cell{Text: "1:20", Change: "0:00", Alarm: true}},
		{result(80, 0), result(0, 0), Cell{Text: "1:20", Change: "was not reached", Alarm: true}},
		{result(0, 0), result(0, 75), Cell{Text: notReached, Change: "was 1:15"}},
		{result(0, 0), result(0, 0), Cell{Text: notReached}},
		{result(0, 75), nil, Cell{Text: "1:15", Alarm: true}},
	} {
		p := &pair{now: c.now, before: c.before}
		if got := p.limitAfter(earliest); got != c.want {
			t.Errorf("%+v, want %+v", got, c.want)
		}
	}
}
