package sim

import "hotclimb/sim/atmos"

// channels lists what a trajectory holds, time first.
func channels(p *Plant) []channel {
	list := []channel{
		{"time_s", "s", "time since the start", func(_ *model, t float64, _ []float64) float64 { return t }},
		{"altitude_m", "m", "pressure altitude", entry(altitude)},
		{"outside_degC", "°C", "outside air", func(m *model, _ float64, _ []float64) float64 { return m.atmosphere.Temperature }},
		{"coolant_out_degC", "°C", "coolant leaving the engine", entry(coolantHot)},
		{"coolant_in_degC", "°C", "coolant entering the engine", entry(coolantCold)},
		{"oil_sump_degC", "°C", "oil in the sump", entry(oilHot)},
		{"oil_in_degC", "°C", "oil returning to the engine", entry(oilCold)},
		{"metal_degC", "°C", "metal of the engine", entry(metal)},
		{"boil_degC", "°C", "boiling point of the coolant", func(m *model, _ float64, y []float64) float64 {
			t, _ := m.Coolant.Liquid.BoilingPoint(atmos.StandardPressure(y[altitude]) + m.Coolant.CapPressure)
			return t
		}},
		{"true_airspeed_m_s", "m/s", "true airspeed", func(m *model, _ float64, _ []float64) float64 { return m.tas }},
		{"rate_of_climb_m_s", "m/s", "rate of climb", func(m *model, _ float64, _ []float64) float64 { return m.climb }},
		{"power_W", "W", "engine power", func(m *model, _ float64, _ []float64) float64 { return m.power }},
		{"heat_to_metal_W", "W", "engine heat into the coolant jackets", func(m *model, _ float64, _ []float64) float64 { return m.heat.Coolant }},
		{"heat_to_oil_W", "W", "engine heat made in the oil", func(m *model, _ float64, _ []float64) float64 { return m.heat.Oil }},
		{"heat_from_coolant_W", "W", "heat out of the coolant", func(m *model, _ float64, _ []float64) float64 { return m.removed(false) }},
		{"heat_from_oil_W", "W", "heat out of the oil", func(m *model, _ float64, _ []float64) float64 { return m.removed(true) }},
		{"cooling_drag_N", "N", "cooling drag", func(m *model, _ float64, _ []float64) float64 { return m.coolingDrag().Total() }},
		{"coolant_thermostat", "-", "opening of the coolant thermostat", entry(coolantOpen)},
		{"oil_thermostat", "-", "opening of the oil cooler thermostat", entry(oilOpen)},
		{"spray_water_kg", "kg", "spray water left", entry(water)},
	}
	for i, e := range p.Exchangers {
		list = append(list, channel{e.Name + "_heat_W", "W", "heat out of " + e.Name,
			func(m *model, _ float64, _ []float64) float64 { return m.cores[i].Q }})
	}
	for i, b := range p.Air.Branches {
		list = append(list, channel{b.Name + "_air_kg_s", "kg/s", "air through " + b.Name,
			func(m *model, _ float64, _ []float64) float64 { return m.air.Field.Flow[i] }})
	}
	for j, place := range p.Air.Places {
		list = append(list,
			channel{place.Name + "_Pa", "Pa", "pressure in " + place.Name + " above the outside air",
				func(m *model, _ float64, _ []float64) float64 { return m.air.Field.Pressure[j] }},
			channel{place.Name + "_degC", "°C", "air in " + place.Name,
				func(m *model, _ float64, _ []float64) float64 { return m.air.Field.Temperature[j] }})
	}
	for i := range p.Vents {
		v := &p.Vents[i]
		list = append(list, channel{v.Name + "_vent_degC", "°C", "air taken in by cabin vent " + v.Name,
			func(m *model, _ float64, _ []float64) float64 { return m.vent(v) }})
	}
	return list
}

// entry reads one entry of the state.
func entry(i int) func(*model, float64, []float64) float64 {
	return func(_ *model, _ float64, y []float64) float64 { return y[i] }
}
