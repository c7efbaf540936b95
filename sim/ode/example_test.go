package ode_test

import (
	"context"
	"fmt"
	"math"

	"hotclimb/sim/ode"
)

// A body of 50 kJ/K, heated by 50 kW and cooled by 1000 W/K, warms up; the time
// at which it has risen by 40 K is located on the way.
func ExampleSolve() {
	problem := ode.Problem{
		Deriv: func(t float64, y, dydt []float64) error {
			dydt[0] = (50e3 - 1000*y[0]) / 50e3
			return nil
		},
		T1: 200,
		Y0: []float64{0},
		Events: []ode.Event{{
			Name:  "40 K",
			Value: func(t float64, y, dydt []float64) float64 { return y[0] - 40 },
		}},
	}
	sol, err := ode.Solve(context.Background(), problem, ode.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%v at %g s: %.2f K\n", sol.Status, sol.T, sol.Y[0])
	fmt.Printf("%s after %.2f s\n", sol.Hits[0].Name, sol.Hits[0].T)
	// Output:
	// reached at 200 s: 49.08 K
	// 40 K after 80.47 s
}

func ExampleRoot() {
	x, err := ode.Root(math.Cos, 0, 3, 1e-12)
	fmt.Printf("%.10f %v\n", x, err)
	// Output: 1.5707963268 <nil>
}
