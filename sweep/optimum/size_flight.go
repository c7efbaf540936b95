package optimum

import (
	"context"
	"math"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// Flight is what one flight comes to for a sizing.
type Flight struct {
	sweep.Outcome
	Powered  bool    // the engine runs at the moment of the least margin
	MeanDrag float64 // cooling-drag power, mean over the time in the air [W]
	Area     float64 // of the openings that vary, of all when none does [m²]
}

// dragSample is the interval at which cooling drag is sampled for its mean [s].
// With 5 s the mean of the built-in flights moves by less than 0.1 %.
const dragSample = 10.0

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
	return Flight{sweep.OutcomeOf(r), r.Worst.Power > 0, meanDrag(r), p.area(sc)}, nil
}

func levels(x []float64) []sweep.Level {
	list := make([]sweep.Level, len(x))
	for i, v := range x {
		list[i].Number = v
	}
	return list
}

// area is the total area of the openings that vary, or of all.
func (p *sizer) area(sc *scenarios.Scenario) float64 {
	sum := 0.0
	for _, o := range sc.Openings() {
		if len(p.openings) == 0 || p.openings[o.Path] {
			sum += o.Area
		}
	}
	return sum
}

// slowest is the true airspeed from which an aircraft counts as in the air [m/s].
const slowest = 15.0

// meanDrag is the mean of cooling drag times airspeed over the time in the air
// of a sampled flight [W]; 0 when it never leaves the ground. What is sampled
// holds until the next sample, so that no leg is mixed with the one before.
func meanDrag(r *sim.Result) float64 {
	time, speed, drag := r.Trajectory.Find("time_s"), r.Trajectory.Find("true_airspeed_m_s"), r.Trajectory.Find("cooling_drag_N")
	energy, flown := 0.0, 0.0
	for i := 0; i+1 < len(time.Values); i++ {
		if dt := time.Values[i+1] - time.Values[i]; speed.Values[i] > slowest {
			energy += dt * speed.Values[i] * drag.Values[i]
			flown += dt
		}
	}
	return energy / math.Max(flown, 1)
}
