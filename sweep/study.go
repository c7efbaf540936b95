package sweep

import (
	"context"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// Study is a set of designs, each flown in the same cases.
type Study struct {
	Cases   []scenarios.CaseScenario
	Factors []Factor
	Designs Designs

	// Evaluate gives the outcome of a trial; nil sets the levels in the scenario
	// of its case, builds it and flies it.
	Evaluate func(context.Context, Trial) (Outcome, error)

	// Draws says that outcomes come with those of their doubtful numbers, Outcome.Drawn,
	// in columns of their own; nil: they do not. uncertainty.DrawRows sees to it.
	Draws *DrawNote

	Workers int          // trials at a time; 0 means 1
	Sim     sim.Settings // of each flight
}

// Designs are the points of a study, by number.
type Designs interface {
	// Len is how many there are.
	Len() int
	// At puts the levels of design i, one per factor, into levels. It may be
	// called by several goroutines at once.
	At(i int, levels []Level)
}

// Trial is one flight of a study: one design in one case.
type Trial struct {
	Index  int // of the row: all cases of a design, then the next design
	Case   int // of Study.Cases
	Levels []Level
}

// Row is what became of a trial.
type Row struct {
	Trial
	Outcome
	Err error // there is no outcome, and why
}

// Len is the number of trials.
func (s *Study) Len() int { return s.Designs.Len() * len(s.Cases) }

// trial is trial i with its levels put into levels.
func (s *Study) trial(i int, levels []Level) Trial {
	s.Designs.At(i/len(s.Cases), levels)
	return Trial{Index: i, Case: i % len(s.Cases), Levels: levels}
}

// evaluation is what gives the outcome of a trial: Evaluate, or flights.
func (s *Study) evaluation() func(context.Context, Trial) (Outcome, error) {
	if s.Evaluate != nil {
		return s.Evaluate
	}
	templates := Templates(s.Cases)
	return func(ctx context.Context, t Trial) (Outcome, error) {
		v, err := Vary(templates[t.Case](), s.Factors, t.Levels)
		if err != nil {
			return Outcome{}, err
		}
		r, err := Fly(ctx, v, s.Sim)
		if err != nil {
			return Outcome{}, err
		}
		return OutcomeOf(r), nil
	}
}
