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

	leastBehind = 1e-5 // distance of a density that tells how it moves [-]
)

// Carry brings the temperatures of places and branches into balance with the
// present flows, walls, sources and heater. It leaves flows, pressures and
// densities as they are.
func (s *Solver) Carry(st *Stream, heater Heater) {
	s.unrated, s.again = true, true
	s.settle(st, heater)
}

// settle carries the heat until it is in balance.
func (s *Solver) settle(st *Stream, heater Heater) {
	const rounding = 1e-10 // [K]
	for range 200 {
		if !s.again || s.temperatures(st, heater) < rounding {
			return
		}
	}
}

// warmUp lets temperatures and densities follow the present flows.
func (s *Solver) warmUp(st *Stream, heater Heater, damped bool) {
	s.temperatures(st, heater)
	s.densities(st, damped)
}

// temperatures carries the heat of the cores along the present flows and
// returns the largest change of the temperature of a place [K]. It visits the
// places in the order of their pressures, which is the way of the air, so that
// one pass is enough unless exit air is drawn back, or a core gives its air
// another warmth once the place behind it has mixed: where the liquid brings heat
// from a core further back.
func (s *Solver) temperatures(st *Stream, heater Heater) (change float64) {
	s.again, s.temperature[0] = s.returning, st.Temperature
	s.direct()
	s.leave(0)
	for _, j := range s.order {
		t := s.mix(j, heater)
		change = max(change, math.Abs(t-s.temperature[j]))
		s.temperature[j] = t
		s.leave(j)
	}
	s.rate(heater)
	s.again = s.again || s.outdated()
	return change
}

// outdated reports whether a place has mixed other air than its cores now give.
func (s *Solver) outdated() bool {
	for _, i := range s.tempered {
		l, flow := &s.links[i], s.Field.Flow[i]
		if _, into := l.way(flow); l.Core != nil && into != 0 && s.Field.Out[i] != l.mixed {
			return true
		}
	}
	return false
}

// direct puts the places in the order of their pressures, highest first, and
// the branches with the places that they bring air to and take it from.
func (s *Solver) direct() {
	p, order := s.pressure, s.order
	for k := 1; k < len(order); k++ {
		for i := k; i > 0 && p[order[i]] > p[order[i-1]]; i-- {
			order[i], order[i-1] = order[i-1], order[i]
		}
	}
	if !s.turned {
		return
	}
	s.turned = false
	for j := range s.in {
		s.in[j], s.out[j] = s.in[j][:0], s.out[j][:0]
	}
	for i := range s.links {
		from, into := s.links[i].way(s.Field.Flow[i])
		s.out[from], s.in[into] = append(s.out[from], i), append(s.in[into], i)
	}
}

// mix returns the temperature of place j [°C] and notes what it carries. A
// place mixes what flows in, takes heat from its wall and source, and loses
// some through its skin:
//
//	T − T_0 = [Σ ṁ_in·cp·(T_in − T_0) + UA_wall·(T_wall − T_0) + Q] / (Σ ṁ_in·cp + UA_wall + UA_skin)
func (s *Solver) mix(j int, heater Heater) float64 {
	f, p, outside := &s.Field, &s.net.Places[j-1], s.temperature[0]
	heat := p.WallUA*(p.WallTemp-outside) + p.Source
	carry := p.WallUA + p.SkinUA + leastSkin
	for _, i := range s.in[j] {
		if s.links[i].Core != nil {
			s.rate(heater)
		}
		s.links[i].mixed = f.Out[i]
		c := math.Abs(f.Flow[i]) * HeatCapacity
		carry += c
		heat += c * (f.Out[i] - outside)
	}
	s.carry[j] = carry
	return min(max(outside+heat/carry, coldest), hottest)
}

// leave lets the air of place j, or that from outside, into the branches that
// take it. Only cores change it on the way; inlets mix in the exit air that
// they draw back.
func (s *Solver) leave(j int) {
	f, t := &s.Field, s.temperature[j]
	returned := t
	if j == 0 && s.returning {
		returned = s.exitMix()
	}
	for _, i := range s.out[j] {
		l, in := &s.links[i], t
		if j == 0 {
			in += l.returns() * (returned - t)
		} else if into := l.from + l.to - j; into != 0 && s.pressure[into] >= s.pressure[j] {
			s.again = true // that place was before this one
		}
		switch {
		case l.Core == nil:
			f.Out[i] = in
		case f.In[i] != in:
			s.unrated = true
		}
		f.In[i] = in
	}
}

// rate lets the heater warm the air of the cores, unless it has for the
// present flows and temperatures.
func (s *Solver) rate(heater Heater) {
	f := &s.Field
	switch {
	case !s.unrated:
	case heater == nil:
		copy(f.Out, f.In)
	default:
		heater.Outlets(f.Flow, f.In, f.Out)
	}
	s.unrated = false
}

// densities lets the densities of the places follow their temperatures, where
// damped by less, see [Solver.relax], otherwise see [Solver.extrapolate], those
// in the branches with the place that these lead to, and notes how far all were
// behind. A place that carries little counts as well: its density drives its
// branches like any other.
func (s *Solver) densities(st *Stream, damped bool) {
	behind, carried := 0.0, 0.0
	for _, c := range s.carry[1:] {
		carried += c
	}
	for j := 1; j < len(s.density); j++ {
		off := st.density(s.temperature[j]) - s.density[j]
		behind = max(behind, (s.carry[j]+carried)*math.Abs(off))
		if damped {
			s.relax(j, off)
		} else {
			s.extrapolate(j, off)
		}
		s.behind[j] = off
		s.density[j] += s.follow[j] * off
	}
	worst := 0.0
	for _, i := range s.tempered {
		l, flow := &s.links[i], s.Field.Flow[i]
		off := st.density(s.Field.Out[i]) - l.density
		worst = max(worst, math.Abs(off))
		behind = max(behind, math.Abs(flow*off)*HeatCapacity)
		_, into := l.way(flow)
		l.density += s.follow[into] * off
	}
	last := s.lag
	s.lag = behind / (st.Density * carried)
	s.left.density = s.lag + remaining(last, s.lag)
	s.left.law = max(s.left.law, worst/st.Density)
}

// extrapolate sets the share of its distance off by which the density of place
// j moves to the secant of the last two distances: a few percent less than
// all, because more flow is cooler flow.
func (s *Solver) extrapolate(j int, off float64) {
	if fall := s.behind[j] - off; math.Abs(s.behind[j]) > leastBehind*s.density[0] {
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

// exitMix returns the mean temperature of the air that leaves through exits,
// that outside where none does.
func (s *Solver) exitMix() float64 {
	const least = 1e-9 // flow that counts as none [kg/s]
	outside := s.temperature[0]
	flow, heat := least, 0.0
	for i := range s.links {
		if l, m := &s.links[i], s.Field.Flow[i]; l.Exit != nil && m > 0 {
			flow += m
			heat += m * (s.temperature[l.from] - outside)
		}
	}
	return outside + heat/flow
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
