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
	Residual    float64   // largest unbalanced mass flow of a place over the total inflow [-]
	Iterations  int
}

// Solver finds the field of one network. It starts each solve from the last
// one, allocates nothing while solving, and is not for concurrent use.
type Solver struct {
	net   *Network
	Field Field

	open         []bool
	drop, drive  []float64
	conductance  []float64
	step         []float64
	matrix, side []float64
	warm         bool
}

const (
	tolerance     = 1e-9 // of the flows, on their sum [-]
	looseEnough   = 1e-6 // accepted when the iterations end without tolerance
	maxIterations = 200
	startFlow     = 0.05 // of every branch at the first solve [kg/s]
	leastFlow     = 1e-6 // sum of flows below which nothing moves [kg/s]
	searchAbove   = 0.02 // steps smaller than this are in the quadratic range [-]
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
		net: n, open: make([]bool, b),
		drop: make([]float64, b), drive: make([]float64, b),
		conductance: make([]float64, b), step: make([]float64, b),
		matrix: make([]float64, p*p), side: make([]float64, p),
		Field: Field{
			Flow: make([]float64, b), In: make([]float64, b), Out: make([]float64, b),
			Pressure: make([]float64, p), Temperature: make([]float64, p),
		},
	}
	return s, nil
}

// Reset forgets the last field, so that the next solve depends on its
// arguments alone.
func (s *Solver) Reset() { s.warm = false }

// Solve finds flows, pressures and temperatures in the stream. heater may be
// nil for unheated air. The method is Newton's on the branch flows, with a
// line search on the convex energy of the flow, while the temperatures follow
// by substitution.
func (s *Solver) Solve(st *Stream, heater Heater) error {
	if !s.warm {
		s.start(st)
	}
	for it := 1; it <= maxIterations; it++ {
		warmed := s.temperatures(st, heater)
		moved, err := s.newton(st, s.warm || it > 1)
		if err != nil {
			s.warm = false
			return err
		}
		if math.Max(moved, warmed) < tolerance {
			return s.finish(it)
		}
		if it == maxIterations && math.Max(moved, warmed) < looseEnough {
			return s.finish(it)
		}
	}
	s.warm = false
	return fmt.Errorf("%w at %.1f m/s", ErrNoConvergence, st.Speed)
}

// start sets the field of a cold solver.
func (s *Solver) start(st *Stream) {
	f := &s.Field
	for i := range s.net.Branches {
		b := &s.net.Branches[i]
		s.open[i] = !b.closed()
		f.Flow[i] = 0
		if s.open[i] {
			f.Flow[i] = startFlow
		}
		f.In[i], f.Out[i] = st.Temperature, st.Temperature
	}
	for j := range f.Temperature {
		f.Pressure[j], f.Temperature[j] = 0, st.Temperature
	}
}

// finish records how well the places keep their mass.
func (s *Solver) finish(iterations int) error {
	f := &s.Field
	f.Iterations, s.warm = iterations, true
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
		f.Residual = math.Max(f.Residual, math.Abs(r)/math.Max(inflow, 1e-9))
	}
	return nil
}

// upstream returns the place that branch i draws from.
func (s *Solver) upstream(i int) int {
	if s.Field.Flow[i] < 0 {
		return s.net.Branches[i].To
	}
	return s.net.Branches[i].From
}

func density(pressure, gauge, temperature float64) float64 {
	return (pressure + gauge) / (gasConstant * (temperature + kelvin))
}

// evaluate fills drop, drive and conductance of every open branch at its flow.
func (s *Solver) evaluate(st *Stream) {
	f := &s.Field
	for i := range s.net.Branches {
		if !s.open[i] {
			s.conductance[i] = 0
			continue
		}
		drop, drive, slope := s.law(i, f.Flow[i], st)
		s.drop[i], s.drive[i] = drop, drive
		s.conductance[i] = 1 / math.Max(slope, leastSlope)
	}
}

// leastSlope keeps the conductance of a branch without flow finite
// [Pa s/kg]. It bends the path to the solution, not the solution.
const leastSlope = 1e-3

// law returns drop, drive and the derivative of their difference for branch i
// at a flow.
func (s *Solver) law(i int, flow float64, st *Stream) (drop, drive, slope float64) {
	b, f := &s.net.Branches[i], &s.Field
	rhoIn := density(st.Pressure, 0, f.In[i])
	switch {
	case b.Inlet != nil:
		var lift float64
		drop, slope = b.Inlet.drop(flow, rhoIn, st)
		drive, lift = b.Inlet.drive(flow, st)
		if slope > lift {
			slope -= lift
		}
	case b.Core != nil:
		rhoOut := density(st.Pressure, 0, f.Out[i])
		drop, slope = b.Core.drop(flow, rhoIn, rhoOut, st.Viscosity)
	case b.Exit != nil:
		drop, slope = orifice(flow, rhoIn, b.Exit.Area*b.Exit.Discharge)
		drive = -b.Exit.outsidePressure(st) +
			(st.Density-density(st.Pressure, 0, f.Temperature[b.From]))*gravity*b.Exit.Rise
	default:
		drop, slope = orifice(flow, rhoIn, b.Gap.Area*b.Gap.Discharge)
	}
	return drop, drive, slope
}

// newton takes one step of the flows and returns its size over their sum.
// The first step of a cold solver, from flows that do not keep the mass of the
// places, is not balanced and cannot be searched along.
func (s *Solver) newton(st *Stream, balanced bool) (float64, error) {
	s.evaluate(st)
	if err := s.pressures(); err != nil {
		return 0, err
	}
	f := &s.Field
	descent, moved, total := 0.0, 0.0, 0.0
	for i := range s.net.Branches {
		if !s.open[i] {
			continue
		}
		push := s.drive[i] - s.drop[i]
		s.step[i] = s.conductance[i] * (s.across(i) + push)
		descent -= push * s.step[i]
		moved = math.Max(moved, math.Abs(s.step[i]))
		total += math.Abs(f.Flow[i])
	}
	moved /= math.Max(total, leastFlow)
	if math.IsNaN(moved) || math.IsNaN(total) {
		return 0, fmt.Errorf("%w: a flow is not a number", ErrNoConvergence)
	}
	if balanced && moved > searchAbove {
		s.search(st, descent)
		return moved, nil
	}
	for i := range f.Flow {
		f.Flow[i] += s.step[i]
	}
	return moved, nil
}

// across returns p_from − p_to of branch i.
func (s *Solver) across(i int) float64 {
	b, d := &s.net.Branches[i], 0.0
	if b.From != Outside {
		d += s.Field.Pressure[b.From]
	}
	if b.To != Outside {
		d -= s.Field.Pressure[b.To]
	}
	return d
}

// search moves the flows along the step. The flows of a step keep the mass of
// every place, so the energy E of the flow falls along it with
// dE/dθ = Σ (drop − drive)·step, and the pressures drop out; where the whole
// step overshoots the minimum, θ is cut back towards it.
func (s *Solver) search(st *Stream, start float64) {
	f := &s.Field
	theta, taken := 1.0, 0.0
	for range 12 {
		end := 0.0
		for i := range f.Flow {
			f.Flow[i] += (theta - taken) * s.step[i]
			if s.open[i] && theta > 0 {
				drop, drive, _ := s.law(i, f.Flow[i], st)
				end += (drop - drive) * s.step[i]
			}
		}
		taken = theta
		if start >= 0 || end <= 0.5*math.Abs(start) || math.Abs(end) < 1e-9 {
			break
		}
		theta *= math.Max(0.1, start/(start-end))
	}
}
