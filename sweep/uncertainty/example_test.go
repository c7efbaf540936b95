package uncertainty_test

import (
	"context"
	"fmt"

	"hotclimb/sweep"
	"hotclimb/sweep/uncertainty"
)

// margin is what is left of 118 °C when a liquid carries heat off from air of
// 38 °C [K].
func margin(_ context.Context, x, y []float64) error {
	heat, conductance := x[0], x[1] // kW, kW/K
	y[0] = 118 - 38 - heat/conductance
	return nil
}

var radiator = uncertainty.Study{
	Inputs: []sweep.Normal{
		{Name: "heat", Mean: 40, Deviation: 2, Lo: 0, Hi: 80},
		{Name: "conductance", Mean: 0.6, Deviation: 0.06, Lo: 0.3, Hi: 1},
	},
	Evaluate: margin,
	Outputs:  1,
}

func ExamplePropagate() {
	spread, err := uncertainty.Propagate(context.Background(), radiator)
	if err != nil {
		fmt.Println(err)
		return
	}
	m := spread.Results[0]
	fmt.Printf("%.1f ± %.1f K, from %.1f to %.1f K\n", m.Mean, m.Deviation, m.Low, m.High)
	fmt.Printf("used up in %.0f %% of all cases\n", 100*m.Passed.Value)
	// Output:
	// 12.7 ± 7.7 K, from -1.1 to 24.3 K
	// used up in 6 % of all cases
}

func ExampleIndices() {
	sources, err := uncertainty.Indices(context.Background(), radiator)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, share := range sources.Results[0].Shares {
		fmt.Printf("%s: %.0f %% of the variance\n", share.Name, 100*share.Total.Value)
	}
	// Output:
	// conductance: 81 % of the variance
	// heat: 19 % of the variance
}
