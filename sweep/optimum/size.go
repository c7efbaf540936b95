package optimum

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// What a sizing may make small.
const (
	OpeningArea = "opening_area" // area of the openings that vary, of all when none does [m²]
	CoolingDrag = "cooling_drag" // cooling-drag power, mean over the climb and then over the cases that fly [W]
	Weighted    = "weighted"     // both, each measured by that of the file
)

// Where the spread of a margin comes from.
const (
	FromSlopes  = "slopes"
	FromSamples = "samples"
)

// Sizing is the search for the smallest openings, or other numbers within
// bounds, with which every case keeps its margins.
type Sizing struct {
	Cases   []scenarios.CaseScenario
	Factors []sweep.Factor // paths and the bounds between which they move

	Minimise  string  // OpeningArea, CoolingDrag or Weighted
	AreaShare float64 // weight of the area when Weighted; the rest is drag [-]

	CoolantMargin float64 // to keep to the coolant limit [K]
	OilMargin     float64 // to keep to the oil limit [K]
	BoilMargin    float64 // to keep to boiling [K]
	Doubt         float64 // standard deviations of a margin kept on top of it [-]
	DoubtFrom     string  // FromSlopes, also when empty, or FromSamples

	Step    float64      // of a margin, when its price is asked [K]; 0: 1 K
	Workers int          // flights at a time; 0: 1
	Seed    uint64       // of drawn samples
	Sim     sim.Settings // of each flight

	// Fly gives one flight of a case with the factors at x, or as filed when x is
	// nil. Without it they are set in the scenario of the case, which is built and
	// flown. It is called by several goroutines at once.
	Fly func(ctx context.Context, k int, x []float64) (Flight, error)
	// Flown is called after each flight, by several goroutines at once, when it
	// is not nil.
	Flown func()
}

// Sized is what a sizing found.
type Sized struct {
	Limits []Limit // what must be kept, in the order of Design.Values
	Start  Design  // the file as it stands
	From   string  // where the search started, in words
	Best   Design  // the answer, or the least bad design when nothing fits
	Fits   bool

	Iterations int     // of the sequential linear programs
	KKT        float64 // what is left of the conditions of an optimum, see Solution
	Rounds     int     // solutions for the margins with doubt; 1 without doubt
	Moved      float64 // change of a margin with doubt before the last of them [K]

	Confirmation *Confirmation // nil when nothing fits
	Prices       []Price       // of the limits that decide, in the order of Limits
	AtBound      []Held        // factors at a bound that makes the answer cost more, or, when nothing fits, at any
	Build        *Build        // sizes that can be made; nil when nothing fits
	Broken       []int         // limits that the least bad design breaks, the worst first
	Cures        []Cure        // what else would mend the worst of each circuit

	sizer *sizer
}

// Held is a factor at one of its bounds.
type Held struct {
	Factor int
	High   bool
}

// errNothingVaries says that a sizing has no factors.
var errNothingVaries = errors.New("nothing varies: give paths and their bounds, as in exits.belly.height=4 in..12 in")

// Size finds the smallest openings. An error says that there is no answer; that
// nothing fits is an answer.
func Size(ctx context.Context, s Sizing) (*Sized, error) {
	p, err := newSizer(ctx, &s)
	if err != nil {
		return nil, err
	}
	out := &Sized{Limits: p.limits, Start: *p.present, sizer: p}
	end, err := p.search(ctx, out)
	if err != nil {
		return nil, err
	}
	out.Limits = p.limits // with what they need in the end
	if end.Feasible {
		err = p.confirmed(ctx, end, out)
	} else if err = p.conclude(ctx, end.Solution, out); err == nil {
		err = p.cure(ctx, out)
	}
	if err != nil {
		return nil, err
	}
	out.Iterations = int(p.programs.Load())
	return out, nil
}

// tell tells what an answer that fits comes to, costs and is built as.
func (p *sizer) tell(ctx context.Context, end found, out *Sized) error {
	if err := p.conclude(ctx, end.Solution, out); err != nil {
		return err
	}
	if err := p.price(ctx, end, out); err != nil {
		return err
	}
	return p.build(ctx, out)
}

// Settled says that the margins with doubt stood still in the end.
func (out *Sized) Settled() bool { return out.Moved < stillDoubt }

// Flights is how many flights were flown so far.
func (out *Sized) Flights() int { return int(out.sizer.flights.Load()) }

// Slack is how far a design is inside a limit [K].
func (out *Sized) Slack(d *Design, limit int) float64 { return d.slack(out.Limits, limit) }

// check tells what is wrong with a sizing.
func (s *Sizing) check() error {
	if len(s.Cases) == 0 {
		return errors.New("no case is given")
	}
	if len(s.Factors) == 0 {
		return errNothingVaries
	}
	for _, f := range s.Factors {
		if !f.Param.IsNumber() || f.Values != nil || f.Words != nil || f.Lo >= f.Hi {
			return fmt.Errorf("%s: has no bounds: write LOW..HIGH", f.Param.Path)
		}
	}
	if !slices.Contains([]string{OpeningArea, CoolingDrag, Weighted}, s.Minimise) {
		return fmt.Errorf("cannot minimise %q: take %s, %s or %s", s.Minimise, OpeningArea, CoolingDrag, Weighted)
	}
	if !slices.Contains([]string{"", FromSlopes, FromSamples}, s.DoubtFrom) {
		return fmt.Errorf("doubt from %q is not known: take %s or %s", s.DoubtFrom, FromSlopes, FromSamples)
	}
	return nil
}
