package exchanger

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"hotclimb/sim/fluid"
)

// TestSprayTable: spray_checks.csv (computed with the model of Spray.Evaporate).
// The column rh_out holds the degree of saturation W/W_s, not the relative
// humidity p_w/p_ws that Evaporation returns: dry air at 69.94 °C and W
// 0.010539 has p_w/p_ws = 1688/31120 Pa = 5.4 %, and W/W_s = 3.8 %. The two are
// equal at 0 and at saturation.
func TestSprayTable(t *testing.T) {
	for _, r := range table(t, "spray_checks") {
		x := func(column string) float64 { return r.number(t, column) }
		s := Spray{x("m_water"), x("t_water"), x("phi"), x("eta_a"), 1, 1}
		e := s.Evaporate(MoistAir{x("m_air"), x("t1"), x("rh1"), x("p")}, x("t_surface"), x("ntu"))
		p := x("p")
		wOut := fluid.HumidityRatio(e.OutletTemperature, e.OutletHumidity, p)
		saturation := wOut / fluid.SaturatedHumidityRatio(e.OutletTemperature, p)
		for _, c := range []struct {
			column     string
			value, tol float64
		}{
			{"m_a_gs", e.InFlight * 1e3, 5e-5}, {"t2", e.CoreTemperature, 5e-4}, {"q_s_dry", e.DryHeat, 0.05},
			{"q_s", e.Sensible, 0.05}, {"q_lat", e.Latent, 0.05}, {"evap_gs", e.Evaporated * 1e3, 5e-5},
			{"extra", e.Extra(), 0.05}, {"t_out", e.OutletTemperature, 5e-4}, {"rh_out", saturation, 5e-5},
		} {
			near(t, r["case"]+" "+c.column, c.value, x(c.column), c.tol*1.01) // half the last place listed
		}
		if e.Limit.String() != r["limit"] {
			t.Errorf("%s: limit %v, want %s", r["case"], e.Limit, r["limit"])
		}
		near(t, r["case"]+" run-off", e.RunOff, x("m_water")-e.Evaporated, 1e-18)
	}
}

// TestAdiabaticCeiling: dw_sat of moist_air_checks.csv, water at 20 °C.
func TestAdiabaticCeiling(t *testing.T) {
	for _, r := range table(t, "moist_air_checks") {
		air := MoistAir{1, r.number(t, "t_c"), r.number(t, "rh"), 101325}
		w1 := fluid.HumidityRatio(air.Temperature, air.Humidity, air.Pressure)
		got := Spray{Temperature: 20}.adiabaticSaturation(air, w1) - w1
		near(t, "ΔW at "+r["t_c"]+" °C, "+r["rh"], got, r.number(t, "dw_sat"), 6e-7)
	}
}

// TestWaterMagnitude: 1 L/min of water at 25 °C evaporated at 85 °C takes
// 42.4 kW; h of moist air at 30 °C, W 0.02 is 81 316 J/kg (ASHRAE Handbook –
// Fundamentals 2017, chapter 1).
func TestWaterMagnitude(t *testing.T) {
	s := Spray{Water: 0.0166, Temperature: 25, Landed: 1, Wetted: 1, OutletHumidity: 1}
	e := s.Evaporate(MoistAir{2, 35, 0.3, 101325}, 85, 1.2)
	near(t, "latent heat", e.Latent, 42.4e3, 50)
	near(t, "temperature of enthalpy", temperatureOf(81316, 0.02), 30, 0.02)
}

// TestSprayLimits meets every limit.
func TestSprayLimits(t *testing.T) {
	air := MoistAir{0.9, 35, 0.3, 101325}
	for limit, c := range map[SprayLimit]struct {
		s       Spray
		surface float64
	}{
		NoSpray:             {NewSpray(0, 25), 85},
		WaterLimit:          {NewSpray(0.01, 25), 85},
		AdiabaticLimit:      {Spray{0.02, 25, 0, 1, 1, 1}, 85},
		SurfaceLimit:        {Spray{0.05, 25, 1, 0, 0.1, 1}, 60},
		OutletHumidityLimit: {Spray{0.5, 25, 1, 0, 1, 1}, 60},
	} {
		e := c.s.Evaporate(air, c.surface, 1.2)
		if e.Limit != limit {
			t.Errorf("limit %v, want %v", e.Limit, limit)
		}
		if limit == OutletHumidityLimit {
			near(t, "outlet humidity", e.OutletHumidity, 1, 1e-9)
		}
	}
	if got := SprayLimit(-1).String(); got != "unknown limit" {
		t.Errorf("unknown limit is called %q", got)
	}
}

