package sim

// AirState is the air of the cowl at one moment.
type AirState struct {
	Places   []PlaceState  // as Plant.Air.Places
	Branches []BranchState // as Plant.Air.Branches
}

// PlaceState is the air that stands in one place of the cowl.
type PlaceState struct {
	Name        string
	Pressure    float64 // above the outside air [Pa]
	Temperature float64 // [°C]
	Heat        float64 // into its air from the bay and the metal of the engine [W]
	Skin        float64 // through its skin to the outside air [W]
}

// BranchState is the air on its way through one branch. In and Out follow the
// air: with the flow reversed, In is at To.
type BranchState struct {
	Name     string
	From, To int     // place numbers, or airpath.Outside
	Flow     float64 // from From to To; negative: backwards [kg/s]
	In, Out  float64 // of its air, entering and leaving [°C]
}

// airState returns the air of the cowl at the evaluated state.
func (m *model) airState(y []float64) AirState {
	f := &m.air.Field
	state := AirState{make([]PlaceState, len(m.net.Places)), make([]BranchState, len(m.net.Branches))}
	for j := range m.net.Places {
		p, t := &m.net.Places[j], f.Temperature[j]
		state.Places[j] = PlaceState{
			Name: p.Name, Pressure: f.Pressure[j], Temperature: t,
			Heat: p.Source + p.WallUA*(y[metal]-t), Skin: p.SkinUA * (t - m.atmosphere.Temperature),
		}
	}
	for i := range m.net.Branches {
		b := &m.net.Branches[i]
		state.Branches[i] = BranchState{Name: b.Name, From: b.From, To: b.To, Flow: f.Flow[i], In: f.In[i], Out: f.Out[i]}
	}
	return state
}

// given returns the heat of the engine [W]: all of it but what leaves the
// metal past the cowl, and what goes from it into coolant and oil.
func (m *model) given(y []float64) (engine, intoCoolant, intoOil float64) {
	engine = m.heat.Coolant + m.heat.Oil
	for j := range m.net.Places {
		engine += m.net.Places[j].Source
	}
	intoCoolant = m.flows[coolant].contact * (y[metal] - y[coolantHot])
	intoOil = m.heat.Oil + m.flows[oil].contact*(y[metal]-y[oilHot])
	return engine, intoCoolant, intoOil
}
