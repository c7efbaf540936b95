package sweep

import (
	"context"
	"fmt"

	"hotclimb/sim"
)

// Builder makes the plant of a scenario: an effective one, or a variant.
type Builder interface {
	Build() (*sim.Plant, error)
}

// Fly builds what is to be flown and flies it. A panic becomes an error.
func Fly[B Builder](ctx context.Context, b B, set sim.Settings) (result *sim.Result, err error) {
	defer recovered(&err)
	plant, err := b.Build()
	if err != nil {
		return nil, err
	}
	return FlyPlant(ctx, plant, set)
}

// FlyPlant flies a plant. A panic becomes an error.
func FlyPlant(ctx context.Context, plant *sim.Plant, set sim.Settings) (result *sim.Result, err error) {
	defer recovered(&err)
	return sim.Run(ctx, plant, set)
}

// recovered makes an error of a panic.
func recovered(err *error) {
	if r := recover(); r != nil {
		*err = fmt.Errorf("internal fault, please report it: %v", r)
	}
}
