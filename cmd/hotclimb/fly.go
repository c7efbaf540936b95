package main

import (
	"context"
	"fmt"

	"golang.org/x/sync/errgroup"
	"hotclimb/sim"
)

// flight is one run of one plant: what is flown and what came of it.
type flight struct {
	name   string // of the case
	plant  *sim.Plant
	sample float64 // interval of the time history [s]; 0: none is kept

	result *sim.Result
	err    error
}

// fly runs flights, some at a time. What each gives stands in it: a result or
// an error. The order in which they end has no influence on any of them.
func fly(ctx context.Context, flights []*flight, workers int, done func()) {
	var g errgroup.Group
	g.SetLimit(workers)
	for _, f := range flights {
		g.Go(func() error {
			defer done()
			f.fly(ctx)
			return nil
		})
	}
	_ = g.Wait() // no flight returns an error there
}

// fly runs one flight. A panic in it becomes its error.
func (f *flight) fly(ctx context.Context) {
	defer func() {
		if r := recover(); r != nil {
			f.result, f.err = nil, fmt.Errorf("case %s: internal fault, please report it: %v", f.name, r)
		}
	}()
	if f.err = ctx.Err(); f.err != nil {
		return
	}
	f.result, f.err = sim.Run(ctx, f.plant, sim.Settings{Sample: f.sample})
	if f.err != nil {
		f.err = fmt.Errorf("case %s: %w", f.name, f.err)
	}
}
