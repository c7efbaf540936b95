package calibrate_test

import (
	"context"
	"fmt"
	"math"

	"hotclimb/sweep/calibrate"
)

// A pot of water cools in a room. Its heat loss (W/K) and its heat capacity (J/K)
// are known to 20 %, and the room to 1 °C. Readings of the temperature know the
// ratio of loss to capacity well, but cannot tell the two apart.
func Example() {
	minutes := []float64{0, 5, 10, 15, 20, 30, 45, 60, 90}
	reading := []float64{90.0, 79.7, 70.8, 63.4, 57.1, 47.0, 37.0, 30.5, 24.4} // °C, ± 0.1
	names := []string{"loss", "capacity", "room"}
	p := calibrate.Problem{
		Residuals: len(reading),
		Prior:     []calibrate.Prior{{Mean: 2, Sigma: 0.4}, {Mean: 4000, Sigma: 800}, {Mean: 20, Sigma: 1}},
		Evaluate: func(_ context.Context, x, r []float64) error {
			for i, t := range minutes {
				r[i] = (x[2] + (90-x[2])*math.Exp(-60*t*x[0]/x[1]) - reading[i]) / 0.1
			}
			return nil
		},
	}
	s, err := calibrate.Fit(context.Background(), p, []float64{2, 4000, 20}, calibrate.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	for k, name := range names {
		fmt.Printf("%-8s %6.4g ± %.2g, %.0f %% of the doubt before\n", name, s.X[k], s.Sigma[k], 100*s.Sharpened()[k])
	}
	fmt.Printf("sum of squares over freedom: %.2f\n", s.ReducedChiSquare())
	for _, d := range s.Blind(1) {
		for _, k := range d.Leaders(0.3) {
			fmt.Printf("%s %+.2f ", names[k], d.Weights[k])
		}
		fmt.Println("together: not seen")
	}
	// Output:
	// loss      2.067 ± 0.29, 73 % of the doubt before
	// capacity   3857 ± 5.5e+02, 68 % of the doubt before
	// room      20.52 ± 0.12, 12 % of the doubt before
	// sum of squares over freedom: 0.52
	// loss +0.73 capacity +0.68 together: not seen
}
