package uncertainty

import (
	"context"
	"errors"
	"math"

	"hotclimb/sweep"
)

// DrawRows makes each row of a study draw the doubtful numbers of its flight, as
// OfFlight does with these settings, one flight at a time, since rows fly side by
// side already. What a factor sets is known, and so drawn in no row.
//
// All rows are given the same draws: as a factor moves, the 5 % of a margin moves
// with it, without noise. That is so while the factors leave the same numbers in
// doubt, as numbers do; words may bring in others.
//
// A draw that fails counts in Drawn.Failed. Where hardly any is left, the row has
// its outcome, all draws failed, and nothing else to tell of them; one without a
// doubtful number has a spread of nothing.
func DrawRows(study *sweep.Study, set FlightSettings) {
	set.Draws = orDefault(set.Draws, 64)
	set.Sampling = orDefault(set.Sampling, sweep.SobolDesign)
	set.Workers, set.Times, set.Sim = 1, 0, study.Sim
	study.Draws = &sweep.DrawNote{Draws: set.Draws, Sampling: set.Sampling, Seed: set.Seed}
	study.Evaluate = func(ctx context.Context, t sweep.Trial) (sweep.Outcome, error) {
		sc, err := sweep.Set(study.Cases[t.Case].Scenario, study.Factors, t.Levels)
		if err != nil {
			return sweep.Outcome{}, err
		}
		spread, err := OfFlight(ctx, sc, set)
		if err == nil {
			o := sweep.OutcomeOf(spread.Stated)
			o.Drawn = spread.drawn()
			return o, nil
		}
		if ctx.Err() != nil {
			return sweep.Outcome{}, ctx.Err()
		}
		if _, err := sweep.DoubtsOf(sc); err != nil {
			return sweep.Outcome{}, err
		}
		f := flown{FlightSettings: &set}
		r, failed := f.fly(ctx, sc)
		if failed != nil {
			return sweep.Outcome{}, failed
		}
		o := sweep.OutcomeOf(r)
		if errors.Is(err, ErrNoDoubt) {
			o.Drawn = certain(&o)
		} else {
			o.Drawn = undrawn(set.Draws)
		}
		return o, nil
	}
}

// drawn is the spread for the row of a sweep.
func (s *FlightSpread) drawn() *sweep.Drawn {
	d := undrawn(len(s.Failures))
	for _, m := range s.Margins {
		d.Margins[place(m.Limit)] = sweep.DrawnMargin{Deviation: m.Deviation, Low: m.Low, High: m.High, Over: m.Passed.Value}
	}
	d.Over = s.Least.Passed.Value
	return d
}

// place is that of a limit in sweep.Margins.
func place(limit string) int {
	switch limit {
	case CoolantLimit:
		return sweep.Coolant
	case OilLimit:
		return sweep.Oil
	}
	return sweep.Boiling
}

// undrawn is that nothing is known but how many draws failed.
func undrawn(failed int) *sweep.Drawn {
	nan := math.NaN()
	none := sweep.DrawnMargin{Deviation: nan, Low: nan, High: nan, Over: nan}
	return &sweep.Drawn{Margins: [3]sweep.DrawnMargin{none, none, none}, Over: nan, Failed: failed}
}

// certain is the spread of an outcome without any doubt.
func certain(o *sweep.Outcome) *sweep.Drawn {
	d := undrawn(0)
	d.Over = 0
	for i, m := range []float64{sweep.Coolant: o.Circuits[sweep.Coolant].Margin, sweep.Oil: o.Circuits[sweep.Oil].Margin, sweep.Boiling: o.BoilMargin} {
		if math.IsInf(m, 0) {
			continue
		}
		d.Margins[i] = sweep.DrawnMargin{Low: m, High: m}
		if m <= 0 {
			d.Margins[i].Over, d.Over = 1, 1
		}
	}
	return d
}