// TestMassTransfer works the surface limit out by hand, with the Lewis number
// 0.87: ṁ_a(1 − e^{−f_wet·N/Le^{2/3}})(W_s(T_s) − W2).
func TestMassTransfer(t *testing.T) {
	e := Spray{0.05, 25, 1, 0, 0.3, 1}.Evaporate(MoistAir{0.9, 35, 0.3, 101325}, 60, 1.2)
	drive := fluid.SaturatedHumidityRatio(60, 101325) - fluid.HumidityRatio(35, 0.3, 101325)
	nearRel(t, "evaporated", e.Evaporated, 0.9*(1-math.Exp(-0.3*1.2/math.Pow(0.87, 2.0/3)))*drive, 1e-10)
	if e.Limit != SurfaceLimit {
		t.Errorf("limit %v", e.Limit)
	}
}

// drawSpray and drawAir draw wide inputs.
func drawSpray(t *rapid.T) Spray {
	return Spray{
		Water:       rapid.Float64Range(0, 0.3).Draw(t, "water"),
		Temperature: rapid.Float64Range(1, 60).Draw(t, "t water"),
		Landed:      rapid.Float64Range(0, 1).Draw(t, "landed"), InFlight: rapid.Float64Range(0, 1).Draw(t, "in flight"),
		Wetted: rapid.Float64Range(0, 1).Draw(t, "wetted"), OutletHumidity: rapid.Float64Range(0.3, 1).Draw(t, "cap"),
	}
}

func drawAir(t *rapid.T) MoistAir {
	return MoistAir{
		Flow:        rapid.Float64Range(0.01, 3).Draw(t, "air"),
		Temperature: rapid.Float64Range(-40, 60).Draw(t, "t air"), Humidity: rapid.Float64Range(0, 1).Draw(t, "rh"),
		Pressure: rapid.Float64Range(4e4, 1.05e5).Draw(t, "p"),
	}
}

// TestSprayIdentity: ṁ_a(h4 − h1) = Q_s + Q_lat + (m_A + m_ev)·c_w·T_w for any
// input, and the water adds up.
func TestSprayIdentity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, air := drawSpray(t), drawAir(t)
		e := s.Evaporate(air, rapid.Float64Range(-40, 150).Draw(t, "surface"), rapid.Float64Range(0, 5).Draw(t, "ntu"))
		w1 := fluid.HumidityRatio(air.Temperature, air.Humidity, air.Pressure)
		h1 := fluid.MoistEnthalpy(air.Temperature, w1)
		h4 := fluid.MoistEnthalpy(e.OutletTemperature, w1+e.Evaporated/air.Flow)
		left, right := air.Flow*(h4-h1), e.Sensible+e.Latent+e.Evaporated*4186*s.Temperature
		scale := air.Flow*(math.Abs(h4)+math.Abs(h1)) + math.Abs(e.Sensible) + math.Abs(e.Latent)
		if !(math.Abs(left-right) <= 1e-12*scale) {
			t.Fatalf("enthalpy rises by %.12g W, heat and water bring %.12g", left, right)
		}
		if !(e.Evaporated >= 0 && e.RunOff >= -1e-15 && e.InFlight >= 0) {
			t.Fatalf("water: %+v", e)
		}
	})
}

// TestSprayContinuous: no water is the dry core; every result changes steadily
// with the water flow, across all limits.
func TestSprayContinuous(t *testing.T) {
	air := MoistAir{0.9, 35, 0.3, 101325}
	last := NewSpray(0, 25).Evaporate(air, 85, 1.2)
	near(t, "dry", last.Extra(), 0, 0)
	for water := 1e-4; water < 0.3; water += 1e-4 {
		e := NewSpray(water, 25).Evaporate(air, 85, 1.2)
		// 0.1 g/s takes at most 260 W
		if d := e.Extra() - last.Extra(); d < -1e-6 || d > 260 {
			t.Fatalf("extra heat jumps by %g W at %g kg/s", d, water)
		}
		last = e
	}
}

// TestWetDry: without water, and in the limit of little, Wet is Heat; with no
// temperature difference it is finite.
func TestWetDry(t *testing.T) {
	for name, c := range map[string]*Core{"fins": radiator(t), "rated": ratedCore(t, rated())} {
		for _, tl := range []float64{20, 35, 60, 95, 130} {
			air, liquid := MoistAir{0.6, 35, 0.3, 101325}, Stream{1, tl, 3600}
			k, _ := c.Heat(AirStream(0.6, 35), liquid)
			dry, little := c.Wet(NewSpray(0, 25), air, liquid), c.Wet(NewSpray(1e-9, 25), air, liquid)
			near(t, fmt.Sprintf("%s dry at %g °C", name, tl), dry.Heat, k*(tl-35), 1e-6)
			near(t, "dry heat", dry.DryHeat, k*(tl-35), 1e-9)
			near(t, fmt.Sprintf("%s, 1 μg/s at %g °C", name, tl), little.Heat, k*(tl-35), 5e-3)
			w := fluid.HumidityRatio(35, 0.3, 101325)
			near(t, "dry outlet", dry.OutletTemperature, 35+dry.Heat/(0.6*(1006+1860*w)), 1e-8)
		}
	}
}

