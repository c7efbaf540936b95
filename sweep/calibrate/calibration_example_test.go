package calibrate_test

import (
	"context"
	"fmt"

	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// What a flight read by hand teaches of the heat that the engine gives its oil, all
// else taken as known.
func ExampleCalibration() {
	sc, err := scenarios.LoadFile("rotary", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	test := sc.Tests[2]
	flown, err := sc.AsFlown(test, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	record, err := calibrate.NewRecord(flown, test, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	study := calibrate.Calibration{Scenario: sc, Records: []*calibrate.Record{record}, Paths: []string{"engine.heat_to_oil"}, Workers: 2}
	found, err := study.Find(context.Background())
	if err != nil {
		fmt.Println(err)
		return
	}
	n := found.Numbers[0]
	fmt.Printf("%s was %.2f ± %.2f and is %.2f ± %.3f\n", n.Param.Path, n.Before, n.Doubt, n.After, n.Left)
	// Output:
	// engine.heat_to_oil was 0.26 ± 0.05 and is 0.28 ± 0.002
}
