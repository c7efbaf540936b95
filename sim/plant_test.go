package sim_test

import (
	"context"
	"math"
	"testing"

	"hotclimb/sim"
	"hotclimb/sim/airpath"
	"hotclimb/sim/atmos"
	"hotclimb/sim/engine"
	"hotclimb/sim/exchanger"
	"hotclimb/sim/flight"
	"hotclimb/sim/fluid"
	"hotclimb/sim/loop"
)

// outside is the temperature of the air of the hand-built plants [°C].
const outside = 35.0

// rig describes a hand-built plant whose balances are linear: liquids of
// constant properties, conductances that ignore the flow, and a cowl so wide
// that the air neither warms up nor limits the heat.
type rig struct {
	metal, coolant, oil float64 // heat capacities, circuits whole [J/K]
	heat, oilHeat       float64 // into metal and oil [W]
	toCoolant, toOil    float64 // contact with the metal [W/K]
	toBay               float64 // metal to cowl air [W/K]
	flow, oilFlow       float64 // ṁ·cp of the circuits [W/K]
	radiator, cooler    float64 // UA of the cores [W/K]; 0: none
	plate               float64 // UA of a plate exchanger [W/K]; 0: none
	oilShare            float64 // of the oil that goes through both, of a stuck thermostat; 0: all [-]
	start, oilStart     float64 // [°C]
	opening             float64 // of the cowl [m²]
	duration            float64 // [s]
}

// wide is a cowl opening [m²] that passes some 1e7 kg/s at 100 m/s.
const wide = 2e5

const liquidHeat = 4000.0 // cp of the liquids of a rig [J/(kg K)]

const hotPart = 0.6 // of a circuit that is in its hot leg [-]

// build makes the plant of a rig.
func (r rig) build(t testing.TB) *sim.Plant {
	t.Helper()
	liquid, err := fluid.Constant("test", fluid.Properties{Density: 1000, HeatCapacity: liquidHeat, Conductivity: 0.5, Viscosity: 1e-3})
	if err != nil {
		t.Fatal(err)
	}
	circuit := func(capacity, flow float64) sim.Circuit {
		return sim.Circuit{
			Liquid: liquid, HotCapacity: hotPart * capacity, ColdCapacity: (1 - hotPart) * capacity,
			PumpFlow: flow / (1000 * liquidHeat), Electric: true, Maximum: 1e6, Caution: 1e6,
		}
	}
	p := &sim.Plant{
		Aircraft: flight.Aircraft{Mass: 1000, WingArea: 16, AspectRatio: 7, SpanEfficiency: 0.75, ParasiteDrag: 0.03},
		Propeller: flight.Propeller{
			Diameter: 1.9, EfficiencyClimb: 0.7, EfficiencyCruise: 0.8, EfficiencyStatic: 0.7,
		},
		Engine: engine.Engine{
			RatedPower: r.heat, RatedSpeed: 500, Boosted: true, CriticalDensity: 0.1,
			FuelConsumption: 8e-8, HeatToCoolant: 1, HeatToOil: r.oilHeat / r.heat, PartLoadExponent: 0.75,
		},
		Metal: sim.Metal{
			HeatCapacity: r.metal, ToCoolant: loop.Contact{UA: r.toCoolant}, ToOil: loop.Contact{UA: r.toOil}, ToBay: r.toBay,
		},
		Coolant: circuit(r.coolant, r.flow),
		Oil:     circuit(r.oil, r.oilFlow),
		Weather: sim.Weather{Day: atmos.AtField(0, outside), Humidity: 0.3},
		Start:   sim.Start{Given: true, Coolant: r.start, Oil: r.oilStart},
		Legs:    []flight.Leg{{Name: "level", Kind: flight.Level, Speed: 100, SpeedKind: flight.True, Throttle: 1, Duration: r.duration}},
	}
	p.Air = airpath.Network{
		Places: []airpath.Place{{Name: "plenum"}, {Name: "cowl"}},
		Branches: []airpath.Branch{
			{Name: "inlet", From: airpath.Outside, To: 0, Inlet: &airpath.Inlet{Area: r.opening, Recovery: 1}},
			{Name: "exit", From: 1, To: airpath.Outside, Exit: &airpath.Exit{Area: r.opening, Discharge: 1, JetCosine: 1}},
			{Name: "slot", From: 0, To: 1, Gap: &airpath.Gap{Area: r.opening, Discharge: 1}},
		},
	}
	p.BayShare = []float64{0, 1}
	if r.oilShare > 0 {
		p.Oil.Thermostat = &loop.Thermostat{Opens: 900, Full: 950, Leak: r.oilShare, Lag: 15}
	}
	r.addCore(p, "radiator", r.radiator, false)
	r.addCore(p, "cooler", r.cooler, true)
	if r.plate > 0 {
		core := &exchanger.Core{
			Air: exchanger.Power{UA: 2 * r.plate, Flow: 1}, Liquid: exchanger.Power{UA: 2 * r.plate, Flow: 1},
			Arrangement: exchanger.Counterflow,
		}
		p.Oil.Chain = append(p.Oil.Chain, loop.Bank{{Core: len(p.Exchangers), Share: 1}})
		p.Exchangers = append(p.Exchangers, sim.Exchanger{Name: "plate", Oil: true, Core: core, Branch: sim.NoBranch, Share: 1})
	}
	return p
}

