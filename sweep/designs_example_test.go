package sweep_test

import (
	"fmt"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// Four Sobol points over two openings of the tug: each quarter of either range
// is met once.
func ExampleNewDesigns() {
	tug, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	var factors []sweep.Factor
	for _, v := range [][2]string{{"exits.belly.height", "6 in..10 in"}, {"inlets.cheek_right.area", "10 in^2..18 in^2"}} {
		p, err := tug.Compile(v[0])
		if err != nil {
			fmt.Println(err)
			return
		}
		f, err := scenarios.ParseVary(v[1], p)
		if err != nil {
			fmt.Println(err)
			return
		}
		factors = append(factors, f)
	}
	designs, err := sweep.NewDesigns(sweep.SobolDesign, factors, 4, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	const inch = 0.0254 // m
	levels := make([]sweep.Level, len(factors))
	for i := range designs.Len() {
		designs.At(i, levels)
		fmt.Printf("%.2f in, %.2f in²\n", levels[0].Number/inch, levels[1].Number/inch/inch)
	}
	// Output:
	// 8.39 in, 17.98 in²
	// 6.39 in, 13.98 in²
	// 7.39 in, 15.98 in²
	// 9.39 in, 11.98 in²
}
