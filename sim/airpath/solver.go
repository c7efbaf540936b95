package airpath

import (
	"errors"
	"fmt"
	"math"
)

// Heater warms the air in the cores. For every core branch it reads the
// signed flow [kg/s] and the temperature of the air that enters [°C] and
// writes the temperature of the air that leaves.
type Heater interface {
	Outlets(flow, tIn, tOut []float64)
}

// Field is the state of the cowl air.
type Field struct {
	Flow        []float64 // per branch, positive from From to To [kg/s]
	In, Out     []float64 // temperature entering and leaving each branch [°C]
	Pressure    []float64 // per place, gauge [Pa]
	Temperature []float64 // per place [°C]
	Residual    float64   // largest unbalanced mass flow of a place over the total inflow, of at least 1 g/s [-]
	Iterations  int
}

// Solver finds the field of one network. It starts each solve from the last
// one, allocates nothing while solving, and is not for concurrent use.
type Solver struct {
	// Tolerance is the error of the flows, over their sum, with which a solve
	// may end [-]; 0 counts as 1e-10. Mass and heat are kept whatever it is.
	Tolerance float64

	net   *Network
	links []link
	Field Field

	// Per place, from the outside air on.
	pressure, temperature []float64 // as in Field
	density               []float64 // [kg/m³]
	carry                 []float64 // conductance of all that sets the temperature [W/K]
	behind                []float64 // last distance of the density from balance [kg/m³]
	follow                []float64 // share of it that is taken back [-]
	in, out               [][]int   // the branches that bring air and that take it
	matrix, change        []float64 // of the pressures

	order    []int // of the places by their pressures, highest first
	tempered []int // branches whose density is that of warmed air

	scale     float64 // largest pressure that the stream offers [Pa]
	moved     float64 // largest last change of a flow, over their sum [-]
	descent   float64 // fall of the energy of the flow along step, at its start [Pa kg/s]
	lag       float64 // largest last distance of a density from balance, over that of the stream [-]
	left      remainder
	unrated   bool // the heater has not seen the present flows and temperatures
	turned    bool // a flow has another sign than in and out know
	again     bool // one pass has not brought the temperatures into balance
	returning bool // an inlet draws exit air back
	warm      bool
}

// remainder is what an iteration leaves to do, by estimate.
type remainder struct {
	flow    float64 // largest error of a flow, over their sum [-]
	law     float64 // of a law, over the pressure of the stream [-]
	density float64 // largest error of a density, over that of the stream [-]
}

const (
	tolerance   = 1e-10 // where none is given [-]
	looseEnough = 1e-5  // of the flows when the iterations end [-]
	lawWeight   = 0.01  // of the error of a law, among those of flows [-]
	massError   = 2e-11 // unbalanced flow of a place, over the inflow [-]
	leastFlow   = 1e-4  // sum of flows below which nothing to speak of moves [kg/s]
	leastInflow = 1e-3  // on which the unbalanced flow is counted [kg/s]
	searchAbove = 1e-5  // steps smaller than this are in the quadratic range [-]
	farOff      = 1.0   // a first step larger than this starts from scratch [-]
	steady      = 1e-4  // flows that let the damped temperatures take a step [-]

	maxIterations = 3000 // near the stall of an inlet the way is long
	quick         = 5    // iterations in which a solve ends that goes smoothly
	dampAfter     = 40   // iterations without success
	warmUntil     = 270  // iterations after which the temperatures are left alone
	enough        = 300  // iterations after which still flows suffice
)

// ErrNoConvergence says that the field was not found.
var ErrNoConvergence = errors.New("the cowl air flow did not converge")

