package loop_test

import (
	"fmt"

	"hotclimb/sim/loop"
)

// Two radiators of 600 and 500 W/K in air of 35 °C, one behind the other.
func ExampleChain_Heat() {
	x := []loop.Exchange{{K: 600, AirIn: 35}, {K: 500, AirIn: 35}}
	series := loop.Chain{{{Core: 0, Share: 1}}, {{Core: 1, Share: 1}}}
	heat := series.Heat(100, 4000, x)
	fmt.Printf("%.1f kW: %.1f + %.1f, %.2f °C between\n", heat/1e3, x[0].Q/1e3, x[1].Q/1e3, x[1].LiquidIn)
	// Output: 66.6 kW: 39.0 + 27.6, 90.25 °C between
}

// Coolant of 88 °C warms a thermostat that is still closed.
func ExampleThermostat_Rate() {
	th := loop.Thermostat{Opens: 82, Full: 95, Closing: 4, Leak: 0.02, Lag: 15}
	u := 0.0
	for range 30 {
		u += th.Rate(u, 88)
	}
	fmt.Printf("open %.2f, heading for %.2f\n", u, th.Settled(88))
	// Output: open 0.40, heading for 0.46
}

func ExampleThermostat_Share() {
	th := &loop.Thermostat{Opens: 82, Full: 95, Leak: 0.02, Lag: 15}
	fmt.Println(th.Share(0), th.Share(1))
	// Output: 0.02 1
}

func ExampleContact_At() {
	jacket := loop.Contact{UA: 3000, Exponent: 0.6, Floor: 0.1}
	fmt.Printf("%.0f %.0f %.0f W/K\n", jacket.At(1), jacket.At(0.5), jacket.At(0))
	// Output: 3000 1979 300 W/K
}
