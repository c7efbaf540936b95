package atmos_test

import (
	"fmt"

	"hotclimb/sim/atmos"
)

func ExampleDay_At() {
	for _, h := range []float64{0, 1500, 3000} {
		s := atmos.HotDay().At(h)
		fmt.Printf("%4.0f m: %.1f °C, %.3f kg/m³\n", h, s.Temperature, s.Density)
	}
	// Output:
	//    0 m: 37.8 °C, 1.135 kg/m³
	// 1500 m: 27.9 °C, 0.978 kg/m³
	// 3000 m: 18.1 °C, 0.839 kg/m³
}

// A field at 600 m with 33 °C, climbed from at 45 m/s calibrated.
func ExampleCalibratedToTrue() {
	air := atmos.AtField(600, 33).At(2400)
	fmt.Printf("%.1f °C, %.1f m/s\n", air.Temperature, atmos.CalibratedToTrue(45, air))
	// Output: 21.3 °C, 52.6 m/s
}

func ExampleHotDayCorrection() {
	// Coolant 95 °C, first reached at 1700 m in air of 21 °C.
	fmt.Printf("%.1f °C\n", atmos.HotDayCorrection(95, 21, 1700))
	// Output: 100.6 °C
}
