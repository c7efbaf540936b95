package main

import (
	"context"
	"fmt"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sweep"
	"hotclimb/sweep/uncertainty"
)

// bandTimes is how many times the bands of a case have, at most.
const bandTimes = 300

// doubt is what the doubtful numbers do to the flights of a run.
type doubt struct {
	uncertainty.FlightSettings
	least   [2]int        // the case with the least margin of coolant and of oil
	sources []*caseSource // where the doubt comes from, of these cases; in the order of the cases
}

// caseSource is where the doubt of the margins of one case comes from.
type caseSource struct {
	*flown
	*uncertainty.FlightSources
	limits []string // whose least margin over the cases the case has
}

// source is where the doubt of one least margin comes from.
type source struct {
	*caseSource
	*uncertainty.MarginSources
}

// drawDoubt draws the doubtful numbers of every case, and finds where the doubt
// comes from in those with the least margin of coolant or of oil.
func (p *program) drawDoubt(ctx context.Context, o *outcome, f *runFlags) error {
	d := &doubt{FlightSettings: f.drawing(f.seed)}
	d.Points, d.Workers, d.Times = f.draws/2, f.workers, bandTimes
	d.choose(o.cases)
	flights, err := d.flights(o.cases)
	if err != nil {
		return err
	}
	bar := p.progress("draws", flights, f.noProgress)
	defer bar.end()
	d.Flown = bar.step
	for _, k := range o.cases {
		if k.spread, err = uncertainty.OfFlight(ctx, k.scenario, d.FlightSettings); err != nil {
			return fmt.Errorf("case %s with its doubtful numbers drawn: %w", k.name, err)
		}
	}
	for _, s := range d.sources {
		s.FlightSources, err = uncertainty.WhereFrom(ctx, s.scenario, d.FlightSettings)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			o.caveat(s.name, fmt.Sprintf("where its doubt comes from cannot be told: %v", err))
		}
	}
	d.sources = slices.DeleteFunc(d.sources, func(s *caseSource) bool { return s.FlightSources == nil })
	o.doubt = d
	return nil
}

// choose finds the cases with the least margins.
func (d *doubt) choose(cases []*flown) {
	for c, limit := range []string{sweep.Coolant: uncertainty.CoolantLimit, sweep.Oil: uncertainty.OilLimit} {
		for i, k := range cases {
			if k.result.Peaks[c].Margin < cases[d.least[c]].result.Peaks[c].Margin {
				d.least[c] = i
			}
		}
		k := cases[d.least[c]]
		if i := slices.IndexFunc(d.sources, func(s *caseSource) bool { return s.flown == k }); i >= 0 {
			d.sources[i].limits = append(d.sources[i].limits, limit)
			continue
		}
		d.sources = append(d.sources, &caseSource{flown: k, limits: []string{limit}})
	}
}

// flights is how many are flown, at most.
func (d *doubt) flights(cases []*flown) (int, error) {
	n := len(cases) * d.SpreadFlights()
	for _, k := range cases {
		numbers, err := doubtful(k.name, k.scenario)
		if err != nil {
			return 0, err
		}
		if slices.ContainsFunc(d.sources, func(s *caseSource) bool { return s.flown == k }) {
			n += d.SourceFlights(numbers)
		}
	}
	return n, nil
}

// doubtful is how many numbers of a case carry a doubt. The error is one that
// the user can mend: there is none, or their correlations cannot be.
func doubtful(name string, sc *scenarios.Scenario) (int, error) {
	doubts, err := sweep.DoubtsOf(sc)
	if err == nil && len(doubts.Params) == 0 {
		err = uncertainty.ErrNoDoubt
	}
	if err != nil {
		return 0, badInputf("--doubt: case %s: %w", name, err)
	}
	return len(doubts.Params), nil
}

// each hands over the source of each least margin.
func (d *doubt) each(do func(source)) {
	for _, s := range d.sources {
		for i := range s.Margins {
			if m := &s.Margins[i]; slices.Contains(s.limits, m.Limit) {
				do(source{s, m})
			}
		}
	}
}
