package main

import (
	"cmp"
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
	margin         float64 // part of the doubt of the deciding margin that goes with it [K]
}

// worthwhile is what a flight must leave at most of a doubt to be proposed:
// engineering judgement.
const worthwhile = 0.9

// advise finds, for each blind spot, the flight that shrinks the doubt along it
// most, of those that next would propose, on the aircraft with the numbers found.
// It puts the spots first that matter most for the margin of the hot climb.
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
		// The error is that of a number that the hot climb does not have.
		if a, err := adviceOf(table, z.direction(&z.Blind[i])); err == nil {
			z.advised[i] = a
		}
	}
	order := make([]int, len(z.Blind))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(z.advised[b].margin, z.advised[a].margin) })
	z.Blind, z.advised = inOrder(z.Blind, order), inOrder(z.advised, order)
	return nil
}

func inOrder[T any](list []T, order []int) []T {
	var sorted []T
	for _, i := range order {
		sorted = append(sorted, list[i])
	}
	return sorted
}

// adviceOf is the flight that shrinks the doubt along a direction most; without a
// title where none helps much.
func adviceOf(table *calibrate.NextTable, direction map[string]float64) (advice, error) {
	list, err := table.Along(direction)
	if err != nil {
		return advice{}, err
	}
	margin, err := table.MarginAlong(direction)
	if err != nil {
		return advice{}, err
	}
	at := bestAlong(table.Rows, list)
	if at < 0 {
		return advice{margin: margin}, nil
	}
	f := &table.Rows[list[at].Row].Flight
	return advice{f.Title, f.Caution, f.Hazards, list[at].Now, list[at].After, margin}, nil
}

// bestAlong is the first flight that may be flown, if it is worth it, or -1.
func bestAlong(rows []calibrate.NextRow, list []calibrate.NextAlong) int {
	at := slices.IndexFunc(list, func(a calibrate.NextAlong) bool { return rows[a.Row].MayBeFlown() })
	if at >= 0 && !(list[at].After < worthwhile*list[at].Now) {
		return -1
	}
	return at
}

// direction is what a blind spot leaves open, by paths, as NextTable.Along takes
// it: there a way counts by the square of the doubt that is left.
func (z *fitted) direction(b *calibrate.BlindSpot) map[string]float64 {
	d := map[string]float64{}
	for k, part := range b.Form {
		if n := &z.Numbers[k]; part != 0 {
			d[n.Param.Path] = part * n.Left * n.Left
		}
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