// addCore puts a core of constant conductance ua into the air and its circuit.
func (r rig) addCore(p *sim.Plant, name string, ua float64, oil bool) {
	if ua <= 0 {
		return
	}
	core := &exchanger.Core{
		Air: exchanger.Power{UA: 2 * ua, Flow: 1}, Liquid: exchanger.Power{UA: 2 * ua, Flow: 1},
		Resist: exchanger.Bench{B: 1, Area: r.opening}, Arrangement: exchanger.BothUnmixed,
		FreeArea: r.opening, FaceArea: r.opening,
	}
	bank := loop.Bank{{Core: len(p.Exchangers), Share: 1}}
	if oil {
		p.Oil.Chain = append(p.Oil.Chain, bank)
	} else {
		p.Coolant.Chain = append(p.Coolant.Chain, bank)
	}
	p.Exchangers = append(p.Exchangers, sim.Exchanger{Name: name, Oil: oil, Core: core, Branch: len(p.Air.Branches), Share: 1})
	p.Air.Branches = append(p.Air.Branches, airpath.Branch{
		Name: name, From: 0, To: 1, Core: &airpath.Core{Element: core},
	})
}

// tight is far more precise than any check needs.
func tight(sample float64) sim.Settings { return sim.Settings{Sample: sample, RelTol: 1e-9} }

// run flies a plant and checks its books.
func run(t testing.TB, p *sim.Plant, set sim.Settings) *sim.Result {
	t.Helper()
	r, err := sim.Run(context.Background(), p, set)
	if err != nil {
		t.Fatal(err)
	}
	if !(r.EnergyResidual < 1e-6) || !(r.MassResidual < 1e-9) {
		t.Errorf("energy is off by %.2g, mass by %.2g", r.EnergyResidual, r.MassResidual)
	}
	return r
}

// at returns a channel at the sample nearest to a time.
func at(t testing.TB, r *sim.Result, channel string, time float64) float64 {
	t.Helper()
	c := r.Trajectory.Find(channel)
	if c == nil {
		t.Fatalf("no channel %s", channel)
	}
	for i, now := range r.Trajectory.Channels[0].Values {
		if math.Abs(now-time) < 1e-9 {
			return c.Values[i]
		}
	}
	t.Fatalf("no sample at %g s", time)
	return 0
}

func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s is %.9g, want %.9g within %g: off by %.2g", what, got, want, tol, got-want)
	}
}
