package airpath

import (
	"math"

	"hotclimb/sim/fluid"
)

const (
	leastSlope = 1e-4 // of a law where its own is less [Pa s/kg]; bends the path, not the solution
	startFlow  = 0.05 // at which the resistance of a branch is judged [kg/s]
	leastScale = 0.1  // of the pressures, at no speed [Pa]
)

// start sets the field of a cold solver: on every branch the flow that the
// pressure of the stream would drive through it alone.
func (s *Solver) start(st *Stream) {
	f := &s.Field
	s.turned = true
	for k := range s.order {
		s.order[k] = k + 1
	}
	for i := range f.Temperature {
		f.Pressure[i], f.Temperature[i], s.density[i+1] = 0, st.Temperature, st.Density
	}
	for i := range s.links {
		l := &s.links[i]
		l.density, l.step = st.Density, 0
		f.In[i], f.Out[i], f.Flow[i] = st.Temperature, st.Temperature, 0
		if l.open {
			drop, _, _ := s.law(l, startFlow, st)
			f.Flow[i] = startFlow * min(1e3, math.Sqrt(s.scale/max(drop, 1e-9)))
		}
	}
}

// evaluate fills off and conductance of every open branch at its flow.
func (s *Solver) evaluate(st *Stream) {
	flow := s.Field.Flow
	for i := range s.links {
		l := &s.links[i]
		if !l.open {
			continue
		}
		drop, drive, slope := s.law(l, flow[i], st)
		l.off = s.pressure[l.from] - s.pressure[l.to] + drive - drop
		l.conductance = 1 / max(slope, leastSlope)
	}
}

// law returns drop, drive and the derivative of their difference for a branch
// at a flow. Of the warmth of the air it sees the densities alone: where these
// are damped they differ from the temperatures, and a law must not change when
// only the temperatures do.
func (s *Solver) law(l *link, flow float64, st *Stream) (drop, drive, slope float64) {
	from, _ := l.way(flow)
	rho := s.density[from]
	switch {
	case l.Core != nil:
		mu := fluid.AirViscosity(0.5 * (st.warmth(rho) + st.warmth(l.density)))
		drop, slope = l.Core.drop(flow, rho, l.density, mu)
	case l.Exit != nil:
		drop, slope = orifice(flow, rho, l.area)
		drive = (st.Density-s.density[l.from])*gravity*l.Exit.Rise - l.total
	case l.Inlet != nil:
		if flow > 0 {
			rho = l.density
		}
		var lift float64
		drop, slope = l.Inlet.drop(flow, rho, l.speed)
		drive, lift = l.Inlet.drive(flow, l.total, l.full)
		slope -= lift
	default:
		drop, slope = orifice(flow, rho, l.area)
	}
	return drop, drive, slope
}
