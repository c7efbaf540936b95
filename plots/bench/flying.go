package bench

import (
	"context"
	"html/template"
	"sync"

	"hotclimb/plots"
	"hotclimb/sim"
)

// sampleInterval is that of the time histories, as of the command run [s].
const sampleInterval = 5.0

// flownState is a state with what came of its cases.
type flownState struct {
	*state
	flown []flown       // by case
	units plots.Units   // of the case that is shown
	cowl  template.HTML // of that case, "" when it failed
}

// fly flies all cases of a state, the one that is shown with its time history, and
// draws the cowl of that one while the others still fly. The error is that of ctx;
// what fails of a case stands in it.
func (s *server) fly(ctx context.Context, st *state, shown int) (*flownState, error) {
	f := &flownState{state: st, flown: make([]flown, len(st.cases)), units: plots.UnitsOf(st.cases[shown].Scenario.Display)}
	one := func(i int, set sim.Settings) {
		k := st.cases[i]
		f.flown[i].result, f.flown[i].err = s.hangar.fly(ctx, k.key, k.plant, set)
	}
	var others sync.WaitGroup
	for i := range st.cases {
		if i != shown {
			others.Go(func() { one(i, sim.Settings{}) })
		}
	}
	one(shown, sim.Settings{Sample: sampleInterval})
	if r := f.flown[shown].result; r != nil {
		f.cowl = s.cowl(st.cases[shown], r)
	}
	others.Wait()
	return f, ctx.Err()
}
