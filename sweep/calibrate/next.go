package calibrate

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"golang.org/x/sync/errgroup"
	"gonum.org/v1/gonum/mat"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// NextStudy asks which flight would shrink the doubt of the margins of a target
// most.
//
// Everything that is not known is a number with a normal distribution: the
// doubtful numbers of the target with their correlations, and the doubtful
// biases and lags of its gauges. A flight is taken to be read at both gauges
// every half minute with their noise. To first order in the numbers, readings y =
// H x + ε leave the covariance C' = (C⁻¹ + HᵀR⁻¹H)⁻¹, whatever is read, and a
// margin m = gᵀx the doubt √(gᵀC'g). R holds the noise, the doubt of both
// temperatures at the start, and numbers that are not those of the target.
// Faults of the model itself are counted as far as they are in the noise.
//
// See belief.after for sources.
type NextStudy struct {
	Target  scenarios.CaseScenario
	Flights []NextFlight
	Workers int    // flights at a time; 0 means 1; answers do not depend on it
	Done    func() // called after each of Parts, by several goroutines; may be nil
}

// NextTable says what each flight would teach.
type NextTable struct {
	Numbers  []NextNumber
	Margin   [2]float64 // of the target, coolant and oil [K]
	Now      [2]float64 // doubt of it, one standard deviation [K]
	Deciding int        // the circuit that is more likely to pass its limit
	Rows     []NextRow  // the most useful first
	LeftOut  []LeftOut  // flights that cannot be computed or flown

	belief belief
	g      [2][]float64 // margins per deviation of each number [K]
}

// NextNumber is a number that is not known.
type NextNumber struct {
	Param     scenarios.Param
	Deviation float64    // SI
	Share     [2]float64 // of the variance of each margin
}

// NextRow is what a flight would teach.
type NextRow struct {
	Flight     NextFlight
	After      [2]float64 // doubt that it would leave of each margin of the target [K]
	Misjudged  float64    // chance to be wrong about the deciding limit afterwards
	Lessons    []Lesson   // of the deciding margin, the most important first
	Readings   int        // of both gauges
	Duration   float64    // [s]
	Peaks      []sim.Peak // of the flight, with the numbers as believed
	BoilMargin float64    // of the flight [K]
	OverLimit  bool       // it passes a limit or boils: not to be flown so
	Passes     float64    // chance that it passes a limit, by the doubts of now

	slopes *mat.Dense
}

// Lesson is the part of what a flight teaches that comes through one number: of
// gᵀ(C−C')g the part g_k ((C−C')g)_k. Parts add up to 1; below 0 is one that
// stood against others.
type Lesson struct {
	Number int     // of NextTable.Numbers
	Share  float64 // of the fall of the variance
	Left   float64 // deviation of the number afterwards over that of now
}

// Parts is how many times Done is called, at most.
func (s *NextStudy) Parts() int {
	n := 1
	for i := range s.Flights {
		if d, err := sweep.DoubtsOf(s.Flights[i].Scenario); err == nil {
			n += len(d.Params) + 1
		}
	}
	return n
}

// Run computes what each flight teaches. The error says that the target has no
// doubts, or cannot be flown.
func (s *NextStudy) Run(ctx context.Context) (*NextTable, error) {
	target, t, err := s.target(ctx)
	if err != nil {
		return nil, err
	}
	s.done()
	taughts, errs := make([]*taught, len(s.Flights)), make([]error, len(s.Flights))
	quiet := map[string]bool{} // numbers that move no reading of the first flight
	group, ctx := errgroup.WithContext(ctx)
	group.SetLimit(max(s.Workers, 1))
	for i := range s.Flights {
		one := func() error {
			taughts[i], errs[i] = teach(ctx, &s.Flights[i], target, quiet, s.done)
			s.done()
			return ctx.Err()
		}
		if i > 0 {
			group.Go(one)
		} else if err := one(); err != nil {
			return nil, err
		} else if errs[i] == nil {
			quiet = taughts[i].quiet
		}
	}
	if err := group.Wait(); err != nil {
		return nil, err
	}
	for i, f := range s.Flights {
		if errs[i] != nil {
			t.LeftOut = append(t.LeftOut, LeftOut{f.Name, errs[i].Error(), f.Outside})
			continue
		}
		t.Rows = append(t.Rows, t.row(f, taughts[i]))
	}
	if len(t.Rows) == 0 {
		return nil, errors.New("no flight can be computed: " + t.LeftOut[0].Name + ": " + t.LeftOut[0].Why)
	}
	other := 1 - t.Deciding
	slices.SortStableFunc(t.Rows, func(a, b NextRow) int {
		return cmp.Or(cmp.Compare(a.After[t.Deciding], b.After[t.Deciding]), cmp.Compare(a.After[other], b.After[other]))
	})
	return t, nil
}

func (s *NextStudy) done() {
	if s.Done != nil {
		s.Done()
	}
}

