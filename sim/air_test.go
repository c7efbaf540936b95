package sim_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sim/airpath"
	"hotclimb/sim/atmos"
	"hotclimb/sim/flight"
	"hotclimb/sim/fluid"
)

// airs are flights whose air of the least margin is checked: every built-in
// aircraft, water on a core, air drawn back in, an exit so small that air goes
// backwards through a core, an engine at rest, and wind from behind.
func airs(t *testing.T) map[string]*sim.Plant {
	set := func(path, text string) scenarios.Setting { return scenarios.Setting{Path: path, Text: text} }
	rest := builtIn(t, "rotary", "hot_climb", set("exits.aft_ring.rise", "12 in"))
	rest.Legs = []flight.Leg{{Name: "parked", Kind: flight.ShutDown, Duration: 600}}
	return map[string]*sim.Plant{
		"tug":        builtIn(t, "tug", "hot_tow", set("engine.heat_to_bay", "6 %")),
		"rotary":     builtIn(t, "rotary", "hot_climb"),
		"seaplane":   builtIn(t, "seaplane", "water_taxi"),
		"spray":      builtIn(t, "tug", "hot_tow", set("spray.rate", "0.8 L/min")),
		"drawn back": builtIn(t, "seaplane", "hot_climb", set("inlets.nose_ring.draws_back", "0.2")),
		"backwards":  builtIn(t, "tug", "hot_tow", set("inlets.cheek_left.recovery", "0"), set("exits.belly.height", "4 in")),
		"parked":     rest,
		"tail wind":  builtIn(t, "tug", "hot_taxi", set("day.wind", "-30 mph")),
	}
}

func TestAirOfLeastMargin(t *testing.T) {
	for name, p := range airs(t) {
		t.Run(name, func(t *testing.T) {
			res := run(t, p, sim.Settings{})
			if len(res.Air.Places) != len(p.Air.Places) || len(res.Air.Branches) != len(p.Air.Branches) {
				t.Fatalf("%d places and %d branches", len(res.Air.Places), len(res.Air.Branches))
			}
			checkRam(t, res)
			checkMass(t, &res.Air)
			checkTemperatures(t, p, res)
			checkAirHeat(t, p, res)
			if res.Worst.Time > 0 {
				checkTrajectory(t, p, res)
			}
			back := slices.ContainsFunc(res.Air.Branches, func(b sim.BranchState) bool { return b.Flow < -1e-3 })
			if back != (name == "backwards" || name == "tail wind") {
				t.Errorf("air goes backwards: %v: %+v", back, res.Air.Branches)
			}
		})
	}
}

// checkRam: ½·ρ·V² of air of the standard pressure at that altitude, below 0 if
// it comes from behind.
func checkRam(t *testing.T, res *sim.Result) {
	w := &res.Worst
	density := atmos.StandardPressure(w.Altitude) / (fluid.AirGasConstant * (w.Outside + 273.15))
	near(t, "ram pressure", w.Ram, 0.5*density*w.TrueAirspeed*math.Abs(w.TrueAirspeed), 1e-9)
}

// checkMass: what flows into a place flows out of it.
func checkMass(t *testing.T, air *sim.AirState) {
	for j, place := range air.Places {
		in, out := 0.0, 0.0
		for _, b := range air.Branches {
			into := b.To == j && b.Flow > 0 || b.From == j && b.Flow < 0
			switch {
			case into:
				in += math.Abs(b.Flow)
			case b.To == j || b.From == j:
				out += math.Abs(b.Flow)
			}
		}
		near(t, "out of "+place.Name+" over into it", out/in, 1, 1e-8)
	}
}

