package sweep

import (
	"math"
	"slices"

	"hotclimb/sim"
)

// Stand is how several cases together stand to their limits.
type Stand struct {
	Flown     []Flown    // by case
	Margin    [2]float64 // Coolant and Oil: the least over the cases [K]
	Case      [2]int     // the case of each of them
	LimitTime float64    // until the earliest limit of any case; +Inf when none is reached [s]
	LimitCase int        // its case, -1 for none
}

func standOf(flown []Flown) Stand {
	s := Stand{Flown: flown, Margin: [2]float64{math.Inf(1), math.Inf(1)}, LimitTime: math.Inf(1), LimitCase: -1}
	for i := range flown {
		for c := range s.Margin {
			if m := flown[i].Circuits[c].Margin; m < s.Margin[c] {
				s.Margin[c], s.Case[c] = m, i
			}
		}
		if t := flown[i].TimeToLimit(); t < s.LimitTime {
			s.LimitTime, s.LimitCase = t, i
		}
	}
	return s
}

// Least is the lesser margin of both circuits [K].
func (s *Stand) Least() float64 { return math.Min(s.Margin[Coolant], s.Margin[Oil]) }

// Limiting is the circuit with the lesser margin.
func (s *Stand) Limiting() int {
	if s.Margin[Oil] < s.Margin[Coolant] {
		return Oil
	}
	return Coolant
}

// Worst is the case with the least margin.
func (s *Stand) Worst() int { return s.Case[s.Limiting()] }

// Over lists the cases that exceed a limit.
func (s *Stand) Over() []int {
	var over []int
	for i := range s.Flown {
		if s.Flown[i].Status == sim.OverLimit {
			over = append(over, i)
		}
	}
	return over
}

// Effect is what a variant comes to, and how that differs from the cases as
// they are.
type Effect struct {
	Err     error // why there is none
	Applied bool  // something that it sets exists in the cases

	Stand
	Gain      [2]float64 // of the margins Coolant and Oil [K]
	LeastGain float64    // of the lesser margin of both [K]

	// In the case with the least margin as it is:
	Drag      float64 // cooling drag added [N]
	DragPower float64 // cooling-drag power added [W]
	Climb     float64 // rate of climb gained [m/s]

	NewOver       []int      // cases moved over a limit
	NewReversed   []Reversal // exchangers that air now flows through backwards
	NewIncomplete []int      // cases in which a leg no longer reaches its end
}

// Reversal is an exchanger with reversed air in a case.
type Reversal struct {
	Case      int
	Exchanger string
}

// effectOf compares what was flown with the cases as they are.
func effectOf(base *Stand, flown []Flown) Effect {
	e := Effect{Stand: standOf(flown)}
	for c := range e.Gain {
		e.Gain[c] = e.Margin[c] - base.Margin[c]
	}
	e.LeastGain = e.Least() - base.Least()
	was, is := &base.Flown[base.Worst()].Climb, &flown[base.Worst()].Climb
	e.Drag, e.DragPower, e.Climb = is.Drag-was.Drag, is.DragPower-was.DragPower, is.Rate-was.Rate
	for i := range flown {
		was, is := &base.Flown[i], &flown[i]
		if is.Status == sim.OverLimit && was.Status != sim.OverLimit {
			e.NewOver = append(e.NewOver, i)
		}
		if is.Incomplete != "" && was.Incomplete == "" {
			e.NewIncomplete = append(e.NewIncomplete, i)
		}
		before := was.Reversed()
		for _, name := range is.Reversed() {
			if !slices.Contains(before, name) {
				e.NewReversed = append(e.NewReversed, Reversal{i, name})
			}
		}
	}
	return e
}

// whole says that what is compared are whole flights: the variant did not fail,
// and no leg that reached its end without it misses it.
func (e *Effect) whole() bool { return e.Err == nil && len(e.NewIncomplete) == 0 }

// TimeGain is by how much later the earliest limit is reached; +Inf when it is
// no longer reached, -Inf when it is reached only now, NaN when it is not
// reached at all [s].
func (e *Effect) TimeGain(base *Stand) float64 { return e.LimitTime - base.LimitTime }

// From which gain a circuit counts as helped and from which loss as spoiled
// [K] (engineering judgement: a loss that a gauge shows).
const (
	helped  = 0.2
	spoiled = 0.5
)

// Spoils names the circuit that the variant spoils to help the other: it gains
// 0.2 K or more on one, and the other loses more than 0.5 K or goes over its limit.
func (e *Effect) Spoils() (circuit int, ok bool) {
	for c := range e.Gain {
		before := e.Margin[c] - e.Gain[c]
		over := before >= 0 && e.Margin[c] < 0
		if e.Err == nil && e.Gain[1-c] > helped && (e.Gain[c] < -spoiled || over) {
			return c, true
		}
	}
	return 0, false
}

// effect is that of a variant that was flown.
func (k *ranker) effect(v *variant) Effect {
	if err := k.failure(v); err != nil {
		return Effect{Err: err}
	}
	e := effectOf(&k.base, v.flown)
	e.Applied = slices.Contains(v.stays, false)
	return e
}