// target computes how the margins follow what is not known.
func (s *NextStudy) target(ctx context.Context) ([]openNumber, *NextTable, error) {
	sc := s.Target.Scenario
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		return nil, nil, err
	}
	if len(doubts.Params) == 0 {
		return nil, nil, ErrNoDoubts
	}
	list, err := openNumbersOf(sc, doubts)
	if err != nil {
		return nil, nil, err
	}
	t := &NextTable{}
	if t.belief, err = newBelief(correlationsOf(sc, list)); err != nil {
		return nil, nil, err
	}
	doubt := sweep.Doubt{Scenario: sc, Doubts: doubts, Workers: s.Workers, Fly: outcome}
	slopes, err := doubt.Slopes(ctx)
	if err != nil {
		return nil, nil, fmt.Errorf("case %s: %w", s.Target.Name, err)
	}
	for c := range t.g {
		t.g[c] = make([]float64, len(list))
		for k := range slopes.By {
			t.g[c][k] = slopes.By[k][c]
		}
		t.Margin[c], t.Now[c] = slopes.At[c], t.belief.deviation(t.g[c])
	}
	if t.Now == [2]float64{} {
		return nil, nil, errNothingMoves
	}
	if passed(t.Margin[1], t.Now[1]) > passed(t.Margin[0], t.Now[0]) || t.Now[0] == 0 {
		t.Deciding = 1
	}
	t.numbers(list)
	return list, t, nil
}

// outcome flies a scenario.
func outcome(ctx context.Context, sc *scenarios.Scenario) (sweep.Outcome, error) {
	r, err := sweep.Fly(ctx, sc, sim.Settings{})
	if err != nil {
		return sweep.Outcome{}, err
	}
	return sweep.OutcomeOf(r), nil
}

// numbers tells what is not known.
func (t *NextTable) numbers(list []openNumber) {
	t.Numbers = make([]NextNumber, len(list))
	var moved [2][]float64
	for c := range moved {
		moved[c] = t.belief.times(t.g[c])
	}
	for k, u := range list {
		t.Numbers[k] = NextNumber{Param: u.param, Deviation: u.sigma}
		for c := range moved {
			if v := t.Now[c] * t.Now[c]; v > 0 {
				t.Numbers[k].Share[c] = t.g[c][k] * moved[c][k] / v
			}
		}
	}
}

// row tells what a flight teaches.
func (t *NextTable) row(f NextFlight, of *taught) NextRow {
	p := of.plan
	r := NextRow{
		Flight: f, Readings: len(p.record.Readings), Duration: p.record.End, Peaks: p.result.Peaks,
		BoilMargin: p.result.BoilMargin, OverLimit: p.overLimit(), Passes: of.passes, slopes: of.whitened,
	}
	left := t.belief.after(r.slopes)
	for c := range r.After {
		r.After[c] = left.deviation(t.g[c])
	}
	d := t.Deciding
	r.Misjudged = misjudged(t.Margin[d], t.Now[d], r.After[d])
	r.Lessons = t.lessons(left)
	return r
}

// lessons are the parts of the fall of the variance of the deciding margin.
func (t *NextTable) lessons(left belief) []Lesson {
	g := t.g[t.Deciding]
	before, after := t.belief.times(g), left.times(g)
	fall := 0.0
	for k := range g {
		fall += g[k] * (before[k] - after[k])
	}
	var list []Lesson
	for k := range g {
		one := make([]float64, len(g))
		one[k] = 1
		l := Lesson{Number: k, Left: left.deviation(one) / t.belief.deviation(one)}
		if fall > 0 {
			l.Share = g[k] * (before[k] - after[k]) / fall
		}
		list = append(list, l)
	}
	slices.SortStableFunc(list, func(a, b Lesson) int { return cmp.Compare(b.Share, a.Share) })
	return list
}

// NowMisjudged is the chance that the deciding limit is judged wrongly by the
// margin as it is believed now.
func (t *NextTable) NowMisjudged() float64 {
	return passed(math.Abs(t.Margin[t.Deciding]), t.Now[t.Deciding])
}

// Passed is the chance of each margin to be below 0.
func (t *NextTable) Passed() [2]float64 {
	return [2]float64{passed(t.Margin[0], t.Now[0]), passed(t.Margin[1], t.Now[1])}
}

// MostRisk is the chance to pass a limit up to which a flight is proposed:
// engineering judgement.
const MostRisk = 0.1

// MayBeFlown says that a flight keeps its limits with the numbers as believed,
// and is not likely to pass one by their doubts.
func (r *NextRow) MayBeFlown() bool { return !r.OverLimit && r.Passes <= MostRisk }

// nearly is how much more doubt than after the most useful flight is worth a
// flight with fewer hazards: engineering judgement.
const nearly = 1.25

// Best is the flight to propose: of those that may be flown and leave at most a
// quarter more doubt of the deciding margin than the most useful of these, the
// first with the fewest hazards of its own. -1 when none may be flown.
func (t *NextTable) Best() int {
	best, most := -1, 0.0
	for i := range t.Rows {
		r := &t.Rows[i]
		switch {
		case !r.MayBeFlown():
		case best < 0:
			best, most = i, nearly*r.After[t.Deciding]
		case r.After[t.Deciding] <= most && len(r.Flight.Hazards) < len(t.Rows[best].Flight.Hazards):
			best = i
		}
	}
	return best
}

// Sources are the numbers from which most of the doubt of a margin comes, at
// most n of them.
func (t *NextTable) Sources(circuit, n int) []int {
	list := make([]int, len(t.Numbers))
	for k := range list {
		list[k] = k
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return cmp.Compare(t.Numbers[b].Share[circuit], t.Numbers[a].Share[circuit])
	})
	return list[:min(n, len(list))]
}
