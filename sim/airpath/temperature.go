package airpath

import "math"

// Bounds of the temperature of a place. A place whose source finds neither
// flow nor skin stays at the upper one.
const (
	hottest = 1500.0 // [°C]
	coldest = -150.0 // [°C]

	// leastSkin [W/K] is the conductance of any skin at least. It decides the
	// temperature of places without flow and takes some milliwatts elsewhere.
	leastSkin = 1e-4
)

// Carry brings the temperatures of places and branches into balance with the
// present flows, walls, sources and heater. It leaves flows, pressures and
// densities as they are.
func (s *Solver) Carry(st *Stream, heater Heater) {
	s.unrated = true
	s.settle(st, heater)
}

// settle carries the heat until nothing changes any more.
func (s *Solver) settle(st *Stream, heater Heater) {
	const rounding = 1e-13 // of the heat carried [-]
	for range 200 {
		if s.temperatures(st, heater) < rounding {
			return
		}
	}
}

// temperatures carries the heat of the cores along the present flows and
// returns the largest change of the heat that a place carries, over their sum.
// It visits the places in the order of their pressures, which is the way of
// the air, so that one pass is exact where no exit air is drawn back.
func (s *Solver) temperatures(st *Stream, heater Heater) float64 {
	const least = 1e-3 // rise that counts as none [K]
	f := &s.Field
	s.sort()
	s.enter(st)
	change, carried := 0.0, 0.0
	for _, j := range s.order {
		t := s.mix(j, st, heater)
		change = max(change, s.carry[j]*math.Abs(t-f.Temperature[j]))
		carried += s.carry[j] * (math.Abs(t-st.Temperature) + least)
		f.Temperature[j] = t
		s.leave(j, t)
	}
	s.rate(heater)
	return change / carried
}

// sort puts the places in the order of their pressures, highest first.
func (s *Solver) sort() {
	p, order := s.Field.Pressure, s.order
	for k := 1; k < len(order); k++ {
		for i := k; i > 0 && p[order[i]] > p[order[i-1]]; i-- {
			order[i], order[i-1] = order[i-1], order[i]
		}
	}
}

// enter sets the temperature at which outside air enters the branches. Inlets
// mix in the exit air that they draw back.
func (s *Solver) enter(st *Stream) {
	returned := st.Temperature
	if s.recirculates {
		returned = s.exitMix(st)
	}
	for i := range s.net.Branches {
		b := &s.net.Branches[i]
		if from, _ := b.way(s.Field.Flow[i]); from != Outside {
			continue
		}
		t := st.Temperature
		if b.Inlet != nil {
			t += b.Inlet.DrawsBack * (returned - t)
		}
		s.fill(i, t)
	}
}

// leave sends air of temperature t out of place j.
func (s *Solver) leave(j int, t float64) {
	for _, i := range s.ends[j] {
		if from, _ := s.net.Branches[i].way(s.Field.Flow[i]); from == j {
			s.fill(i, t)
		}
	}
}

// fill lets air of temperature t into branch i. Only a core changes it.
func (s *Solver) fill(i int, t float64) {
	f := &s.Field
	switch {
	case s.net.Branches[i].Core == nil:
		f.Out[i] = t
	case f.In[i] != t:
		s.unrated = true
	}
	f.In[i] = t
}

// rate lets the heater warm the air of the cores, unless it has for the
// present flows and temperatures.
func (s *Solver) rate(heater Heater) {
	switch {
	case !s.unrated:
	case heater == nil:
		copy(s.Field.Out, s.Field.In)
	default:
		heater.Outlets(s.Field.Flow, s.Field.In, s.Field.Out)
	}
	s.unrated = false
}

