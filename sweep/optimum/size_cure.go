package optimum

import (
	"context"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// What else may mend a limit that no size mends.
const (
	SprayCure = "spray" // water on a core of the circuit
	SpeedCure = "speed" // flying the leg of the peak faster
	PowerCure = "power" // flying the leg of the peak with less power
	CoreCure  = "core"  // cores of the circuit with a larger face, built alike
	DayCure   = "day"   // a cooler day
)

// Cure is one thing that may mend a broken limit of a design.
type Cure struct {
	Kind  string
	Limit int  // it is for this one, of Sized.Limits
	Case  int  // that of the limit
	All   bool // it is set in every case that has its paths, else in Case alone
	Found bool // with it the limit is kept
	Moves []Move
	Onto  string  // the core to spray, where the file sprays none
	Water float64 // spray water that a flight of Case takes [kg]
	Tank  float64 // water carried in the file [kg]
	Fits  bool    // with it every limit of every case is kept
	Rest  []int   // limits that are still broken, the worst first
}

// Move is a number and what a cure makes of it.
type Move struct {
	Param    scenarios.Param
	From, To float64 // To is where the limit is kept, or the farthest that could be flown
}

// cure computes what else would mend the worst broken limit of each circuit.
// What changes a whole flight aims at all limits of its case, and is tried once
// for it.
func (p *sizer) cure(ctx context.Context, out *Sized) error {
	if p.Fly != nil {
		return nil // a made-up flight has nothing else that could be moved
	}
	tried := map[int]bool{}
	for _, i := range worstOfCircuits(p.limits, out.Broken) {
		w, err := p.wards(ctx, out, i)
		if err != nil {
			return err
		}
		for _, c := range w.remedies() {
			if c == nil || !c.All && tried[c.Case] {
				continue
			}
			if err := w.try(ctx, c); err != nil {
				return err
			}
			c.Limit = i
			out.Cures = append(out.Cures, c.Cure)
		}
		tried[w.limit.Case] = true
	}
	return nil
}

// worstOfCircuits are the first of the broken limits, and the first of the other
// circuit.
func worstOfCircuits(limits []Limit, broken []int) []int {
	var worst []int
	for _, i := range broken {
		if len(worst) == 0 || len(worst) == 1 && limits[i].ofOil() != limits[worst[0]].ofOil() {
			worst = append(worst, i)
		}
	}
	return worst
}

// ward is the design that is to be mended.
type ward struct {
	*sizer
	limit     Limit
	scenarios []*scenarios.Scenario // of the cases, with the factors set
	leg       *scenarios.Leg        // of the peak, nil when it is not known
	field     float64               // temperature at the field in the case of the limit [°C]
	atWorst   []sim.ExchangerState  // exchangers of that case, at its worst moment
}

// wards sets the factors of the least bad design and finds the leg of the peak.
func (p *sizer) wards(ctx context.Context, out *Sized, limit int) (*ward, error) {
	w := &ward{sizer: p, limit: p.limits[limit]}
	for _, k := range p.Cases {
		sc, err := sweep.Set(k.Scenario, p.Factors, levels(out.Best.X))
		if err != nil {
			return nil, err
		}
		w.scenarios = append(w.scenarios, sc)
	}
	set := p.Sim
	set.Sample = sweep.ClimbSample
	r, err := sweep.Fly(ctx, w.scenarios[w.limit.Case], set)
	if err != nil {
		return nil, err
	}
	p.count()
	w.atWorst = r.Exchangers
	w.leg = legOf(w.scenarios[w.limit.Case], r, w.peakTime(r))
	if t := r.Trajectory.Find("outside_degC"); len(t.Values) > 0 {
		w.field = t.Values[0]
	}
	return w, nil
}

// peakTime is when the limit is nearest.
func (w *ward) peakTime(r *sim.Result) float64 {
	if w.limit.ofOil() {
		return r.Peaks[sweep.Oil].Time
	}
	return r.Peaks[sweep.Coolant].Time
}

// legOf is the leg flown at a time, the later one where two meet.
func legOf(sc *scenarios.Scenario, r *sim.Result, time float64) *scenarios.Leg {
	for _, span := range slices.Backward(r.Legs) {
		if time < span.Start || time > span.End {
			continue
		}
		for _, leg := range sc.Flight.Legs {
			if leg.Name == span.Name {
				return leg
			}
		}
	}
	return nil
}

// circuit is the circuit of the limit, as the file names it.
func (w *ward) circuit() string {
	if w.limit.ofOil() {
		return "oil"
	}
	return "coolant"
}

// aim says that a limit is one that the cure must bring about: those of its case,
// or those of its circuit in every case.
func (w *ward) aim(c *remedy, l *Limit) bool {
	if !c.All {
		return l.Case == w.limit.Case
	}
	return l.Kind != AirLimit && l.ofOil() == w.limit.ofOil()
}
