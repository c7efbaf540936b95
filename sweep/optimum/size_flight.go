package optimum

import (
	"context"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// Flight is what one flight comes to for a sizing.
type Flight struct {
	sweep.Outcome
	Powered  bool    // the engine runs at the moment of the least margin
	MeanDrag float64 // cooling-drag power, mean over the climb, see sweep.Climb [W]
	Area     float64 // of the openings that vary, of all when none does [m²]
	AllArea  float64 // of all openings [m²]
}

// fly flies one flight of a design.
func (p *sizer) fly(ctx context.Context, of flightOf) (Flight, error) {
	if p.Fly != nil {
		return p.Fly(ctx, of.k, of.x)
	}
	if sc := p.Cases[of.k].Scenario; of.x == nil {
		return p.flown(ctx, sc, sc, of.sampled)
	}
	v, err := sweep.Vary(p.templates[of.k](), p.Factors, levels(of.x))
	if err != nil {
		return Flight{}, err
	}
	return p.flown(ctx, v.Scenario(), v, of.sampled)
}

// flown flies the plant of an effective scenario. Its mean drag is only known by
// samples.
func (p *sizer) flown(ctx context.Context, sc *scenarios.Scenario, plant sweep.Builder, sampled bool) (Flight, error) {
	set := p.Sim
	if sampled {
		set.Sample = sweep.ClimbSample
	}
	r, err := sweep.Fly(ctx, plant, set)
	if err != nil {
		return Flight{}, err
	}
	f := Flight{Outcome: sweep.OutcomeOf(r), Powered: r.Worst.Power > 0}
	if sampled {
		f.MeanDrag = sweep.ClimbOf(r, sc).DragPower
	}
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
