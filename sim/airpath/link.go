package airpath

import "math"

// link is a branch during a solve. Its ends count the places from 1; 0 is the
// outside air.
type link struct {
	*Branch
	from, to int
	open     bool
	area     float64 // exit, gap: Cd·A [m²]

	// What the stream holds for it.
	total float64 // inlet: q0 + k_p·T/A; exit: the pressure outside [Pa]
	speed float64 // inlet: of the local stream [m/s]
	full  float64 // inlet: flow of full recovery; others: 0 [kg/s]

	density     float64 // of what leaves a core or enters an inlet [kg/m³]
	mixed       float64 // temperature that the place behind has last taken it at [°C]
	off         float64 // p_from − p_to + drive − drop, 0 when solved [Pa]
	conductance float64 // dṁ/dΔp [kg/(s Pa)]
	step        float64 // last change of the flow [kg/s]
}

// links returns those of the branches.
func links(branches []Branch) []link {
	list := make([]link, len(branches))
	for i := range branches {
		b := &branches[i]
		l := link{Branch: b, from: b.From + 1, to: b.To + 1, open: !b.closed()}
		switch {
		case b.Exit != nil:
			l.area = b.Exit.Area * b.Exit.Discharge
		case b.Gap != nil:
			l.area = b.Gap.Area * b.Gap.Discharge
		}
		list[i] = l
	}
	return list
}

// way returns where the air of a flow comes from and where it goes to.
func (l *link) way(flow float64) (from, into int) {
	if flow < 0 {
		return l.to, l.from
	}
	return l.from, l.to
}

// returns is the share of exit air in what the link takes from outside [-].
func (l *link) returns() float64 {
	if l.Inlet == nil {
		return 0
	}
	return l.Inlet.DrawsBack
}

// meet notes what the stream holds for each branch.
func (s *Solver) meet(st *Stream) {
	s.density[0], s.scale = st.Density, leastScale
	for i := range s.links {
		l := &s.links[i]
		switch {
		case l.Inlet != nil:
			l.total = st.total(l.Inlet.Slipstream)
			l.speed = math.Sqrt(2 * l.total / st.Density)
			l.full = st.Density * l.Inlet.Area * l.speed * l.Inlet.FullRatio
			if l.Inlet.DrawsBack == 0 {
				l.density = st.Density
			}
		case l.Exit != nil:
			l.total = l.Exit.outsidePressure(st)
		}
		if l.open {
			s.scale = max(s.scale, math.Abs(l.total))
		}
	}
}
