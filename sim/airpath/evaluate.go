package airpath

import (
	"math"

	"hotclimb/sim/fluid"
)

// offer is what the stream holds for one branch during a solve.
type offer struct {
	open  bool
	total float64 // inlet: q0 + k_p·T/A; exit: the pressure outside [Pa]
	speed float64 // inlet: of the local stream [m/s]
	full  float64 // inlet: flow of full recovery [kg/s]
	area  float64 // exit, gap: Cd·A [m²]
}

// meet notes what the stream holds for each branch.
func (s *Solver) meet(st *Stream) {
	s.density[0] = st.Density
	s.scale = leastScale + math.Abs(st.ram()) + math.Abs(st.DiscRise)
	for i := range s.net.Branches {
		b, o := &s.net.Branches[i], &s.offer[i]
		o.open = !b.closed()
		switch {
		case b.Inlet != nil:
			o.total = st.total(b.Inlet.Slipstream)
			o.speed = math.Sqrt(2 * o.total / st.Density)
			o.full = st.Density * b.Inlet.Area * o.speed * b.Inlet.FullRatio
		case b.Exit != nil:
			o.total = b.Exit.outsidePressure(st)
			o.area = b.Exit.Area * b.Exit.Discharge
		case b.Gap != nil:
			o.area = b.Gap.Area * b.Gap.Discharge
		}
	}
}

const (
	leastSlope = 1e-4 // of a law where its own is less [Pa s/kg]; bends the path, not the solution
	startFlow  = 0.05 // at which the resistance of a branch is judged [kg/s]
	leastScale = 0.1  // of the pressures, at no speed [Pa]
)

// start sets the field of a cold solver: on every branch the flow that the
// pressure of the stream would drive through it alone.
func (s *Solver) start(st *Stream) {
	f := &s.Field
	for i := range f.Temperature {
		f.Pressure[i], f.Temperature[i], s.density[i+1] = 0, st.Temperature, st.Density
	}
	for i := range f.Flow {
		s.airDensity[i] = st.Density
		f.In[i], f.Out[i], f.Flow[i], s.step[i] = st.Temperature, st.Temperature, 0, 0
		if s.offer[i].open {
			drop, _, _ := s.law(i, startFlow, st)
			f.Flow[i] = startFlow * min(1e3, math.Sqrt(s.scale/max(drop, 1e-9)))
		}
	}
}

// evaluate fills off and conductance of every branch at its flow.
func (s *Solver) evaluate(st *Stream) {
	for i := range s.offer {
		if !s.offer[i].open {
			s.off[i], s.conductance[i] = 0, 0
			continue
		}
		drop, drive, slope := s.law(i, s.Field.Flow[i], st)
		s.off[i] = s.across(s.Field.Pressure, i) + drive - drop
		s.conductance[i] = 1 / max(slope, leastSlope)
	}
}

// law returns drop, drive and the derivative of their difference for branch i
// at a flow. Of the warmth of the air it sees the densities alone: where these
// are damped they differ from the temperatures, and a law must not change when
// only the temperatures do.
func (s *Solver) law(i int, flow float64, st *Stream) (drop, drive, slope float64) {
	b, o := &s.net.Branches[i], &s.offer[i]
	from, _ := b.way(flow)
	rho := s.density[from+1]
	switch {
	case b.Core != nil:
		mu := fluid.AirViscosity(0.5 * (st.warmth(rho) + st.warmth(s.airDensity[i])))
		drop, slope = b.Core.drop(flow, rho, s.airDensity[i], mu)
	case b.Exit != nil:
		drop, slope = orifice(flow, rho, o.area)
		drive = (st.Density-s.density[b.From+1])*gravity*b.Exit.Rise - o.total
	case b.Inlet != nil:
		if flow > 0 {
			rho = s.airDensity[i]
		}
		var lift float64
		drop, slope = b.Inlet.drop(flow, rho, o.speed)
		drive, lift = b.Inlet.drive(flow, o.total, o.full)
		slope -= lift
	default:
		drop, slope = orifice(flow, rho, o.area)
	}
	return drop, drive, slope
}
