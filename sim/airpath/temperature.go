package airpath

import "math"

// temperatures carries the heat of the cores along the present flows and
// returns the largest change over 100 K. A place mixes what flows in, takes
// heat from its wall and source, and loses some through its skin:
//
//	T = (Σ ṁ_in·cp·T_in + UA_wall·T_wall + UA_skin·T_0 + Q) / (Σ ṁ_in·cp + UA_wall + UA_skin)
func (s *Solver) temperatures(st *Stream, heater Heater) float64 {
	f := &s.Field
	change := 0.0
	returned := s.exitMix(st)
	for i := range s.net.Branches {
		b := &s.net.Branches[i]
		t := st.Temperature
		if up := s.upstream(i); up != Outside {
			t = f.Temperature[up]
		} else if b.Inlet != nil {
			t += b.Inlet.DrawsBack * (returned - t)
		}
		change = math.Max(change, math.Abs(t-f.In[i]))
		f.In[i] = t
		if b.Core == nil || heater == nil {
			f.Out[i] = t
		}
	}
	if heater != nil {
		heater.Outlets(f.Flow, f.In, f.Out)
	}
	for j := range s.net.Places {
		t := s.mix(j, st)
		change = math.Max(change, math.Abs(t-f.Temperature[j]))
		f.Temperature[j] = t
	}
	return change / 100
}

// mix returns the temperature of place j [°C].
func (s *Solver) mix(j int, st *Stream) float64 {
	p, f := &s.net.Places[j], &s.Field
	gain := p.WallUA*p.WallTemp + p.SkinUA*st.Temperature + p.Source
	flow := p.WallUA + p.SkinUA
	for i := range s.net.Branches {
		b, m := &s.net.Branches[i], f.Flow[i]
		if b.From == j {
			m = -m
		} else if b.To != j {
			continue
		}
		if m > 0 {
			gain += m * HeatCapacity * f.Out[i]
			flow += m * HeatCapacity
		}
	}
	if flow <= 0 {
		return st.Temperature
	}
	return gain / flow
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
		out += s.net.Places[j].SkinUA * (f.Temperature[j] - st.Temperature)
	}
	return out
}
