package plots_test

import (
	"fmt"
	"os"
	"strings"

	"hotclimb/plots"
	"hotclimb/sim"
)

func ExampleHistory() {
	res := overLimit().result() // a made-up run; sim.Run gives a real one
	fig, err := plots.History(res, plots.US, plots.Caption{Title: "Hot climb", Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	var svg strings.Builder
	if err := fig.WriteSVG(&svg); err != nil {
		fmt.Println(err)
		return
	}
	about := svg.String()[strings.Index(svg.String(), "<desc>"):]
	fmt.Println(about[:strings.Index(about, " The oil")])
	// Output:
	// <desc>Temperatures, altitude, outside air and air flows over time. The coolant peaks at 251 °F after 14.0 min; its limit is 235 °F, passed after 5.0 min.
}

func ExampleCSV() {
	run := &sim.Trajectory{Channels: []sim.Channel{
		{Name: "time_s", Values: []float64{0, 10}},
		{Name: "coolant_out_degC", Values: []float64{85, 91.25}},
	}}
	if err := plots.CSV(os.Stdout, run); err != nil {
		fmt.Println(err)
	}
	// Output:
	// time_s,coolant_out_degC
	// 0,85
	// 10,91.25
}

// about prints the first sentences of the description of a figure.
func about(fig *plots.Figure, sentences int) {
	var svg strings.Builder
	if err := fig.WriteSVG(&svg); err != nil {
		fmt.Println(err)
		return
	}
	_, text, _ := strings.Cut(svg.String(), "<desc>")
	for _, s := range strings.SplitAfterN(text, ". ", sentences+1)[:sentences] {
		fmt.Println(strings.TrimSpace(s))
	}
}

func ExampleSensitivity() {
	height := plots.SensitivityCurve{
		Axis:    plots.Axis{Label: "exits.belly.height", Unit: "in", Values: []float64{7, 8.5, 10}},
		Coolant: []float64{-3.2, 1.1, 3.7}, Oil: []float64{-3.3, 1.6, 4.7}, Present: 8.5,
	}
	fig, err := plots.Sensitivity([]plots.SensitivityCurve{height}, plots.SI, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 2)
	// Output:
	// Least margin of coolant and oil over the cases, in K, over 1 number of the scenario, one at a time.
	// exits.belly.height from 7.00 to 10.0 in: coolant −3.2 to +3.7, oil −3.3 to +4.7.
}

func ExampleContour() {
	fig, err := plots.Contour(plots.ContourData{
		X:       plots.Axis{Label: "inlets.chin.height", Unit: "in", Values: []float64{4, 6}},
		Y:       plots.Axis{Label: "exits.belly.height", Unit: "in", Values: []float64{7, 10}},
		Coolant: [][]float64{{-9, -2}, {-4, 4}}, Oil: [][]float64{{-5, -3}, {3, 5}},
		Optimum: &[2]float64{5.6, 8.1},
	}, plots.SI, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 4)
	// Output:
	// Worst margin of coolant and oil beyond the required one, in K, over inlets.chin.height, in (4.00 to 6.00) and exits.belly.height, in (7.00 to 10.0).
	// It lies between −9.0 and +4.0.
	// 1 of 4 flown designs hold both margins.
	// The optimum is at 5.60 and 8.10.
}

func ExampleTornado() {
	fig, err := plots.Tornado([]plots.Gain{
		{Name: "wider_exit", Coolant: 1.9, Oil: 2.2},
		{Name: "auxiliary_to_oil", Coolant: -6.1, Oil: 7.9, Note: "fixes oil by spoiling coolant"},
	}, plots.SI, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 3)
	// Output:
	// Gain of the least margin by 2 single changes, in K, the greatest first.
	// auxiliary_to_oil: coolant −6.1, oil +7.9.
	// wider_exit: coolant +1.9, oil +2.2.
}

func ExampleFront() {
	fig, err := plots.Front([]plots.FrontPoint{
		{Margin: 0, DragPower: 4100, Area: 0.095}, {Margin: 3, DragPower: 4700, Area: 0.104}, {Margin: 6, DragPower: 5600, Area: 0.118},
	}, plots.FrontPoint{Margin: 1.1, DragPower: 4600, Area: 0.103}, plots.SI, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 2)
	// Output:
	// Least cooling-drag power against margin, 3 designs.
	// From 0.0 K of margin for 4.10 kW and 950.0 cm² to +6.0 K of margin for 5.60 kW and 1180.0 cm².
}
