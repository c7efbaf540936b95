package sweep_test

import (
	"context"
	"fmt"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// The changes that a scenario lists, the best first.
func ExampleRank() {
	tug, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	cases, err := tug.EffectiveCases([]string{"hot_tow"}, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	ranked, err := sweep.Rank(context.Background(), sweep.Ranking{Cases: cases, Changes: tug.Changes[:4]}, func() {})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, s := range ranked.Changes {
		circuit, spoils := s.Spoils()
		fmt.Println(s.Change.Name, s.LeastGain > 0, spoils && circuit == sweep.Coolant)
	}
	// Output:
	// flap_down true false
	// wider_exit true false
	// bigger_oil_inlet true false
	// auxiliary_to_oil false true
}
