package engine

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

const (
	horsepower = 745.69987    // W
	pound      = 0.45359237   // kg
	btu        = 1055.05585   // J
	btuMinute  = btu / 60     // W
	poundHour  = pound / 3600 // kg/s
)

// TestRotaryRule: builders' arithmetic (common practice, no source). 200 hp at
// 0.55 lb/(hp h) and 19 000 Btu/lb; a quarter of the fuel goes into coolant and
// oil, two thirds of it into the coolant. Within 0.5 %.
func TestRotaryRule(t *testing.T) {
	const consumption, heating = 0.55 * poundHour / horsepower, 19000 * btu / pound
	e := Engine{
		RatedPower: 200 * horsepower, FuelConsumption: consumption, PartLoadExponent: 0.75, IdleFuel: 0.08,
		HeatToCoolant: RatioFromFuel(0.25*2/3, consumption, heating),
		HeatToOil:     RatioFromFuel(0.25/3, consumption, heating),
	}
	h := e.Heat(e.RatedPower)
	near(t, "fuel in Btu/min", h.Fuel*heating/btuMinute, 34833, 0.005*34833)
	near(t, "coolant in Btu/min", h.Coolant/btuMinute, 5805, 0.005*5805)
	near(t, "oil in Btu/min", h.Oil/btuMinute, 2902, 0.005*2902)

	// The same rule as ratios, computed apart from this program.
	near(t, "coolant over power", e.HeatToCoolant, 0.684, 0.001)
	near(t, "oil over power", e.HeatToOil, 0.342, 0.001)
	near(t, "consumption in g/kWh", consumption*3.6e9, 334.6, 0.1)
	near(t, "brake efficiency", 1/RatioFromFuel(1, consumption, heating), 0.2435, 1e-4)
}

// TestDefaultRatios: at rated power, whatever the part-load law, the heat is
// the tabled ratio of the power.
func TestDefaultRatios(t *testing.T) {
	for _, r := range ratioTable(t) {
		e := Engine{RatedPower: 90e3, HeatToCoolant: r.coolant, PartLoadExponent: 0.75, IdleFuel: 0.08}
		near(t, r.engine+": coolant", e.Heat(90e3).Coolant/90e3, r.coolant, 1e-12)
		if !math.IsNaN(r.oil) {
			e.HeatToOil = r.oil
			near(t, r.engine+": oil", e.Heat(90e3).Oil/90e3, r.oil, 1e-12)
		}
	}
}

// TestReferenceEngine: light-aircraft engine manual, 84.5 kW with liquid heads:
// 30 kW into the coolant and 9 kW into the oil. The table gives them as ratios of
// three digits, so it must return them within half of its last digit. What a
// whole plant makes of this engine is a test of scenarios.
func TestReferenceEngine(t *testing.T) {
	r := ratioTable(t)[1]
	const power, rounding = 84.5e3, 0.0005
	e := Engine{RatedPower: power, PartLoadExponent: 0.75, IdleFuel: 0.08, HeatToCoolant: r.coolant, HeatToOil: r.oil}
	h := e.Heat(power)
	near(t, "coolant", h.Coolant, 30e3, rounding*power)
	near(t, "oil", h.Oil, 9e3, rounding*power)
}

// TestPartLoad: Q = Q_r·(i + (1 − i)·P/P_r)^n by hand.
func TestPartLoad(t *testing.T) {
	e := Engine{
		RatedPower: 100e3, FuelConsumption: 8e-8, PartLoadExponent: 0.75, IdleFuel: 0.1,
		HeatToCoolant: 0.75, HeatToOil: 0.1, HeatToBay: 0.05,
	}
	half := e.Heat(50e3)
	near(t, "fuel at half power", half.Fuel, 0.55*8e-3, 1e-12)
	near(t, "coolant at half power", half.Coolant, 75e3*math.Pow(0.55, 0.75), 1e-8)
	near(t, "oil at half power", half.Oil, 10e3*math.Pow(0.55, 0.75), 1e-8)
	near(t, "bay at half power", half.Bay, 5e3*math.Pow(0.55, 0.75), 1e-8)
	idle := e.Heat(0)
	near(t, "coolant at idle", idle.Coolant, 75e3*math.Pow(0.1, 0.75), 1e-8)
	if windmill := e.Heat(-1e3); windmill != idle {
		t.Errorf("below no power %v, at no power %v", windmill, idle)
	}
	if cold := (&Engine{RatedPower: 1, PartLoadExponent: 0.75, HeatToCoolant: 1}).Heat(0); cold != (Heat{}) {
		t.Errorf("no fuel makes %v", cold)
	}
}

// TestHeatIsMonotone: no NaN; heat and fuel grow with power, and the heat over
// the power falls (its exponent is below 1).
func TestHeatIsMonotone(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		e := Engine{
			RatedPower: rapid.Float64Range(5e3, 1e6).Draw(rt, "P_r"), FuelConsumption: 8e-8,
			HeatToCoolant: 0.7, HeatToOil: 0.1, HeatToBay: 0.05,
			PartLoadExponent: rapid.Float64Range(0.3, 1).Draw(rt, "n"),
			IdleFuel:         rapid.Float64Range(0, 0.4).Draw(rt, "i"),
		}
		share := rapid.Float64Range(0.01, 1.2).Draw(rt, "P/P_r")
		more := share + rapid.Float64Range(0.001, 0.5).Draw(rt, "step")
		a, b := e.Heat(share*e.RatedPower), e.Heat(more*e.RatedPower)
		if !(b.Coolant > a.Coolant && b.Oil > a.Oil && b.Bay > a.Bay && b.Fuel > a.Fuel) {
			rt.Fatalf("%v at %g, %v at %g", a, share, b, more)
		}
		if b.Coolant/more > a.Coolant/share*(1+1e-12) {
			rt.Fatalf("heat over power rises with power from %g to %g", a.Coolant/share, b.Coolant/more)
		}
	})
}