// TestWetCloses: heat, water and air close for any input; nothing is NaN; the
// surface lies between liquid and wet-bulb temperatures; water only ever helps
// a hot core.
func TestWetCloses(t *testing.T) {
	cores := []*Core{radiator(t), ratedCore(t, rated())}
	rapid.Check(t, func(t *rapid.T) {
		c := cores[rapid.IntRange(0, 1).Draw(t, "core")]
		s, air := drawSpray(t), drawAir(t)
		liquid := Stream{rapid.Float64Range(0, 2).Draw(t, "liquid"), rapid.Float64Range(-40, 150).Draw(t, "t liquid"), 3600}
		r := c.Wet(s, air, liquid)
		w1 := fluid.HumidityRatio(air.Temperature, air.Humidity, air.Pressure)
		h1 := fluid.MoistEnthalpy(air.Temperature, w1)
		h4 := fluid.MoistEnthalpy(r.OutletTemperature, w1+r.Evaporated/air.Flow)
		scale := air.Flow*(math.Abs(h1)+math.Abs(h4)) + math.Abs(r.Heat)
		if d := air.Flow*(h4-h1) - r.Heat - r.Evaporated*4186*s.Temperature; !(math.Abs(d) <= 1e-11*scale) {
			t.Fatalf("enthalpy is %g W off: %+v", d, r)
		}
		if math.Abs(r.Evaporated+r.RunOff-s.Water) > 1e-15 || r.Evaporated < 0 {
			t.Fatalf("water does not add up: %+v", r)
		}
		if r.SurfaceTemperature > math.Max(liquid.Temperature, air.Temperature)+1e-9 {
			t.Fatalf("surface at %g °C", r.SurfaceTemperature)
		}
		if s.Temperature < air.Temperature && r.Heat < r.DryHeat-1e-6*scale {
			t.Fatalf("water costs heat: %+v", r)
		}
	})
}

// TestWetSurface solves the coupling by hand: at the returned surface
// temperature the lumped model takes what the liquid feeds.
func TestWetSurface(t *testing.T) {
	c := ratedCore(t, rated())
	air, liquid, s := MoistAir{0.6, 35, 0.3, 101325}, Stream{1, 95, 3600}, NewSpray(0.01, 25)
	r := c.Wet(s, air, liquid)
	hAir, hLiquid := c.Air.At(0.6, 0), c.Liquid.At(1, 0)
	e := s.Evaporate(air, r.SurfaceTemperature, hAir/(0.6*1006))
	q := e.Sensible + e.Latent
	nearRel(t, "feed", hLiquid*(95-q/(2*3600)-r.SurfaceTemperature), q, 1e-9)
	dry := c.Wet(NewSpray(0, 25), air, liquid)
	lumped := NewSpray(0, 25).Evaporate(air, dry.SurfaceTemperature, hAir/(0.6*1006)).Sensible
	nearRel(t, "gain", r.Heat/r.DryHeat, q/lumped, 1e-9)
	t.Logf("dry: ε-NTU %.0f W, lumped %.0f W; wet %.0f W", dry.Heat, lumped, r.Heat)
	if math.Abs(lumped/dry.Heat-1) > 0.06 {
		t.Errorf("lumped dry heat %g W against %g W", lumped, dry.Heat)
	}
}

// TestWetZeroFlow: no air passes no heat; no liquid passes none either, though
// the air still takes up water.
func TestWetZeroFlow(t *testing.T) {
	for _, c := range []*Core{radiator(t), ratedCore(t, rated())} {
		still := c.Wet(NewSpray(0.01, 25), MoistAir{0, 35, 0.3, 101325}, Stream{1, 95, 3600})
		if still.Heat != 0 || still.RunOff != 0.01 || still.OutletTemperature != 35 || still.SurfaceTemperature != 95 {
			t.Errorf("no air: %+v", still)
		}
		dead := c.Wet(NewSpray(0.001, 25), MoistAir{0.6, 35, 0.3, 101325}, Stream{0, 95, 3600})
		if dead.Heat != 0 || dead.DryHeat != 0 || !(dead.Evaporated > 0) || !(dead.OutletTemperature < 35) {
			t.Errorf("no liquid: %+v", dead)
		}
		none := NewSpray(0.01, 25).Evaporate(MoistAir{0, 35, 0.3, 101325}, 85, 1.2)
		if none.Evaporated != 0 || none.RunOff != 0.01 {
			t.Errorf("no air: %+v", none)
		}
	}
}
