package flight_test

import (
	"fmt"

	"hotclimb/sim/flight"
)

// A climb at sea level with 134 kW at 41.2 m/s.
func ExampleAircraft_RateOfClimb() {
	a := flight.Aircraft{Mass: 1043, WingArea: 16.2, AspectRatio: 7.32, SpanEfficiency: 0.75, ParasiteDrag: 0.032}
	p := flight.Propeller{Diameter: 1.83, EfficiencyStatic: 0.7}
	const tas, rho = 41.2, 1.225
	q := 0.5 * rho * tas * tas
	thrust := p.Thrust(134.2e3, tas, rho, 0.75)
	fmt.Printf("%.2f m/s\n", a.RateOfClimb(thrust*tas, a.Drag(q), tas))
	// Output: 6.22 m/s
}

// What 0.02 m² of cooling drag area takes at 70 m/s near sea level.
func ExampleAircraft_Cost() {
	a := flight.Aircraft{Mass: 1043, WingArea: 16.2, AspectRatio: 7.32, SpanEfficiency: 0.75, ParasiteDrag: 0.032}
	const tas = 70.0
	q := 0.5 * 1.225 * tas * tas
	c := a.Cost(0.02*q, tas, q, 0.8)
	fmt.Printf("%.1f kW or %.2f m/s of speed or %.2f m/s of climb\n", c.Power/1e3, c.Speed, c.RateOfClimb)
	// Output: 5.3 kW or 0.92 m/s of speed or 0.41 m/s of climb
}

// Taxiing on 300 N of thrust: the pressure that is left to cool with.
func ExampleDiscOf() {
	p := flight.Propeller{Diameter: 1.83}
	fmt.Printf("%.0f Pa\n", flight.DiscOf(300, p.DiscArea(), 0, 1.225).Pressure)
	// Output: 114 Pa
}

func ExamplePropeller_Thrust() {
	p := flight.Propeller{Diameter: 1.83, EfficiencyStatic: 0.7}
	for _, tas := range []float64{0, 25, 41.2, 60} {
		fmt.Printf("%4.1f m/s: %.0f N\n", tas, p.Thrust(134.2e3, tas, 1.225, 0.75))
	}
	// Output:
	//  0.0 m/s: 3846 N
	// 25.0 m/s: 3457 N
	// 41.2 m/s: 2443 N
	// 60.0 m/s: 1678 N
}

func ExampleKindOf() {
	k, err := flight.KindOf("take_off")
	fmt.Println(k == flight.TakeOff, err)
	_, err = flight.KindOf("hover")
	fmt.Println(err)
	// Output:
	// true <nil>
	// flight: no kind of leg is called "hover"
}

func ExampleStabilised() {
	const fahrenheitPerMinute = 1.0 / 1.8 / 60
	fmt.Println(flight.Stabilised(1.9*fahrenheitPerMinute), flight.Stabilised(2.1*fahrenheitPerMinute))
	// Output: true false
}

func ExampleAirspeedTable_Calibrated() {
	table := flight.AirspeedTable{{Indicated: 30, Calibrated: 33}, {Indicated: 40, Calibrated: 41}}
	fmt.Println(table.Calibrated(35), table.Calibrated(60))
	// Output: 37 61
}

func ExampleLeg_Output() {
	climb := flight.Leg{Kind: flight.Climb, Throttle: 0.9}
	taxi := flight.Leg{Kind: flight.Taxi, Power: 8e3}
	fmt.Println(climb.Output(100e3), taxi.Output(100e3))
	// Output: 90000 8000
}