// densities lets the densities of the places follow their temperatures, where
// damped by less, see [Solver.relax], otherwise see [Solver.extrapolate], and
// returns how far they were behind. A place that carries little counts as well:
// its density drives its branches like any other.
func (s *Solver) densities(st *Stream, damped bool) float64 {
	behind, carried := 0.0, 0.0
	for _, c := range s.carry {
		carried += c
	}
	for j, t := range s.Field.Temperature {
		off := st.density(t) - s.density[j+1]
		behind = max(behind, (s.carry[j]+carried)*math.Abs(off))
		if damped {
			s.relax(j, off)
		} else {
			s.extrapolate(j, off)
		}
		s.behind[j] = off
		s.density[j+1] += s.follow[j] * off
	}
	for i := range s.net.Branches {
		b := &s.net.Branches[i]
		_, into := b.way(s.Field.Flow[i])
		follow := 1.0
		if into != Outside {
			follow = s.follow[into]
		}
		switch {
		case b.Core != nil:
			s.airDensity[i] += follow * (st.density(s.Field.Out[i]) - s.airDensity[i])
		case b.Inlet != nil && b.Inlet.DrawsBack != 0:
			s.airDensity[i] += follow * (st.density(s.Field.In[i]) - s.airDensity[i])
		case b.Inlet != nil:
			s.airDensity[i] = st.Density
		}
	}
	return behind / (st.Density * carried)
}

// extrapolate sets the share of its distance off by which the density of place
// j moves to the secant of the last two distances: a few percent less than
// all, because more flow is cooler flow.
func (s *Solver) extrapolate(j int, off float64) {
	if fall := s.behind[j] - off; fall != 0 && s.behind[j] != 0 {
		s.follow[j] = min(max(s.follow[j]*s.behind[j]/fall, 0.8), 1.2)
	}
}

// relax sets the share of its distance off by which the density of place j
// moves: half the last after it went too far, and a little more after it did
// not. Where buoyancy works against the flow, warmer air turns the flow, which
// cools the air, and substitution alone goes round in circles.
func (s *Solver) relax(j int, off float64) {
	if s.behind[j]*off < 0 {
		s.follow[j] *= 0.5
	} else {
		s.follow[j] = min(1, 1.1*s.follow[j])
	}
}

// mix returns the temperature of place j [°C] and notes what it carries. A
// place mixes what flows in, takes heat from its wall and source, and loses
// some through its skin:
//
//	T − T_0 = [Σ ṁ_in·cp·(T_in − T_0) + UA_wall·(T_wall − T_0) + Q] / (Σ ṁ_in·cp + UA_wall + UA_skin)
func (s *Solver) mix(j int, st *Stream, heater Heater) float64 {
	p := &s.net.Places[j]
	carry := p.WallUA + p.SkinUA + leastSkin
	heat := p.WallUA*(p.WallTemp-st.Temperature) + p.Source
	for _, i := range s.ends[j] {
		b, m := &s.net.Branches[i], s.Field.Flow[i]
		if b.From == j {
			m = -m
		}
		if m <= 0 {
			continue
		}
		if b.Core != nil {
			s.rate(heater)
		}
		carry += m * HeatCapacity
		heat += m * HeatCapacity * (s.Field.Out[i] - st.Temperature)
	}
	s.carry[j] = carry
	return min(max(st.Temperature+heat/carry, coldest), hottest)
}

// exitMix returns the mean temperature of the air that leaves through exits.
func (s *Solver) exitMix(st *Stream) float64 {
	flow, heat := 0.0, 0.0
	for i := range s.net.Branches {
		if m := s.Field.Flow[i]; s.net.Branches[i].Exit != nil && m > 0 {
			flow += m
			heat += m * s.Field.Temperature[s.net.Branches[i].From]
		}
	}
	if flow <= 0 {
		return st.Temperature
	}
	return heat / flow
}

// HeatOut returns the heat [W] that the cowl air carries away, counted at the
// boundary: air leaving less air entering, above the outside temperature, and
// the loss through the skins.
func (s *Solver) HeatOut(st *Stream) float64 {
	f, out := &s.Field, 0.0
	for i := range s.net.Branches {
		b, m := &s.net.Branches[i], f.Flow[i]
		switch {
		case b.From != Outside && b.To != Outside:
			continue
		case b.From == Outside:
			m = -m
		}
		t := f.Out[i]
		if m < 0 {
			t = f.In[i]
		}
		out += m * HeatCapacity * (t - st.Temperature)
	}
	for j := range s.net.Places {
		out += (s.net.Places[j].SkinUA + leastSkin) * (f.Temperature[j] - st.Temperature)
	}
	return out
}
