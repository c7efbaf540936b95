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

// readings are a few made-up readings of both gauges.
func readings() []plots.FlightRecord {
	return []plots.FlightRecord{{
		Name:    "baseline",
		Coolant: plots.GaugeReadings{Time: []float64{0, 300, 600}, Read: []float64{84, 97, 101}, Model: []float64{85, 96, 99}, Noise: 1},
		Oil:     plots.GaugeReadings{Time: []float64{0, 300, 600}, Read: []float64{70, 88, 140}, Model: []float64{71, 90, 96}, Refused: []bool{false, false, true}},
	}}
}

func ExampleParity() {
	fig, err := plots.Parity(readings(), plots.SI, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 3)
	// Output:
	// Readings against the model, 1 record.
	// coolant 3 readings: read less model on average +0.7 °C, at most 2.0 °C.
	// oil 3 readings, 1 refused: read less model on average −1.5 °C, at most 2.0 °C.
}

func ExampleResiduals() {
	fig, err := plots.Residuals(readings(), plots.SI, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 2)
	// Output:
	// Readings less the model over time, in K, 1 record.
	// baseline: coolant 3 readings, from −1.0 to +2.0; oil 3 readings, 1 refused, from −2.0 to −1.0.
}

func ExamplePosterior() {
	fig, err := plots.Posterior([]plots.FittedNumber{
		{Name: "exits.belly.pressure_coefficient", Prior: -0.10, Doubt: 0.05, Value: -0.142, After: 0.021},
		{Name: "gauges.coolant.bias", Unit: "ddegF", Prior: 0, Doubt: 3, Value: 1.9, After: 1.1},
	}, [][]float64{{1, -0.62}, {-0.62, 1}}, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 4)
	// Output:
	// 2 numbers before and after a fit.
	// exits.belly.pressure_coefficient: −0.100 ± 0.050 → −0.142 ± 0.021.
	// gauges.coolant.bias: 0.0 ± 3.0 → 1.9 ± 1.1 °F.
	// The strongest correlation is −0.62, of gauges.coolant.bias with exits.belly.pressure_coefficient.
}

func ExampleDifferences() {
	fig, err := plots.Differences([]plots.Difference{{
		Name:    "louvers swapped",
		Coolant: &plots.Interval{Value: -4.1, Low: -5.4, High: -2.8, Verdict: "real"},
		Oil:     &plots.Interval{Value: 0.8, Low: -1.3, High: 2.9, Verdict: "not distinguishable from noise"},
	}}, "as built", plots.SI, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 2)
	// Output:
	// 1 configuration less the baseline as built.
	// louvers swapped: coolant −4.1 K (−5.4 to −2.8), real; oil +0.8 K (−1.3 to +2.9), not distinguishable from noise.
}

func ExampleDoubtLeft() {
	fig, err := plots.DoubtLeft(plots.MarginDoubt{Coolant: 4.2, Oil: 5.6}, []plots.CandidateFlight{
		{Name: "exit taped to one half", Left: plots.MarginDoubt{Coolant: 2.1, Oil: 2.9}, Note: "stop at the caution"},
	}, plots.SI, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 3)
	// Output:
	// Doubt of the least margins, one standard deviation, after 1 flight that could be flown.
	// Now: coolant ±4.2 K, oil ±5.6 K.
	// After exit taped to one half: coolant ±2.1 K, oil ±2.9 K.
}

func ExampleShares() {
	fig, err := plots.Shares([]plots.ShareOfDoubt{
		{Name: "exits.belly.pressure_coefficient", Coolant: plots.Index{First: 0.52, Total: 0.58}, Oil: plots.Index{First: 0.21, Total: 0.3}},
	}, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 2)
	// Output:
	// Shares of 1 number in the variance of the margins, by the number alone and in total.
	// exits.belly.pressure_coefficient: coolant 52 / 58 %, oil 21 / 30 %.
}

func ExampleHistory_bands() {
	fig, err := plots.History(overLimit().result(), plots.SI, plots.Caption{Scenario: "tug"}, plots.Band{
		Channel: "coolant_out", Time: []float64{0, 840}, Low: []float64{86, 117}, Median: []float64{86, 121}, High: []float64{86, 126},
		Chance: "over its limit in 99 % of 256 draws",
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 2)
	// Output:
	// Temperatures, altitude, outside air and air flows over time.
	// The coolant peaks at 122 °C after 14.0 min; its limit is 113 °C, passed after 5.0 min; over its limit in 99 % of 256 draws.
}
