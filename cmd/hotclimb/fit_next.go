package main

import (
	"context"
	"errors"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// advice is a flight that would tell apart what the records cannot.
type advice struct {
	title, caution string
	hazards        []calibrate.Hazard
	now, after     float64 // doubt along the direction, in doubts before
}

// worthwhile is what a flight must leave at most of a doubt to be proposed:
// engineering judgement.
const worthwhile = 0.9

// advise finds, for each blind spot, the flight that shrinks the doubt along it
// most, of those that next would propose, on the aircraft with the numbers found.
func (z *fitted) advise(ctx context.Context, workers int) error {
	z.advised = make([]advice, len(z.Blind))
	if len(z.Blind) == 0 {
		return nil
	}
	table, err := z.proposals(ctx, workers)
	if err != nil || table == nil {
		return err
	}
	for i := range z.Blind {
		list, err := table.Along(z.direction(&z.Blind[i]))
		if err != nil {
			continue // a number that changes no margin and no candidate
		}
		at := slices.IndexFunc(list, func(a calibrate.NextAlong) bool { return table.Rows[a.Row].MayBeFlown() })
		if at < 0 || !(list[at].After < worthwhile*list[at].Now) {
			continue
		}
		f := &table.Rows[list[at].Row].Flight
		z.advised[i] = advice{f.Title, f.Caution, f.Hazards, list[at].Now, list[at].After}
	}
	return nil
}

// direction is how the numbers of a blind spot go, by their paths [SI].
func (z *fitted) direction(b *calibrate.BlindSpot) map[string]float64 {
	d := map[string]float64{}
	for i, k := range b.Numbers {
		d[z.Numbers[k].Param.Path] = b.Ways[i]
	}
	return d
}

// proposals are the flights that could be flown next; nil where there are none.
func (z *fitted) proposals(ctx context.Context, workers int) (*calibrate.NextTable, error) {
	cases := make([]scenarios.CaseScenario, len(z.set.cases))
	for i, k := range z.set.cases {
		after, err := z.asTaken(k.Scenario)
		if err != nil {
			z.caveats = append(z.caveats, warning{k.Name, "the numbers found cannot be flown in this case: " + err.Error()})
			return nil, nil
		}
		cases[i] = scenarios.CaseScenario{Name: k.Name, Title: k.Title, Scenario: after}
	}
	target := max(0, slices.IndexFunc(cases, func(k scenarios.CaseScenario) bool {
		return slices.ContainsFunc(k.Scenario.Flight.Legs, func(l *scenarios.Leg) bool { return l.Kind == "climb" })
	}))
	flights, _, err := calibrate.NextFlights(z.scenario, cases, target, calibrate.AirRange{})
	if err != nil {
		return nil, z.withoutAdvice(ctx, err)
	}
	table, err := (&calibrate.NextStudy{Target: cases[target], Flights: flights, Workers: workers}).Run(ctx)
	if err != nil {
		return nil, z.withoutAdvice(ctx, err)
	}
	return table, nil
}

// asTaken is a case with the numbers found and without the doubts of those that
// were kept, which the fit takes as known too.
func (z *fitted) asTaken(sc *scenarios.Scenario) (*scenarios.Scenario, error) {
	after, err := z.Posterior(sc)
	if err != nil {
		return nil, err
	}
	return after.Edit(func(c *scenarios.Scenario) error {
		for _, path := range z.Others {
			q, err := c.Compile(path)
			if err != nil {
				continue // another case has it
			}
			if n, ok := q.Get(c); ok {
				if err := q.Set(c, n.Value); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// withoutAdvice goes on without a proposal, and says why.
func (z *fitted) withoutAdvice(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if !errors.Is(err, calibrate.ErrNoDoubts) {
		z.caveats = append(z.caveats, warning{"", "no flight is proposed: " + err.Error()})
	}
	return nil
}
