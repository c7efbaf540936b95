package uncertainty

import (
	"context"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// FlightSources is which numbers make the margins of a flight spread.
type FlightSources struct {
	Doubts *sweep.Doubts
	Slopes *sweep.Slopes // that chose the groups

	Margins []MarginSources // to the limits, in the order coolant, oil, boiling; the last where it can boil
	Least   MarginSources   // to the nearest of them

	Points   int // drawn
	Flights  int // of the points: Points·(groups+2)
	Dropped  int // points of which a flight failed, and which count nothing
	Turned   int // flights turned to the other side of the means, as they could not be flown as drawn
	Failures []Failure
}

// MarginSources is what makes one margin spread [K].
type MarginSources struct {
	Limit string // CoolantLimit, OilLimit or BoilLimit; "" for the nearest
	Origin
}

const (
	mostAlone  = 8    // groups with a share of their own
	leastAlone = 0.01 // share in the variance of some margin, by slopes, with which a group has one
)

// WhereFrom divides the variance of the margins of one effective scenario among
// its doubtful numbers, as Indices does: those that go together by correlations,
// and those that do little, count together. Which do little is known from first
// order, with one flight for each number: up to eight groups with 1 % or more of
// the variance of some margin have a share of their own, so that it takes
// Points·11 flights at most beside these, not Points·80.
func WhereFrom(ctx context.Context, sc *scenarios.Scenario, set FlightSettings) (*FlightSources, error) {
	f, err := newFlown(ctx, sc, &set)
	if err != nil {
		return nil, err
	}
	d := sweep.Doubt{Scenario: sc, Doubts: f.doubts, Workers: set.Workers, Fly: func(ctx context.Context, sc *scenarios.Scenario) (sweep.Outcome, error) {
		r, err := f.fly(ctx, sc)
		if err != nil {
			return sweep.Outcome{}, err
		}
		return sweep.OutcomeOf(r), nil
	}}
	slopes, err := d.Slopes(ctx)
	if err != nil {
		return nil, err
	}
	study := f.study(orDefault(set.Points, 128))
	study.Groups = f.alone(slopes)
	study.Outputs = len(f.margins) + 1
	study.Evaluate = func(ctx context.Context, x, y []float64) error {
		r, err := f.drawn(ctx, x)
		if err == nil {
			f.put(r, y)
		}
		return err
	}
	s, err := Indices(ctx, study)
	if err != nil {
		return nil, err
	}
	out := &FlightSources{
		Doubts: f.doubts, Slopes: slopes, Points: s.Points, Flights: s.Runs, Dropped: s.Dropped,
		Turned: int(f.turned.Load()), Failures: s.Failures,
	}
	for i := range f.margins {
		out.Margins = append(out.Margins, MarginSources{f.limit(i), s.Results[i]})
	}
	out.Least.Origin = s.Results[len(f.margins)]
	return out, nil
}

// alone are the groups with a share of their own, those that do most first. It is
// never nil.
func (f *flown) alone(slopes *sweep.Slopes) []Group {
	type weighed struct {
		inputs []int
		share  float64 // the largest in any margin
	}
	groups := f.doubts.Draws().Groups()
	var total sweep.Margins
	parts := make([]sweep.Margins, len(groups))
	for i, inputs := range groups {
		parts[i] = slopes.Variance(inputs)
		for c, v := range parts[i] {
			total[c] += v
		}
	}
	var list []weighed
	for i, inputs := range groups {
		w := weighed{inputs: inputs}
		for _, c := range f.margins {
			if total[c] > 0 {
				w.share = max(w.share, parts[i][c]/total[c])
			}
		}
		if w.share >= leastAlone {
			list = append(list, w)
		}
	}
	slices.SortStableFunc(list, func(a, b weighed) int {
		switch {
		case a.share > b.share:
			return -1
		case a.share < b.share:
			return 1
		}
		return 0
	})
	named := []Group{}
	for _, w := range list[:min(mostAlone, len(list))] {
		named = append(named, Group{Inputs: w.inputs})
	}
	return named
}

// SpreadFlights is how many flights OfFlight takes.
func (set *FlightSettings) SpreadFlights() int {
	n := 1 + orDefault(set.Draws, 256)
	if set.Times > 0 {
		n++
	}
	return n
}

// SourceFlights is how many flights WhereFrom takes with so many doubtful
// numbers, at most.
func (set *FlightSettings) SourceFlights(numbers int) int {
	return 2 + numbers + orDefault(set.Points, 128)*(min(numbers, mostAlone+1)+2)
}
