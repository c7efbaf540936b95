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
	net   *Network
	Field Field

	worst float64 // error of a law before step [Pa]

	offer       []offer   // per branch
	scale       float64   // of the pressures [Pa]
	off         []float64 // p_from − p_to + drive − drop per branch, 0 when solved [Pa]
	conductance []float64 // dṁ/dΔp per branch [kg/(s Pa)], 0 where closed
	step        []float64 // last change of the flows [kg/s]
	descent     float64   // fall of the energy of the flow along step, at its start [Pa kg/s]

	density      []float64 // of the outside air, then per place [kg/m³]
	airDensity   []float64 // per branch: of what leaves a core or enters an inlet [kg/m³]
	carry        []float64 // per place: conductance of all that sets its temperature [W/K]
	order        []int     // of the places by their pressures, highest first
	ends         [][]int   // per place: the branches that end there
	unrated      bool      // the heater has not seen the present flows and temperatures
	behind       []float64 // per place: last distance of the density from balance [kg/m³]
	follow       []float64 // per place: share of it that is taken back when damped [-]
	recirculates bool      // an inlet draws exit air back

	matrix, side []float64
	warm         bool
}

const (
	tolerance   = 1e-9 // of the flows, on their sum, and of the heat carried [-]
	looseEnough = 1e-5 // of the flows when the iterations end [-]
	lawError    = 1e-7 // of the laws, on the pressure of the stream [-]
	leastFlow   = 1e-6 // sum of flows below which nothing moves [kg/s]
	leastInflow = 1e-3 // on which the unbalanced flow is counted [kg/s]
	searchAbove = 1e-5 // steps smaller than this are in the quadratic range [-]
	farOff      = 1.0  // a first step larger than this starts from scratch [-]
	steady      = 1e-4 // flows that let the damped temperatures take a step [-]

	maxIterations = 3000 // near the stall of an inlet the way is long
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
	b, p := len(n.Branches), len(n.Places)
	s := &Solver{
		net: n, offer: make([]offer, b),
		off: make([]float64, b), conductance: make([]float64, b), step: make([]float64, b),
		density: make([]float64, p+1), carry: make([]float64, p),
		order: make([]int, p), ends: make([][]int, p),
		airDensity: make([]float64, b),
		behind:     make([]float64, p), follow: make([]float64, p),
		matrix: make([]float64, p*p), side: make([]float64, p),
		Field: Field{
			Flow: make([]float64, b), In: make([]float64, b), Out: make([]float64, b),
			Pressure: make([]float64, p), Temperature: make([]float64, p),
		},
	}
	for j := range s.order {
		s.order[j] = j
	}
	for i, b := range n.Branches {
		s.recirculates = s.recirculates || b.Inlet != nil && b.Inlet.DrawsBack != 0
		for _, j := range []int{b.From, b.To} {
			if j != Outside {
				s.ends[j] = append(s.ends[j], i)
			}
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

// iterate improves the present field until nothing moves. The first step of a
// cold solver, from flows that do not keep the mass of the places, cannot be
// searched along. Where air that grows warmer turns back, temperatures are
// damped, and where it puffs without end the mean field counts.
func (s *Solver) iterate(st *Stream, heater Heater) error {
	for j := range s.follow {
		s.follow[j], s.behind[j] = 1, 0
	}
	moved, warmed := 0.0, 0.0
	for it := 1; it <= maxIterations; it++ {
		s.evaluate(st)
		if moved > searchAbove && (s.warm || it > 2) {
			s.retreat(st)
		}
		s.balance()
		moved = s.advance()
		damped := it > dampAfter
		if !damped || moved < steady && it < warmUntil {
			s.unrated = true
			warmed = max(s.temperatures(st, heater), s.densities(st, damped))
		}
		still := moved < tolerance && s.worst < lawError*s.scale
		switch {
		case math.IsNaN(moved + warmed):
			return fmt.Errorf("%w: a flow is not a number", ErrNoConvergence)
		case it == 1 && s.warm && moved > farOff:
			return ErrNoConvergence
		case still && (warmed < tolerance || it > enough), it == maxIterations && moved < looseEnough:
			s.finish(st, heater, it)
			return nil
		}
	}
	return fmt.Errorf("%w at %.1f m/s", ErrNoConvergence, st.Speed)
}

// finish brings the temperatures of the branches up to date and records how
// well the places keep their mass.
func (s *Solver) finish(st *Stream, heater Heater, iterations int) {
	f := &s.Field
	f.Iterations, s.warm = iterations, true
	if iterations > dampAfter {
		s.settle(st, heater)
	}
	clear(s.side)
	inflow := 0.0
	for i := range s.net.Branches {
		b := &s.net.Branches[i]
		if b.From != Outside {
			s.side[b.From] -= f.Flow[i]
		}
		if b.To != Outside {
			s.side[b.To] += f.Flow[i]
		}
		if b.From == Outside || b.To == Outside {
			inflow += 0.5 * math.Abs(f.Flow[i])
		}
	}
	f.Residual = 0
	for _, r := range s.side {
		f.Residual = max(f.Residual, math.Abs(r)/max(inflow, leastInflow))
	}
}

// advance takes the step that balance has found and returns the largest change
// of a flow over their sum.
func (s *Solver) advance() float64 {
	f := &s.Field
	moved, total := 0.0, leastFlow
	s.descent, s.worst = 0, 0
	for i, g := range s.conductance {
		if g == 0 {
			continue
		}
		s.worst = max(s.worst, math.Abs(s.off[i]))
		off := s.off[i] + s.across(s.side, i)
		s.step[i] = g * off
		s.descent += g * off * off
		total += math.Abs(f.Flow[i])
		moved = max(moved, math.Abs(s.step[i]))
		f.Flow[i] += s.step[i]
	}
	for j, change := range s.side {
		f.Pressure[j] += change
	}
	return moved / total
}

// across returns p_from − p_to of branch i from the pressures p of the places.
func (s *Solver) across(p []float64, i int) float64 {
	b, d := &s.net.Branches[i], 0.0
	if b.From != Outside {
		d = p[b.From]
	}
	if b.To != Outside {
		d -= p[b.To]
	}
	return d
}

// retreat goes back along the last step where it went too far. A step keeps
// the mass of every place, so the energy E of the flow falls along it with
// dE/dθ = Σ (drop − drive)·step, and the pressures drop out; where the step
// overshoots the minimum, θ is cut back towards it.
func (s *Solver) retreat(st *Stream) {
	theta := 1.0
	for range 12 {
		rise := 0.0
		for i, off := range s.off {
			rise -= off * s.step[i]
		}
		if rise <= 0.5*s.descent {
			return
		}
		shorter := theta * max(0.1, s.descent/(s.descent+rise))
		for i := range s.step {
			s.Field.Flow[i] -= (theta - shorter) * s.step[i]
		}
		theta = shorter
		s.evaluate(st)
	}
}
