package fluid_test

import (
	"fmt"

	"hotclimb/sim/fluid"
)

// A half-and-half coolant at the radiator inlet, and where it boils under a 0.9
// bar cap at sea level.
func ExampleEthyleneGlycol() {
	x, err := fluid.MassFractionOfVolume(fluid.KindEthyleneGlycol, 0.50)
	if err != nil {
		fmt.Println(err)
		return
	}
	coolant, err := fluid.EthyleneGlycol(x)
	if err != nil {
		fmt.Println(err)
		return
	}
	boiling, _ := coolant.BoilingPoint(101325 + 0.9e5)
	fmt.Println(coolant.Name())
	fmt.Printf("%.0f kg/m³, %.0f J/(kg K) at 90 °C\n", coolant.Density(90), coolant.HeatCapacity(90))
	fmt.Printf("boils at %.1f °C\n", boiling)
	// Output:
	// ethylene glycol 52.72 % by mass
	// 1022 kg/m³, 3573 J/(kg K) at 90 °C
	// boils at 127.5 °C
}

func ExampleEngineOil() {
	oil, err := fluid.EngineOil("20w_50")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, t := range []float64{20, 60, 100} {
		fmt.Printf("%3.0f °C: %.4f Pa s\n", t, oil.Viscosity(t))
	}
	// Output:
	//  20 °C: 0.4735 Pa s
	//  60 °C: 0.0577 Pa s
	// 100 °C: 0.0155 Pa s
}

func ExampleWetBulb() {
	w := fluid.HumidityRatio(35, 0.30, 101325)
	fmt.Printf("W %.4f, wet bulb %.1f °C\n", w, fluid.WetBulb(35, w, 101325))
	// Output: W 0.0105, wet bulb 21.5 °C
}
