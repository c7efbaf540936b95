package sweep

import (
	"context"
	"fmt"

	"golang.org/x/sync/errgroup"
	"hotclimb/scenarios"
	"hotclimb/sim"
)

// Ranking tries changes one by one, pairs of the best of them, and every number
// that a builder makes a tenth up and down, each in the same cases.
type Ranking struct {
	Cases   []scenarios.CaseScenario // as they are
	Changes []*scenarios.Change
	Pairs   int  // so many of the best changes are paired; less than 2: none
	Tenths  bool // numbers are moved by a tenth

	// Evaluate gives the outcome of an effective scenario; nil builds and flies
	// it.
	Evaluate func(context.Context, *scenarios.Scenario) (Flown, error)

	Workers int // flights at a time; 0 means 1
}

// Flown is a flight and its climb.
type Flown struct {
	Outcome
	Climb Climb
}

// Ranked is what a ranking gives.
type Ranked struct {
	Cases   []string // their names
	Base    Stand    // as it is
	Changes []Single // the best first, those that failed last
	Pairs   []Pair
	Tenths  []Tenth // the one that gains most first
	Flights int     // how many were flown
}

// Single is one change alone.
type Single struct {
	Change *scenarios.Change
	Price
	Effect
}

// variant is one thing that is tried: an effective scenario for each case.
type variant struct {
	// in returns the scenario of a case; nil for one that stays as it is.
	in    func(i int) (*scenarios.Scenario, error)
	never error // why it cannot be flown in any case
	flown []Flown
	errs  []error
	stays []bool // by case: it stays as it is
}

// Rank flies the cases as they are, then with every change and every tenth,
// then with the pairs, and compares. It calls progress after every flight, and
// for flights that turn out to be needless. What fails of a change stands in
// its Effect; an error means that there is nothing to compare.
func Rank(ctx context.Context, r Ranking, progress func()) (*Ranked, error) {
	k := &ranker{Ranking: r, progress: progress}
	if err := k.flyBase(ctx); err != nil {
		return nil, err
	}
	result := &Ranked{Base: k.base}
	for _, c := range r.Cases {
		result.Cases = append(result.Cases, c.Name)
	}
	singles, tenths := k.singles(), k.tenths()
	if err := k.fly(ctx, append(variantsOf(tenths), singles...)); err != nil {
		return nil, err
	}
	result.Changes = k.rankSingles(singles)
	result.Tenths = k.tenthEffects(tenths)
	pairs := k.pairs(result.Changes)
	variants := make([]*variant, len(pairs))
	for i := range pairs {
		variants[i] = pairs[i].variant
	}
	if err := k.fly(ctx, variants); err != nil {
		return nil, err
	}
	result.Pairs = k.pairEffects(pairs, result.Changes)
	result.Flights = k.flights
	return result, nil
}

// Steps is how often Rank calls progress, at most.
func (r *Ranking) Steps() int {
	k := &ranker{Ranking: *r}
	paired := min(r.Pairs, len(r.Changes))
	return len(r.Cases) * (1 + len(r.Changes) + 2*len(k.numbers()) + max(0, paired*(paired-1)/2))
}

// ranker is a ranking at work.
type ranker struct {
	Ranking
	progress func()
	base     Stand
	flights  int
}

// flyBase flies the cases as they are.
func (k *ranker) flyBase(ctx context.Context) error {
	v := &variant{in: func(i int) (*scenarios.Scenario, error) { return k.Cases[i].Scenario, nil }}
	if err := k.fly(ctx, []*variant{v}); err != nil {
		return err
	}
	if err := k.failure(v); err != nil {
		return err
	}
	k.base = standOf(v.flown)
	return nil
}

// fly flies variants in every case, Workers flights at a time. The error is
// that of the context; others stay in their variants.
func (k *ranker) fly(ctx context.Context, variants []*variant) error {
	var g errgroup.Group
	g.SetLimit(max(1, k.Workers))
	for _, v := range variants {
		if v.never != nil {
			continue
		}
		n := len(k.Cases)
		v.flown, v.errs, v.stays = make([]Flown, n), make([]error, n), make([]bool, n)
		for i := range k.Cases {
			g.Go(func() error {
				defer k.progress()
				v.flown[i], v.stays[i], v.errs[i] = k.flyCase(ctx, v, i)
				return nil
			})
		}
	}
	_ = g.Wait() // errors of flights are in their variants
	if err := ctx.Err(); err != nil {
		return err
	}
	for _, v := range variants {
		for _, stays := range v.stays {
			if !stays {
				k.flights++
			}
		}
	}
	return nil
}

// flyCase flies a variant in one case, or takes over what is known when the
// case stays as it is.
func (k *ranker) flyCase(ctx context.Context, v *variant, i int) (f Flown, stays bool, err error) {
	if err := ctx.Err(); err != nil {
		return f, true, err
	}
	sc, err := v.in(i)
	switch {
	case err != nil:
		return f, true, err
	case sc == nil:
		return k.base.Flown[i], true, nil
	case k.Evaluate != nil:
		f, err = k.Evaluate(ctx, sc)
	default:
		f, err = flyWithClimb(ctx, sc)
	}
	return f, false, err
}

// failure is the error of the first case in which a variant failed.
func (k *ranker) failure(v *variant) error {
	if v.never != nil {
		return v.never
	}
	for i, err := range v.errs {
		if err != nil {
			return fmt.Errorf("case %s: %w", k.Cases[i].Name, err)
		}
	}
	return nil
}

// flyWithClimb flies an effective scenario.
func flyWithClimb(ctx context.Context, sc *scenarios.Scenario) (Flown, error) {
	r, err := Fly(ctx, sc, sim.Settings{Sample: ClimbSample})
	if err != nil {
		return Flown{}, err
	}
	return Flown{OutcomeOf(r), ClimbOf(r, sc)}, nil
}
