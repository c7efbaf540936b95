package scenarios_test

import (
	"math"
	"testing"

	"hotclimb/sim"
	"hotclimb/sim/exchanger"
)

// nearly checks two numbers to a relative tolerance.
func nearly(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	if !(math.Abs(got-want) <= rel*math.Abs(want)) {
		t.Errorf("%s is %.9g, want %.9g", what, got, want)
	}
}

// TestSettledBalance writes the balances of a settled cruise down once more,
// from what the trajectory shows and what the plant is made of: liquid flow,
// contact with the metal, and every core in the air it gets.
func TestSettledBalance(t *testing.T) {
	for _, file := range builtIns {
		m := cruising(t, file)
		p := plantOf(t, file, "cruise", open...)
		at := func(name string) float64 { return channel(t, m.result, name)[0] }
		hot, cold := at("coolant_out_degC"), at("coolant_in_degC")

		mean := 0.5 * (hot + cold)
		sigma := p.Weather.Day.At(at("altitude_m")).Density / 1.225
		ratio := p.Engine.Speed(at("power_W"), sigma) / p.Engine.RatedSpeed
		liquid := exchanger.Stream{
			Flow: ratio * p.Coolant.PumpFlow * p.Coolant.Liquid.Density(mean), Temperature: hot,
			HeatCapacity: p.Coolant.Liquid.HeatCapacity(mean),
		}
		carried := liquid.Flow * liquid.HeatCapacity * (hot - cold)
		nearly(t, file+": contact", carried/(at("metal_degC")-hot), p.Metal.ToCoolant.At(ratio), 1e-6)
		plate := 0.0
		for _, e := range p.Exchangers {
			if e.Branch == sim.NoBranch {
				plate += at(e.Name + "_heat_W")
			}
		}
		nearly(t, file+": heat carried by the coolant", carried+plate, at("heat_from_coolant_W"), 1e-6)

		for _, e := range p.Exchangers {
			if e.Oil || e.Branch == sim.NoBranch {
				continue
			}
			own := liquid
			own.Flow *= e.Share
			k, _ := e.Core.Heat(exchanger.AirStream(at(e.Name+"_air_kg_s"), at("outside_degC")), own)
			nearly(t, file+": heat of "+e.Name, at(e.Name+"_heat_W"), k*(hot-at("outside_degC")), 1e-6)
		}
	}
}

// TestFilledCircuits: both legs of a circuit hold its whole volume, and cores
// side by side share the flow so that their drops are equal.
func TestFilledCircuits(t *testing.T) {
	p := plantOf(t, "tug", "hot_tow", "coolant.volume=8 L", "coolant.hot_share=0.3")
	c := p.Coolant
	whole := 8e-3 * c.Liquid.Density(85) * c.Liquid.HeatCapacity(85)
	nearly(t, "whole circuit", c.HotCapacity+c.ColdCapacity, whole, 1e-12)
	nearly(t, "hot leg", c.HotCapacity, 0.3*whole, 1e-12)

	shares := func(s ...string) (radiator, auxiliary float64) {
		p := plantOf(t, "tug", "hot_tow", s...)
		for _, e := range p.Exchangers {
			switch e.Name {
			case "radiator":
				radiator = e.Share
			case "auxiliary":
				auxiliary = e.Share
			}
		}
		return radiator, auxiliary
	}
	r, a := shares() // 3 psi at 120 and at 25 L/min
	nearly(t, "ratio", r/a, 120./25, 1e-9)
	r, a = shares("exchangers.auxiliary.liquid_drop=6 psi")
	nearly(t, "ratio at twice the drop", r/a, 120./25*math.Pow(2, 1/1.75), 1e-9)
	nearly(t, "sum", r+a, 1, 1e-12)
}
