package exchanger_test

import (
	"fmt"
	"math"

	"hotclimb/sim/exchanger"
	"hotclimb/sim/fluid"
)

// A radiator from its catalogue point, at 1.5 times the rated air flow.
func ExampleRating() {
	r := exchanger.Rating{
		Heat: 24000, TemperatureDifference: 60, AirFlow: 0.60, LiquidFlow: 1.0, LiquidHeatCapacity: 3600,
		AirShare: 0.8, AirExponent: 0.5, LiquidExponent: 0.8,
	}
	air, liquid, err := r.Sides()
	if err != nil {
		fmt.Println(err)
		return
	}
	core := exchanger.Core{
		Air: air, Liquid: liquid, Resist: exchanger.PowerLaw{Drop: 300, Flow: 0.6, Exponent: 1.7, Density: 1.1},
		FreeArea: 0.045, FaceArea: 0.06,
	}
	k, eps := core.Heat(exchanger.AirStream(0.9, 35), exchanger.Stream{Flow: 1, Temperature: 95, HeatCapacity: 3600})
	fmt.Printf("Q %.0f W, ε %.3f\n", k*60, eps)
	// Output: Q 30760 W, ε 0.566
}

// A flat-tube core from its fin geometry.
func ExampleNewLouveredFin() {
	fin, err := exchanger.NewLouveredFin(exchanger.LouverGeometry{
		FinPitch: 1.3e-3, LouverPitch: 1.2e-3, LouverLength: 6.5e-3, LouverAngle: 28 * math.Pi / 180,
		FinLength: 8e-3, FinDepth: 32e-3, TubeDepth: 32e-3, TubePitch: 10e-3, TubeThickness: 2e-3,
		FinThickness: 0.08e-3, FinConductivity: 180, FaceArea: 0.06,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	rho, mu := fluid.AirDensity(101325, 45), fluid.AirViscosity(45)
	flow := rho * 9 * 0.06 // 9 m/s at the face
	dp, _ := fin.Friction(flow, rho, mu)
	fmt.Printf("hA %.0f W/K, Δp %.0f Pa\n", fin.At(flow, 45), dp)
	// Output: hA 585 W/K, Δp 354 Pa
}

// Two bench points fix a core's resistance.
func ExampleBenchFrom() {
	b, err := exchanger.BenchFrom([]exchanger.BenchPoint{{Speed: 5, Drop: 100}, {Speed: 10, Drop: 300}}, 1.225, 1.789e-5, 0.09)
	if err != nil {
		fmt.Println(err)
		return
	}
	dp, _ := b.Friction(8*1.225*0.09, 1.225, 1.789e-5)
	fmt.Printf("%.0f Pa at 8 m/s\n", dp)
	// Output: 208 Pa at 8 m/s
}

// What 10 g/s of water adds to a 24 kW radiator on a hot day.
func ExampleCore_Wet() {
	core := exchanger.Core{
		Air:    exchanger.Power{UA: 900, Flow: 0.6, Exponent: 0.5},
		Liquid: exchanger.Power{UA: 3600, Flow: 1, Exponent: 0.8},
	}
	r := core.Wet(
		exchanger.NewSpray(0.010, 25),
		exchanger.MoistAir{Flow: 0.6, Temperature: 38, Humidity: 0.25, Pressure: 101325},
		exchanger.Stream{Flow: 1, Temperature: 98, HeatCapacity: 3600},
	)
	fmt.Printf("dry %.1f kW, wet %.1f kW, %.1f g/s run off, limit: %v\n",
		r.DryHeat/1e3, r.Heat/1e3, r.RunOff*1e3, r.Limit)
	// Output: dry 24.0 kW, wet 37.0 kW, 3.8 g/s run off, limit: water
}

// Two parallel cores, one twice as restrictive as the other.
func ExampleSplit() {
	share := make([]float64, 2)
	if err := exchanger.Split([]float64{1, 2}, 1.75, share); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f %.3f\n", share[0], share[1])
	// Output: 0.598 0.402
}

// How large a counterflow plate must be for an effectiveness of 0.7.
func ExampleArrangement_NTU() {
	ntu, err := exchanger.Counterflow.NTU(0.7, 0.5)
	fmt.Printf("%.3f %v\n", ntu, err)
	_, err = exchanger.ParallelFlow.NTU(0.7, 0.5)
	fmt.Println(err)
	// Output:
	// 1.546 <nil>
	// effectiveness 0.7 is out of reach of parallel flow at capacity ratio 0.5
}
