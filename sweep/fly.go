package sweep

import (
	"context"
	"fmt"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// Fly builds an effective scenario and flies it. A panic becomes an error.
func Fly(ctx context.Context, sc *scenarios.Scenario, set sim.Settings) (result *sim.Result, err error) {
	defer func() {
		if r := recover(); r != nil {
			result, err = nil, fmt.Errorf("internal fault, please report it: %v", r)
		}
	}()
	plant, err := sc.Build()
	if err != nil {
		return nil, err
	}
	return sim.Run(ctx, plant, set)
}