// checkTemperatures: air leaves a place at its temperature, and is warmed only
// by cores, by the heat that these take out of their liquid unless they are wet.
func checkTemperatures(t *testing.T, p *sim.Plant, res *sim.Result) {
	for i, b := range res.Air.Branches {
		from := b.From
		if b.Flow < 0 {
			from = b.To
		}
		if from != airpath.Outside {
			near(t, "into "+b.Name, b.In, res.Air.Places[from].Temperature, 1e-9)
		} else if p.Air.Branches[i].Inlet == nil || p.Air.Branches[i].Inlet.DrawsBack == 0 {
			near(t, "into "+b.Name, b.In, res.Worst.Outside, 1e-9)
		}
		if p.Air.Branches[i].Core == nil {
			near(t, "through "+b.Name, b.Out, b.In, 0)
		}
	}
	for i, x := range p.Exchangers {
		if x.Branch == sim.NoBranch {
			continue
		}
		e, b := res.Exchangers[i], res.Air.Branches[x.Branch]
		if b.Name != x.Name || e.AirFlow != b.Flow || e.Reversed != (b.Flow < 0) {
			t.Errorf("%s: %+v and %+v", x.Name, e, b)
		}
		taken := math.Abs(b.Flow) * airpath.HeatCapacity * (b.Out - b.In)
		if wet := p.Spray != nil && p.Spray.Exchanger == i && p.Spray.Rate > 0; !wet {
			near(t, "heat into the air of "+x.Name, taken, e.Heat, 1e-6*e.Heat)
		} else if !(taken < 0.9*e.Heat) {
			t.Errorf("the spray of %s takes nothing: %g W of %g W in the air", x.Name, taken, e.Heat)
		}
	}
}

// leastSkin is the conductance that even a place without a skin has [W/K].
const leastSkin = 1e-4

// checkAirHeat: heat of cores, bay and metal leaves through openings and skins.
func checkAirHeat(t *testing.T, p *sim.Plant, res *sim.Result) {
	given, left := 0.0, 0.0
	for _, x := range p.Exchangers {
		if x.Branch != sim.NoBranch {
			b := res.Air.Branches[x.Branch]
			given += math.Abs(b.Flow) * airpath.HeatCapacity * (b.Out - b.In)
		}
	}
	for _, place := range res.Air.Places {
		given, left = given+place.Heat, left+place.Skin+leastSkin*(place.Temperature-res.Worst.Outside)
	}
	for _, b := range res.Air.Branches {
		out := b.To == airpath.Outside && b.Flow > 0 || b.From == airpath.Outside && b.Flow < 0
		heat := math.Abs(b.Flow) * airpath.HeatCapacity
		if out {
			left += heat * (b.Out - res.Worst.Outside)
		} else if b.To == airpath.Outside || b.From == airpath.Outside {
			left -= heat * (b.In - res.Worst.Outside)
		}
	}
	near(t, "heat out of the air over heat into it", left/given, 1, 1e-6)
}

// checkTrajectory: a trajectory with a sample at that moment says the same.
func checkTrajectory(t *testing.T, p *sim.Plant, res *sim.Result) {
	when := res.Worst.Time
	again, err := sim.Run(context.Background(), p, sim.Settings{Sample: when})
	if err != nil {
		t.Fatal(err)
	}
	// The recorder starts from the field of the sample before, the portrait anew.
	const flow, pressure, temperature = 1e-6, 1e-3, 1e-4 // [kg/s], [Pa], [K]
	for _, b := range res.Air.Branches {
		near(t, b.Name, at(t, again, b.Name+"_air_kg_s", when), b.Flow, flow)
	}
	for _, place := range res.Air.Places {
		near(t, place.Name, at(t, again, place.Name+"_Pa", when), place.Pressure, pressure)
		near(t, place.Name, at(t, again, place.Name+"_degC", when), place.Temperature, temperature)
	}
	for i, e := range res.Exchangers {
		near(t, e.Name, at(t, again, e.Name+"_heat_W", when), res.Exchangers[i].Heat, 1e-2)
	}
}

// TestHeatOfTheEngine: after long level flight coolant and oil give away what
// they take up, and all heat of the engine goes into them and the cowl air.
func TestHeatOfTheEngine(t *testing.T) {
	r := cowled()
	r.toBay = 20
	p := r.build(t)
	p.Start = sim.Start{Settled: true}
	res := run(t, p, tight(0))
	w, air := res.Worst, res.Air.Places[1].Heat
	near(t, "given off", w.EngineHeat, r.heat+r.oilHeat, 1e-6*r.heat)
	near(t, "taken up", (w.IntoCoolant+w.IntoOil+air)/w.EngineHeat, 1, 1e-6)
	plate := res.Exchangers[2].Heat
	near(t, "out of the coolant", (w.IntoCoolant+plate)/w.CoolantHeat, 1, 1e-6)
	near(t, "out of the oil", w.IntoOil/w.OilHeat, 1, 1e-6)
	for _, heat := range []float64{w.IntoCoolant - 10e3, w.IntoOil - 5e3, air - 500, math.Abs(plate) - 500} {
		if !(heat > 0) {
			t.Errorf("%g W too little for this test: %+v", -heat, w)
		}
	}
}
