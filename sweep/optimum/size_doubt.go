package optimum

import (
	"context"
	"fmt"
	"math"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

const (
	stillDoubt   = 0.1 // change of a margin at which the search for margins with doubt ends [K]
	mostRounds   = 8   // of that search
	doubtSamples = 64  // flights of each case, when spreads are sampled
)

// addDoubt puts the spread of the margins at x into what the limits need, in the
// cases that are awake or in the others, and returns the largest change [K].
func (p *sizer) addDoubt(ctx context.Context, x []float64, awake bool) (float64, error) {
	spreads := make([]sweep.Spread, len(p.Cases))
	for k := range p.Cases {
		if p.awake[k] != awake {
			continue
		}
		var err error
		if spreads[k], err = p.spread(ctx, k, x); err != nil {
			return 0, fmt.Errorf("case %s, doubt of its margins: %w", p.Cases[k].Name, err)
		}
	}
	most := 0.0
	p.limits = slices.Clone(p.limits)
	for i := range p.limits {
		l := &p.limits[i]
		if p.awake[l.Case] != awake {
			continue
		}
		s := &spreads[l.Case]
		sigma := map[string]float64{CoolantLimit: s.Circuits[sweep.Coolant], OilLimit: s.Circuits[sweep.Oil], BoilLimit: s.Boil}[l.Kind]
		most = math.Max(most, p.Doubt*math.Abs(sigma-l.Spread))
		l.keep(p.Doubt, sigma)
	}
	return most, nil
}

// keep puts so many standard deviations into what the limit needs. More margin
// makes larger openings and these another deviation, often a smaller one; so that
// it settles, each turn back goes only half the way.
func (l *Limit) keep(times, sigma float64) {
	change := sigma - l.Spread
	if change*l.change < 0 {
		change /= 2
	}
	l.Spread += change
	l.Needs += times * change
	l.change = change
}

// spread is that of the margins of case k with the factors at x, which count as
// known. Numbers that are not go together as the scenario has it.
func (p *sizer) spread(ctx context.Context, k int, x []float64) (sweep.Spread, error) {
	sc, err := sweep.Set(p.Cases[k].Scenario, p.Factors, levels(x))
	if err != nil {
		return sweep.Spread{}, err
	}
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		return sweep.Spread{}, err
	}
	d := sweep.Doubt{Scenario: sc, Doubts: doubts, Workers: cap(p.slots), Fly: p.outcome}
	if p.DoubtFrom == FromSamples {
		return d.BySamples(ctx, doubtSamples, p.Seed)
	}
	return d.BySlopes(ctx)
}

// outcome flies a scenario that is no design.
func (p *sizer) outcome(ctx context.Context, sc *scenarios.Scenario) (sweep.Outcome, error) {
	f, err := p.inTheAir(ctx, func() (Flight, error) { return p.flown(ctx, sc, sc, false) })
	return f.Outcome, err
}
