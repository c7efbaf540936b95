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
