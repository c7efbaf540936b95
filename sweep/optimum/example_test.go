package optimum_test

import (
	"context"
	"fmt"
	"math"

	"hotclimb/sweep/optimum"
)

// Two openings, of which one cools the coolant more and the other the oil, with
// as little area as keeps both 10 K inside their limits.
func Example() {
	p := optimum.Problem{
		Lo: []float64{0.005, 0.005}, Hi: []float64{0.05, 0.05}, Limits: 2, // m²
		Evaluate: func(_ context.Context, area, margin []float64) (float64, error) {
			exit, inlet := area[0], area[1]
			margin[0] = 110 - (35 + 0.9/math.Pow(exit*exit*inlet, 1./3)) - 10
			margin[1] = 115 - (35 + 1.1/math.Pow(exit*inlet*inlet, 1./3)) - 10
			return exit + inlet, nil
		},
	}
	ctx := context.Background()
	best, err := optimum.Minimise(ctx, p, []float64{0.03, 0.03}, optimum.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	other, err := optimum.Confirm(ctx, p, [][]float64{{0.03, 0.03}, {0.01, 0.04}}, optimum.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("exit %.1f cm², inlet %.1f cm², %.1f in all, %v\n", 1e4*best.X[0], 1e4*best.X[1], 1e4*best.F, best.Status)
	fmt.Printf("one more degree of oil margin costs %.2f cm²\n", 1e4*best.Multipliers[1])
	fmt.Printf("the other method agrees to 1 in 10000: %v\n", math.Abs(other.F-best.F) < 1e-4*best.F)
	// Output:
	// exit 122.0 cm², inlet 178.3 cm², 300.3 in all, converged
	// one more degree of oil margin costs 3.35 cm²
	// the other method agrees to 1 in 10000: true
}
