package report_test

import (
	"context"
	"strings"
	"testing"

	"hotclimb/plots"
	"hotclimb/plots/report"
	"hotclimb/scenarios"
	"hotclimb/sim"
)

// flown is a built-in aircraft flown through one of its cases.
func flown(tb testing.TB, name, of string) *sim.Result {
	tb.Helper()
	sc, err := scenarios.LoadFile(name, nil)
	if err != nil {
		tb.Fatal(err)
	}
	if sc, err = sc.Case(of); err != nil {
		tb.Fatal(err)
	}
	plant, err := sc.Build()
	if err != nil {
		tb.Fatal(err)
	}
	res, err := sim.Run(context.Background(), plant, sim.Settings{Sample: 10})
	if err != nil {
		tb.Fatal(err)
	}
	return res
}

// peaks is a table of a run.
func peaks(res *sim.Result) plots.Table {
	t := plots.Table{Caption: "Peaks", Words: 1, Header: []string{"", "peak °F", "at min:s", "at ft", "caution °F", "limit °F", "margin °F"}}
	for _, p := range res.Peaks {
		t.Rows = append(t.Rows, []string{
			p.Channel,
			plots.Temperature.US.Number(p.Value), plots.Clock(p.Time), plots.Height.US.Number(p.Altitude),
			plots.Temperature.US.Number(p.Caution), plots.Temperature.US.Number(p.Limit), plots.Warmth.US.Number(p.Margin),
		})
	}
	return t
}

func figure(tb testing.TB) func(*plots.Figure, error) *plots.Figure {
	return func(f *plots.Figure, err error) *plots.Figure {
		tb.Helper()
		if err != nil {
			tb.Fatal(err)
		}
		return f
	}
}

// sample is a report such as a builder gets, of a flight and a few figures.
func sample(tb testing.TB) *report.Report {
	tb.Helper()
	res := flown(tb, "rotary", "hot_climb")
	file, ok := scenarios.Builtin("rotary")
	if !ok {
		tb.Fatal("no rotary")
	}
	caption := plots.Caption{Scenario: "Rotary pusher", Hash: strings.Repeat("0123456789abcdef", 4), Version: "test"}
	history := figure(tb)(plots.History(res, plots.US, caption))
	tornado := figure(tb)(plots.Tornado([]plots.Gain{
		{Name: "exit_ring", Coolant: 3.8, Oil: 4.8, Note: "eight hours of work"},
		{Name: "bigger_oil_inlet", Coolant: -0.8, Oil: 3.0, Note: "helps oil by spoiling coolant"},
	}, plots.US, caption))
	return &report.Report{
		Title: "Rotary pusher with a ring exit", Status: res.Status, Tool: "hotclimb", Version: "test", Hash: caption.Hash,
		Answer: []string{
			"On a 97 °F day the climb to 9500 ft takes the oil past its limit of 210 °F after 1 min 37 s; the cheapest cure is exit_ring.",
			"With the aft ring opened to 100 square inches the least margin goes from -8.5 °F to 0.1 °F.",
		},
		Sections: []report.Section{
			{Title: "Temperatures", Blocks: []report.Block{
				report.Numbers(peaks(res)), report.Drawing(history),
				report.Note("hot_taxi: the radiator runs at 0.28 times its rated air flow at the peak."),
			}},
			{Title: "Which change buys most", Blocks: []report.Block{
				report.Heading("Single changes"), report.Drawing(tornado),
				report.Heading("What to mind"),
				report.List("thicker_oil_cooler moves hot_taxi over a limit.", "bigger_oil_inlet helps the oil by spoiling the coolant."),
			}},
			{Title: "Nothing to say"},
			{Title: "Inputs as written", Blocks: []report.Block{
				report.Text("The file, to its last comment."), report.Folded("rotary.yaml", report.Verbatim(string(file.Text))),
			}},
		},
		Cautions: []string{
			"Limits of gauges and the data of the engine maker rule.",
			"Prove every change stepwise, over a place where an engine stop can be survived.",
		},
	}
}

// written is the page of a report.
func written(tb testing.TB, r *report.Report) string {
	tb.Helper()
	var b strings.Builder
	if err := r.WriteHTML(&b); err != nil {
		tb.Fatal(err)
	}
	return b.String()
}
