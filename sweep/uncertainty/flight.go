package uncertainty

import (
	"context"
	"errors"
	"math"
	"sync/atomic"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// FlightSettings say how the doubt of a flight is drawn; the zero value works.
type FlightSettings struct {
	Draws    int     // flights that OfFlight draws, a power of two for Sobol; 0 means 256
	Points   int     // that WhereFrom draws, likewise; 0 means 128
	Sampling string  // sweep.SobolDesign, also when empty, or sweep.LatinDesign
	Seed     uint64  // of the draws
	Workers  int     // flights at a time; 0 means 1
	Level    float64 // of the intervals of chances and shares; 0 means 0.9
	Times    int     // of the bands, at most; 0: no bands, which takes half the time

	Sim   sim.Settings // of each flight; Sample is chosen for the bands
	Flown func()       // after each flight, by several goroutines at once; may be nil

	// Fly flies a scenario; nil: sweep.Fly. It is called by Workers goroutines.
	Fly func(context.Context, *scenarios.Scenario, sim.Settings) (*sim.Result, error)
}

// ErrNoDoubt is that a flight has nothing to draw.
var ErrNoDoubt = errors.New("no number of this scenario carries a doubt: write one as in 0.60 ± 0.10")

// The limits of a flight.
const (
	CoolantLimit = "coolant"
	OilLimit     = "oil"
	BoilLimit    = "boiling"
)

// flown is one effective scenario whose flights are drawn.
type flown struct {
	*FlightSettings
	scenario *scenarios.Scenario
	doubts   *sweep.Doubts
	stated   *sim.Result // the flight with every number as the scenario has it
	margins  []int       // of sweep.Margins that there are
	sample   float64     // interval of the bands [s]; 0: none

	turned, incomplete atomic.Int64 // draws
}

// newFlown flies the scenario as it stands.
func newFlown(ctx context.Context, sc *scenarios.Scenario, set *FlightSettings) (*flown, error) {
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		return nil, err
	}
	if len(doubts.Params) == 0 {
		return nil, ErrNoDoubt
	}
	f := &flown{FlightSettings: set, scenario: sc, doubts: doubts, margins: []int{sweep.Coolant, sweep.Oil}}
	if f.stated, err = f.fly(ctx, sc); err != nil {
		return nil, err
	}
	if !math.IsInf(f.stated.BoilMargin, 0) {
		f.margins = append(f.margins, sweep.Boiling)
	}
	return f, nil
}

// fly flies a scenario, with the samples that the bands need.
func (f *flown) fly(ctx context.Context, sc *scenarios.Scenario) (*sim.Result, error) {
	fly := f.Fly
	if fly == nil {
		fly = sweep.Fly
	}
	set := f.Sim
	set.Sample = f.sample
	r, err := fly(ctx, sc, set)
	if f.Flown != nil && err == nil {
		f.Flown()
	}
	return r, err
}

// drawn flies the scenario with its doubtful numbers at x.
func (f *flown) drawn(ctx context.Context, x []float64) (*sim.Result, error) {
	sc, turned, err := f.doubts.Set(f.scenario, x)
	if err != nil {
		return nil, err
	}
	r, err := f.fly(ctx, sc)
	if err != nil {
		return nil, err
	}
	if turned {
		f.turned.Add(1)
	}
	if r.Incomplete != "" {
		f.incomplete.Add(1)
	}
	return r, nil
}

// put puts the margins of a flight into y, in the order of f.margins, and the
// least of them after these.
func (f *flown) put(r *sim.Result, y []float64) {
	o := sweep.OutcomeOf(r)
	all := sweep.MarginsOf(&o)
	least := math.Inf(1)
	for i, c := range f.margins {
		y[i] = all[c]
		least = math.Min(least, y[i])
	}
	y[len(f.margins)] = least
}

// limit names margin i of f.margins.
func (f *flown) limit(i int) string {
	return [...]string{sweep.Coolant: CoolantLimit, sweep.Oil: OilLimit, sweep.Boiling: BoilLimit}[f.margins[i]]
}

// study is that of the doubtful numbers, still without a formula.
func (f *flown) study(points int) Study {
	return Study{
		Inputs: f.doubts.Normals(), Correlation: f.doubts.Correlation,
		Design: f.Sampling, Points: points, Seed: f.Seed, Workers: f.Workers, Level: f.Level,
	}
}
