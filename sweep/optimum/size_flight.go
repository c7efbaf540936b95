package optimum

import (
	"context"
	"math"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// Flight is what one flight comes to for a sizing.
type Flight struct {
	sweep.Outcome
	Powered  bool    // the engine runs at the moment of the least margin
	MeanDrag float64 // cooling-drag power, mean over the climb, or over the time in the air without one [W]
	Area     float64 // of the openings that vary, of all when none does [m²]
	AllArea  float64 // of all openings [m²]
}

// dragSample is the interval at which cooling drag is sampled for its mean [s].
// It divides no usual length of a leg, so that every leg has a sample of its own
// at its start.
const dragSample = 13.0

// fly flies case k with the factors at x, or as filed when x is nil.
func (p *sizer) fly(ctx context.Context, k int, x []float64) (Flight, error) {
	if p.Fly != nil {
		return p.Fly(ctx, k, x)
	}
	sc := p.Cases[k].Scenario
	if x != nil {
		var err error
		if sc, err = sweep.Set(sc, p.Factors, levels(x)); err != nil {
			return Flight{}, err
		}
	}
	return p.flown(ctx, sc)
}

// flown flies an effective scenario.
func (p *sizer) flown(ctx context.Context, sc *scenarios.Scenario) (Flight, error) {
	set := p.Sim
	set.Sample = dragSample
	r, err := sweep.Fly(ctx, sc, set)
	if err != nil {
		return Flight{}, err
	}
	f := Flight{Outcome: sweep.OutcomeOf(r), Powered: r.Worst.Power > 0, MeanDrag: meanDrag(r, climbing(sc))}
	f.Area, f.AllArea = p.areas(sc)
	return f, nil
}

func levels(x []float64) []sweep.Level {
	list := make([]sweep.Level, len(x))
	for i, v := range x {
		list[i].Number = v
	}
	return list
}

// areas are the total areas of the openings that vary, or of all when none does,
// and of all.
func (p *sizer) areas(sc *scenarios.Scenario) (counted, all float64) {
	for _, o := range sc.Openings() {
		all += o.Area
		if len(p.openings) == 0 || p.openings[o.Path] {
			counted += o.Area
		}
	}
	return counted, all
}

// climbing names the legs that take off or climb, nil when none does.
func climbing(sc *scenarios.Scenario) []string {
	var names []string
	for _, leg := range sc.Flight.Legs {
		if leg.Kind == "take_off" || leg.Kind == "climb" {
			names = append(names, leg.Name)
		}
	}
	return names
}

// slowest is the true airspeed from which an aircraft counts as in the air [m/s].
const slowest = 15.0

// meanDrag is the mean of cooling drag times airspeed over some legs of a sampled
// flight, or over all of them when none is named, as far as it is in the air [W].
// A sample holds until the next one or the end of its leg, so that the mean
// changes smoothly with the length of the legs.
func meanDrag(r *sim.Result, legs []string) float64 {
	time, speed, drag := r.Trajectory.Find("time_s"), r.Trajectory.Find("true_airspeed_m_s"), r.Trajectory.Find("cooling_drag_N")
	energy, flown, at := 0.0, 0.0, 0
	for _, leg := range r.Legs {
		for ; at+1 < len(time.Values) && time.Values[at] < leg.End; at++ {
			if (legs == nil || slices.Contains(legs, leg.Name)) && speed.Values[at] > slowest {
				dt := time.Values[at+1] - time.Values[at]
				energy += dt * speed.Values[at] * drag.Values[at]
				flown += dt
			}
		}
	}
	return energy / math.Max(flown, 1)
}
