package bench

import (
	"context"
	"sync"

	"hotclimb/plots"
	"hotclimb/sim"
)

// sampleInterval is that of the time histories, as of the command run [s].
const sampleInterval = 5.0

// flownState is a state with what came of its cases.
type flownState struct {
	*state
	flown []flown     // by case
	units plots.Units // of the case that is shown
}

// fly flies all cases of a state, the one that is shown with its time history. The
// error is that of ctx; what fails of a case stands in it.
func (s *server) fly(ctx context.Context, st *state, shown int) (*flownState, error) {
	f := &flownState{st, make([]flown, len(st.cases)), plots.UnitsOf(st.cases[shown].Scenario.Display)}
	var all sync.WaitGroup
	for i, k := range st.cases {
		set := sim.Settings{}
		if i == shown {
			set.Sample = sampleInterval
		}
		all.Go(func() {
			f.flown[i].result, f.flown[i].err = s.hangar.fly(ctx, k.key, k.plant, set)
		})
	}
	all.Wait()
	return f, ctx.Err()
}
