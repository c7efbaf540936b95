package airpath_test

import (
	"fmt"

	"hotclimb/sim/airpath"
)

// screen loses eight dynamic pressures on a face of 0.09 m².
type screen struct{}

func (screen) PressureDrop(flow, rho1, _, _ float64) (dp, slope float64) {
	slope = 8 * flow / (rho1 * 0.09 * 0.09)
	return slope * flow / 2, slope
}

// One duct: inlet, core, exit.
func ExampleSolver_Solve() {
	net := &airpath.Network{
		Places: []airpath.Place{{Name: "plenum"}, {Name: "cowl"}},
		Branches: []airpath.Branch{
			{Name: "inlet", From: airpath.Outside, To: 0, Inlet: &airpath.Inlet{Area: 0.03, Recovery: 0.95, DuctLoss: airpath.SuddenExpansion(1. / 3)}},
			{Name: "core", From: 0, To: 1, Core: &airpath.Core{Element: screen{}}},
			{Name: "exit", From: 1, To: airpath.Outside, Exit: &airpath.Exit{Area: 0.05, Discharge: 0.65, Pressure: -0.1, JetCosine: 1}},
		},
	}
	solver, err := airpath.NewSolver(net)
	if err != nil {
		fmt.Println(err)
		return
	}
	air := &airpath.Stream{Temperature: 15, Density: 1.225, Speed: 50}
	if err := solver.Solve(air, nil); err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f kg/s, %.0f Pa in the cowl, %.1f N\n", solver.Field.Flow[0], solver.Field.Pressure[1], solver.Drag(air).Internal)
	// Output: 1.274 kg/s, 474 Pa in the cowl, 28.3 N
}
