package engine_test

import (
	"fmt"

	"hotclimb/sim/engine"
)

// A converted car engine of 100 kW at sea level and at 3000 m.
func ExampleEngine_Heat() {
	e := engine.Engine{
		RatedPower: 100e3, RatedSpeed: 600,
		HeatToCoolant: 0.75, HeatToOil: 0.10, PartLoadExponent: 0.75, IdleFuel: 0.08,
	}
	for _, sigma := range []float64{1, 0.742} {
		power := e.Available(sigma)
		h := e.Heat(power)
		fmt.Printf("%3.0f kW: coolant %.0f kW, oil %.1f kW\n", power/1e3, h.Coolant/1e3, h.Oil/1e3)
	}
	// Output:
	// 100 kW: coolant 75 kW, oil 10.0 kW
	//  71 kW: coolant 59 kW, oil 7.9 kW
}

// A turbocharged engine with its critical altitude near 2500 m (σ 0.78).
func ExampleEngine_Available() {
	e := engine.Engine{RatedPower: 84.5e3, Boosted: true, CriticalDensity: 0.78}
	for _, sigma := range []float64{1, 0.78, 0.6} {
		fmt.Printf("σ %.2f: %.1f kW\n", sigma, e.Available(sigma)/1e3)
	}
	// Output:
	// σ 1.00: 84.5 kW
	// σ 0.78: 84.5 kW
	// σ 0.60: 62.4 kW
}

func ExamplePowerLapse() {
	fmt.Printf("%.3f\n", engine.PowerLapse(0.738))
	// Output: 0.703
}

// A quarter of the fuel energy at 300 g/kWh and 43.5 MJ/kg.
func ExampleRatioFromFuel() {
	fmt.Printf("%.2f of the brake power\n", engine.RatioFromFuel(0.25, 0.300/3.6e6, 43.5e6))
	// Output: 0.91 of the brake power
}
