package plots_test

import (
	"fmt"

	"hotclimb/plots"
)

func ExampleCowl() {
	m := usualCowl() // a made-up cowl; Scenario.Build and sim.Run give a real one
	fig, err := plots.Cowl(&m.plant, &m.res, plots.SI, plots.Caption{Scenario: "tug"})
	if err != nil {
		fmt.Println(err)
		return
	}
	about(fig, 4)
	// Output:
	// Where air and heat go in the cowl.
	// At the least margin, oil 2.5 K over its limit: 5:43 into the flight in hot climb, 850 m, 30.0 °C outside, 144.0 km/h, ram 841 Pa.
	// 1.300 kg/s goes from outside to chin by chin.
	// 0.300 kg/s goes from outside to right cheek by right cheek.
}
