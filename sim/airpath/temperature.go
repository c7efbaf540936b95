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

// temperatures carries the heat of the cores along the present flows and
// returns the largest change of the heat that a place carries, over their sum.
func (s *Solver) temperatures(st *Stream, heater Heater) float64 {
	f := &s.Field
	s.entering(st)
	if heater != nil {
		heater.Outlets(f.Flow, f.In, f.Out)
	} else {
		copy(f.Out, f.In)
	}
	s.gather(st)
	const least = 1e-3 // rise that counts as none [K]
	change, carried := 0.0, 0.0
	for j := range s.net.Places {
		t := s.mix(j, st)
		change = max(change, s.carry[j]*math.Abs(t-f.Temperature[j]))
		carried += s.carry[j] * (math.Abs(t-st.Temperature) + least)
		f.Temperature[j] = t
	}
	return change / carried
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
		b, into := &s.net.Branches[i], s.net.Branches[i].To
		if s.Field.Flow[i] < 0 {
			into = b.From
		}
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

// settle carries the heat along flows that stay as they are, around the loop
// of exit air drawn back.
func (s *Solver) settle(st *Stream, heater Heater) {
	for range 100 {
		if s.temperatures(st, heater) < tolerance {
			return
		}
	}
}

// entering sets the temperatures at which air enters the branches, and leaves
// those that do not heat it. Inlets mix in the exit air that they draw back.
func (s *Solver) entering(st *Stream) {
	f := &s.Field
	returned := st.Temperature
	if s.recirculates {
		returned = s.exitMix(st)
	}
	for i := range s.net.Branches {
		b := &s.net.Branches[i]
		from := b.From
		if f.Flow[i] < 0 {
			from = b.To
		}
		t := st.Temperature
		if from != Outside {
			t = f.Temperature[from]
		} else if b.Inlet != nil {
			t += b.Inlet.DrawsBack * (returned - t)
		}
		f.In[i] = t
		if b.Core == nil {
			f.Out[i] = t
		}
	}
}

// gather sums the heat above the outside temperature and the capacity of the
// air that flows into each place.
func (s *Solver) gather(st *Stream) {
	f := &s.Field
	clear(s.heat)
	clear(s.carry)
	for i := range s.net.Branches {
		b, m := &s.net.Branches[i], f.Flow[i]
		into := b.To
		if m < 0 {
			m, into = -m, b.From
		}
		if into != Outside {
			s.carry[into] += m * HeatCapacity
			s.heat[into] += m * HeatCapacity * (f.Out[i] - st.Temperature)
		}
	}
}

// mix returns the temperature of place j [°C] and completes what it carries.
// A place mixes what flows in, takes heat from its wall and source, and loses
// some through its skin:
//
//	T − T_0 = [Σ ṁ_in·cp·(T_in − T_0) + UA_wall·(T_wall − T_0) + Q] / (Σ ṁ_in·cp + UA_wall + UA_skin)
func (s *Solver) mix(j int, st *Stream) float64 {
	p := &s.net.Places[j]
	s.carry[j] += p.WallUA + p.SkinUA + leastSkin
	heat := s.heat[j] + p.WallUA*(p.WallTemp-st.Temperature) + p.Source
	return min(max(st.Temperature+heat/s.carry[j], coldest), hottest)
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
