package optimum

import (
	"context"
	"math"

	"golang.org/x/sync/errgroup"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// Range of field temperatures that limits are looked for in [°C].
const (
	ColdestField = -20.0
	HottestField = 55.0
)

// LimitStudy asks what a pilot must know of one case: up to which temperature
// at the field a climb is unlimited, how long it may last above that, which
// climb is too slow, and what spray water adds.
//
// The climb is one leg. It is unlimited when the whole flight of the case, as
// filed to its top, passes neither the limit of the coolant nor that of the oil
// and the coolant does not boil. A field at another elevation moves the ends of
// all legs along, so that the height gained stays.
//
// With Doubt, a limit counts as passed as soon as no more than so many standard
// deviations of its margin are left. How far margins spread is found for each
// speed and elevation, at its highest temperature (see sweep.Slopes; those of
// numbers that do little are from the filed speed and elevation), and used for
// everything at that speed and elevation. The flight as filed is judged without.
type LimitStudy struct {
	Case       scenarios.CaseScenario
	Leg        string       // the climb; "" is the climb leg that gains most height
	Speeds     []float64    // of the climb, as its leg gives them [m/s]; nil: five around the filed one
	Elevations []float64    // of the field [m]; nil: the filed one and two higher
	Doubt      float64      // standard deviations of every margin that are kept on top of it; 0: none
	Workers    int          // flights at a time; 0 means 1
	Sim        sim.Settings // of each flight
	Done       func()       // called as each of Parts is done, by any goroutine; may be nil

	evaluate func(context.Context, condition) (verdict, error)      // nil: fly it
	spread   func(context.Context, condition) (sweep.Spread, error) // nil: by slopes
}

// Limits answers a study. What it finds does not depend on Workers. The error
// says that the case cannot be flown as it is filed, or that ctx was cancelled.
func Limits(ctx context.Context, study LimitStudy) (*LimitTable, error) {
	p, err := study.plan(ctx)
	if err != nil {
		return nil, err
	}
	own, err := p.row(ctx, p.filed.Speed, p.filed.Elevation, p.filed.Temperature, study.Workers)
	if err != nil {
		return nil, err
	}
	if p.small == nil {
		p.small = map[string]sweep.Margins{} // it gives none
	}
	t := p.table(own)
	if own.Bound == Found {
		if t.Hottest, err = p.edited(condition{speed: own.Speed, elevation: own.Elevation, temperature: own.Temperature}); err != nil {
			return nil, err
		}
	}
	p.done()
	err = p.parts(ctx, func(ctx context.Context, g *errgroup.Group) {
		for i := range t.Rows {
			p.part(g, func() error { return p.fillRow(ctx, &t.Rows[i], &own) })
		}
		if p.spray != nil {
			p.part(g, func() error { return p.sprayed(ctx, t.Spray, &own) })
		}
	})
	if err != nil {
		return nil, err
	}
	err = p.parts(ctx, func(ctx context.Context, g *errgroup.Group) {
		for i := range t.Slowest { // these keep what the rows do
			p.part(g, func() error { return p.slowest(ctx, t, &t.Slowest[i]) })
		}
	})
	if err != nil {
		return nil, err
	}
	t.Flights = int(p.flights.Load())
	return t, nil
}

// Parts is how often Done is called.
func (study *LimitStudy) Parts() int {
	elevations, speeds := len(study.Elevations), len(study.Speeds)
	if elevations == 0 {
		elevations = len(higherFields["us"]) + 1
	}
	if speeds == 0 {
		speeds = len(speedFactors)
	}
	parts := 1 + elevations*speeds + elevations
	if study.Case.Scenario.Spray != nil {
		parts++
	}
	return parts
}

// parts runs what start starts, as many at a time as there are workers.
func (p *limitPlan) parts(ctx context.Context, start func(context.Context, *errgroup.Group)) error {
	g, ctx := errgroup.WithContext(ctx)
	g.SetLimit(max(1, p.study.Workers))
	start(ctx, g)
	return g.Wait()
}

// part runs one part of the study in a group.
func (p *limitPlan) part(g *errgroup.Group, work func() error) {
	g.Go(func() error {
		if err := work(); err != nil {
			return err
		}
		p.done()
		return nil
	})
}

func (p *limitPlan) done() {
	if p.study.Done != nil {
		p.study.Done()
	}
}

// table is the answer with everything in place that is to be filled in.
func (p *limitPlan) table(own LimitRow) *LimitTable {
	t := &LimitTable{
		Case: p.study.Case.Name, Title: p.study.Case.Title, Leg: p.leg, Filed: p.filed, Own: own,
		Doubt: p.study.Doubt, Above: p.above, Rows: make([]LimitRow, 0, len(p.elevations)*len(p.speeds)),
	}
	for _, elevation := range p.elevations {
		for _, speed := range p.speeds {
			t.Rows = append(t.Rows, LimitRow{Speed: speed, Elevation: elevation})
		}
		t.Slowest = append(t.Slowest, SlowClimb{Elevation: elevation})
	}
	if p.spray != nil {
		t.Spray = &SprayClimb{}
	}
	return t
}

// fillRow finds the row of a speed and an elevation, near that of the filed
// ones, which is known already.
func (p *limitPlan) fillRow(ctx context.Context, r, own *LimitRow) error {
	if r.Speed == own.Speed && r.Elevation == own.Elevation {
		*r = *own
		return nil
	}
	start := own.Temperature
	if own.Bound == NoClimb {
		start = p.filed.Temperature
	}
	found, err := p.row(ctx, r.Speed, r.Elevation, start, 1)
	*r = found
	return err
}

// row finds the highest temperature of one speed and elevation, from a first
// guess, and the times above it. Workers are those of the flights that tell how
// far its margins spread.
func (p *limitPlan) row(ctx context.Context, speed, elevation, guess float64, workers int) (LimitRow, error) {
	r := LimitRow{Speed: speed, Elevation: elevation}
	c := condition{speed: speed, elevation: elevation}
	var err error
	if r.Ceiling, r.ClimbTime, err = p.ceiling(ctx, c, guess); err != nil {
		return r, err
	}
	if err = p.keep(ctx, &r, &c, workers); err != nil || r.Bound != Found {
		return r, err
	}
	for _, step := range p.above {
		c.temperature = r.Temperature + step
		v, err := p.fly(ctx, c)
		if err != nil {
			return r, err
		}
		r.Above = append(r.Above, TimeAbove{c.temperature, v.reached, v.reason(), v.leg})
	}
	return r, nil
}

// ceiling finds the highest field temperature at which a climb is unlimited and
// how long the climb takes there.
func (p *limitPlan) ceiling(ctx context.Context, c condition, guess float64) (Ceiling, float64, error) {
	flown := map[float64]verdict{}
	e, err := highest(guess, func(t float64) (float64, error) {
		c.temperature = t
		v, err := p.fly(ctx, c)
		flown[t] = v
		if err == nil && v.stalled {
			err = errNoUse
		}
		return v.score(), err
	})
	good, bad := flown[e.good.x], flown[e.bad.x]
	if err == errNoUse {
		bad, err = flown[c.temperature], nil
	}
	switch {
	case err != nil:
		return Ceiling{}, 0, err
	case bad.stalled, !e.hasGood && math.IsNaN(e.bad.margin):
		return Ceiling{math.NaN(), NoClimb, bad.reason(), bad.trouble}, math.NaN(), nil
	case !e.hasBad:
		return Ceiling{Temperature: HottestField, Bound: Hotter}, good.climbTime, nil
	case !e.hasGood:
		return Ceiling{Temperature: ColdestField, Bound: Colder, By: bad.reason()}, math.NaN(), nil
	}
	return Ceiling{Temperature: e.good.x, Bound: Found, By: bad.reason()}, good.climbTime, nil
}