// NewSolver returns a solver for the network, or the first fault of its layout.
func NewSolver(n *Network) (*Solver, error) {
	if err := n.Check(); err != nil {
		return nil, err
	}
	b, p := len(n.Branches), len(n.Places)+1
	s := &Solver{
		net: n, links: links(n.Branches),
		pressure: make([]float64, p), temperature: make([]float64, p), density: make([]float64, p),
		carry: make([]float64, p), behind: make([]float64, p), follow: make([]float64, p),
		in: make([][]int, p), out: make([][]int, p),
		matrix: make([]float64, p*p), change: make([]float64, p),
	}
	s.Field = Field{
		Flow: make([]float64, b), In: make([]float64, b), Out: make([]float64, b),
		Pressure: s.pressure[1:], Temperature: s.temperature[1:],
	}
	for j := range p {
		s.in[j], s.out[j] = make([]int, 0, b), make([]int, 0, b)
		if j > 0 {
			s.order = append(s.order, j)
		}
	}
	for i := range s.links {
		l := &s.links[i]
		s.returning = s.returning || l.returns() != 0
		if l.Core != nil || l.returns() != 0 {
			s.tempered = append(s.tempered, i)
		}
	}
	return s, nil
}

// Reset forgets the last field, so that the next solve depends on its
// arguments alone.
func (s *Solver) Reset() { s.warm = false }

// Solve finds flows, pressures and temperatures in the stream. heater may be
// nil for unheated air. The method is Newton's on the branch flows, with a
// line search on the energy of the flow, while the temperatures follow by
// substitution.
func (s *Solver) Solve(st *Stream, heater Heater) error {
	s.meet(st)
	if s.warm {
		if err := s.iterate(st, heater); err == nil {
			return nil
		}
	}
	s.warm = false
	s.start(st)
	return s.iterate(st, heater)
}

// iterate improves the present field until the errors that are left are
// small. A warm solver has good flows and old temperatures, and brings these
// up to date first. The first step of a cold one, from flows that do not keep
// the mass of the places, cannot be searched along. Where air that grows
// warmer turns back, temperatures are damped, and where it puffs without end
// the mean field counts.
func (s *Solver) iterate(st *Stream, heater Heater) error {
	s.forget()
	if s.warm {
		s.unrated = true
		s.warmUp(st, heater, false)
	}
	for it := 1; it <= maxIterations; it++ {
		s.evaluate(st)
		if s.moved > searchAbove && (s.warm || it > 2) {
			s.retreat(st)
		}
		s.balance()
		s.advance(it)
		if damped := it > dampAfter; !damped || s.moved < steady && it < warmUntil {
			s.warmUp(st, heater, damped)
		}
		switch {
		case math.IsNaN(s.moved + s.left.density):
			return fmt.Errorf("%w: a flow is not a number", ErrNoConvergence)
		case it == 1 && s.warm && s.moved > farOff:
			return ErrNoConvergence
		case s.found(it), it == maxIterations && s.moved < looseEnough:
			s.settle(st, heater)
			s.Field.Iterations, s.warm = it, true
			return nil
		}
	}
	return fmt.Errorf("%w at %.1f m/s", ErrNoConvergence, st.Speed)
}

// forget drops what the last solve knew of the way to its end, but for the
// shares by which its densities took their distances back.
func (s *Solver) forget() {
	s.moved, s.lag = 0, 0
	clear(s.behind)
	if s.warm && s.Field.Iterations <= dampAfter {
		return
	}
	for j := range s.follow {
		s.follow[j] = 1
	}
}

// found reports whether the errors that are left after an iteration are small.
func (s *Solver) found(iteration int) bool {
	allowed := s.Tolerance
	if allowed == 0 {
		allowed = tolerance
	}
	if max(s.left.flow, lawWeight*s.left.law) >= allowed || s.left.density >= allowed && iteration <= enough {
		return false
	}
	s.Field.Residual = s.unbalanced()
	return s.Field.Residual < massError || iteration > enough
}

// remaining returns how much a distance that fell from last to now is yet to
// fall if it goes on like that, at most 100 times as much as now.
func remaining(last, now float64) float64 {
	if now >= last {
		return 100 * now
	}
	return now * min(100, now/(last-now))
}

// unbalanced returns the largest unbalanced flow of a place over the inflow.
func (s *Solver) unbalanced() float64 {
	clear(s.change)
	inflow, most := 0.0, 0.0
	for i, m := range s.Field.Flow {
		l := &s.links[i]
		s.change[l.from] -= m
		s.change[l.to] += m
		if l.from == 0 || l.to == 0 {
			inflow += 0.5 * math.Abs(m)
		}
	}
	for _, r := range s.change[1:] {
		most = max(most, math.Abs(r))
	}
	return most / max(inflow, leastInflow)
}
