package optimum

import (
	"context"
	"fmt"
	"math"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// smallShare is the share of the variance of every margin below which the slopes
// of a number at the own climb serve for all rows. They are about half of the
// numbers, and spreads are within 1 % of those with all slopes flown (measured on
// the built-in scenarios, at 0.85 to 1.2 times their speeds and 1200 m higher).
const smallShare = 3e-4

// keep finds what is kept on top of the margins of a row and its highest
// temperature with that. How far margins spread is taken at the temperature that
// is the highest without: one flight there for each doubtful number, and none on
// the way to the other, over which it changes little beside what it is.
func (p *limitPlan) keep(ctx context.Context, r *LimitRow, c *condition, workers int) error {
	if p.study.Doubt == 0 || r.Bound == NoClimb || r.Bound == Colder {
		return nil // there is no flight within limits, or even less of one
	}
	c.temperature = r.Temperature
	spread, err := p.spread(ctx, *c, workers)
	if err != nil {
		return err
	}
	r.Spread, c.kept = &spread, times(p.study.Doubt, spread)
	r.Ceiling, r.ClimbTime, err = p.ceiling(ctx, *c, r.Temperature-p.study.Doubt*math.Min(spread.Circuits[sweep.Coolant], spread.Circuits[sweep.Oil]))
	return err
}

// times is a spread k times as large.
func times(k float64, s sweep.Spread) sweep.Spread {
	for i := range s.Circuits {
		s.Circuits[i] *= k
	}
	s.Boil *= k
	return s
}

// spread is one standard deviation of the margins of a flight, to first order in
// its doubtful numbers with their correlations.
func (p *limitPlan) spread(ctx context.Context, c condition, workers int) (sweep.Spread, error) {
	if p.study.spread != nil {
		return p.study.spread(ctx, c)
	}
	sc, err := p.edited(c)
	if err != nil {
		return sweep.Spread{}, err
	}
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		return sweep.Spread{}, err
	}
	d := sweep.Doubt{Scenario: sc, Doubts: doubts, Workers: workers, Fly: p.outcome}
	if c.spray == nil {
		d.Known = p.small
	}
	slopes, err := d.Slopes(ctx)
	if err != nil {
		if ctx.Err() == nil {
			err = fmt.Errorf("case %s, leg %s at %.1f m/s from %.0f m at %.1f °C, the doubt of its margins: %w",
				p.study.Case.Name, p.leg, c.speed, c.elevation, c.temperature, err)
		}
		return sweep.Spread{}, err
	}
	if p.small == nil {
		p.small = slopes.Small(smallShare)
	}
	return slopes.Spread(), nil
}

// outcome flies a scenario that is no condition. A flight that does not reach its
// end has no margins that could be compared.
func (p *limitPlan) outcome(ctx context.Context, sc *scenarios.Scenario) (sweep.Outcome, error) {
	p.flights.Add(1)
	r, err := sweep.Fly(ctx, sc, p.study.Sim)
	if err != nil {
		return sweep.Outcome{}, err
	}
	if r.Incomplete != "" {
		return sweep.Outcome{}, fmt.Errorf("leg %s does not reach its end", r.Incomplete)
	}
	return sweep.OutcomeOf(r), nil
}

// keptAt is what is kept at a speed and an elevation: straight between the rows of
// that elevation, and as at the nearest beyond them. Where no row of it knows, it
// is that of the own climb; false when that has none either.
func (p *limitPlan) keptAt(t *LimitTable, speed, elevation float64) (sweep.Spread, bool) {
	var below, above *LimitRow
	for i := range t.Rows { // rising in speed
		switch r := &t.Rows[i]; {
		case r.Elevation != elevation || r.Spread == nil:
		case r.Speed <= speed:
			below = r
		case above == nil:
			above = r
		}
	}
	switch {
	case below == nil && above == nil && t.Own.Spread == nil:
		return sweep.Spread{}, false
	case below == nil && above == nil:
		return times(p.study.Doubt, *t.Own.Spread), true
	case below == nil:
		below = above
	case above == nil:
		above = below
	}
	share := 0.0
	if below != above {
		share = (speed - below.Speed) / (above.Speed - below.Speed)
	}
	s := sweep.Spread{Boil: below.Spread.Boil + share*(above.Spread.Boil-below.Spread.Boil)}
	for i, b := range below.Spread.Circuits {
		s.Circuits[i] = b + share*(above.Spread.Circuits[i]-b)
	}
	return times(p.study.Doubt, s), true
}

// flySlow flies a condition with what is kept there. Where no row tells how far
// margins spread, flights of its own do.
func (p *limitPlan) flySlow(ctx context.Context, t *LimitTable, c condition) (verdict, error) {
	if p.study.Doubt == 0 {
		return p.fly(ctx, c)
	}
	var known bool
	if c.kept, known = p.keptAt(t, c.speed, c.elevation); known {
		return p.fly(ctx, c)
	}
	v, err := p.fly(ctx, c)
	if err != nil || !(v.score() >= 0) {
		return v, err // with something kept it is no better
	}
	spread, err := p.spread(ctx, c, 1)
	if err != nil {
		return v, err
	}
	c.kept = times(p.study.Doubt, spread)
	return p.fly(ctx, c)
}

// flown flies a scenario with limits lowered by what is kept, but for that of
// boiling, which judge lowers.
func (p *limitPlan) flown(ctx context.Context, sc *scenarios.Scenario, c *condition, set sim.Settings) (*sim.Result, error) {
	if c.kept == (sweep.Spread{}) {
		return sweep.Fly(ctx, sc, set)
	}
	plant, err := sc.Build()
	if err != nil {
		return nil, err
	}
	plant.Coolant.Maximum -= c.kept.Circuits[sweep.Coolant]
	plant.Oil.Maximum -= c.kept.Circuits[sweep.Oil]
	return sweep.FlyPlant(ctx, plant, set)
}
