package plots_test

import (
	"fmt"

	"hotclimb/plots"
	"hotclimb/sim"
	"hotclimb/sim/airpath"
)

// madeCowl is a plant of some layout and its air at one moment, made up: flows
// that balance, cores of 1006 J/(kg K) times flow and rise, no physics.
type madeCowl struct {
	plant sim.Plant
	res   sim.Result
}

const outsideAir = 30.0 // [°C]

func newMadeCowl() *madeCowl {
	m := &madeCowl{}
	m.res.Worst = sim.Snapshot{
		Time: 343, Altitude: 850, Outside: outsideAir, TrueAirspeed: 40, Ram: 841.4, Power: 120e3,
		EngineHeat: 90e3, IntoCoolant: 66e3, IntoOil: 16e3,
	}
	m.res.Legs = []sim.LegSpan{{Name: "take_off", End: 60}, {Name: "hot_climb", Start: 60, End: 700}}
	m.res.Peaks = []sim.Peak{{Channel: "coolant_out", Margin: 3}, {Channel: "oil_sump", Margin: -2.5}}
	return m
}

func (m *madeCowl) place(name string, pressure, temperature, heat, skin float64) int {
	p := airpath.Place{Name: name}
	if skin != 0 {
		p.SkinUA = 8
	}
	m.plant.Air.Places = append(m.plant.Air.Places, p)
	m.res.Air.Places = append(m.res.Air.Places, sim.PlaceState{Name: name, Pressure: pressure, Temperature: temperature, Heat: heat, Skin: skin})
	return len(m.plant.Air.Places) - 1
}

func (m *madeCowl) branch(b airpath.Branch, flow, in, out float64) int {
	m.plant.Air.Branches = append(m.plant.Air.Branches, b)
	m.res.Air.Branches = append(m.res.Air.Branches, sim.BranchState{Name: b.Name, From: b.From, To: b.To, Flow: flow, In: in, Out: out})
	return len(m.plant.Air.Branches) - 1
}

// inlet adds an inlet with its place.
func (m *madeCowl) inlet(name string, flow, pressure, temperature float64) int {
	to := m.place(name, pressure, temperature, 0, 0)
	in := outsideAir
	if flow < 0 {
		in = temperature
	}
	m.branch(airpath.Branch{Name: name, From: airpath.Outside, To: to, Inlet: &airpath.Inlet{Area: 0.01}}, flow, in, in)
	return to
}

// core adds a core that warms its air by rise.
func (m *madeCowl) core(name string, oil bool, from, to int, flow, rise float64) {
	in := m.res.Air.Places[from].Temperature
	if flow < 0 {
		in = m.res.Air.Places[to].Temperature
	}
	heat := max(flow, -flow) * airpath.HeatCapacity * rise
	serves := "coolant"
	if oil {
		serves = "oil"
		m.res.Worst.OilHeat += heat
	} else {
		m.res.Worst.CoolantHeat += heat
	}
	i := m.branch(airpath.Branch{Name: name, From: from, To: to, Core: &airpath.Core{}}, flow, in, in+rise)
	m.plant.Exchangers = append(m.plant.Exchangers, sim.Exchanger{Name: name, Oil: oil, Branch: i})
	m.res.Exchangers = append(m.res.Exchangers, sim.ExchangerState{Name: name, Serves: serves, AirFlow: flow, Heat: heat, Reversed: flow < 0})
}

func (m *madeCowl) exit(name string, from int, flow float64) int {
	t := m.res.Air.Places[from].Temperature
	return m.branch(airpath.Branch{Name: name, From: from, To: airpath.Outside, Exit: &airpath.Exit{Area: 0.05}}, flow, t, t)
}

func (m *madeCowl) leak(name string, from, to int, flow float64) {
	upstream := from
	if flow < 0 {
		upstream = to
	}
	t := outsideAir
	if upstream != airpath.Outside {
		t = m.res.Air.Places[upstream].Temperature
	}
	m.branch(airpath.Branch{Name: name, From: from, To: to, Gap: &airpath.Gap{Area: 1e-3}}, flow, t, t)
}

func (m *madeCowl) plate(name string, heat float64) {
	m.plant.Exchangers = append(m.plant.Exchangers, sim.Exchanger{Name: name, Oil: true, Branch: sim.NoBranch})
	m.res.Exchangers = append(m.res.Exchangers, sim.ExchangerState{Name: name, Serves: "oil", Heat: heat})
	m.res.Worst.OilHeat += heat
}

// usualCowl has a radiator with spray beside an oil cooler, a plate exchanger, a
// vent, and leaks to the inside and to the outside. The radiator gives its air
// 1.2·1006·50 = 60.36 kW, the oil cooler 0.3·1006·40 = 12.072 kW; 6 kW more leave
// the radiator as vapour.
func usualCowl() *madeCowl {
	m := newMadeCowl()
	chin, cheek := m.inlet("chin", 1.3, 600, outsideAir), m.inlet("right_cheek", 0.3, 520, outsideAir)
	cowl := m.place("cowl", 180, 78, 5e3, 400)
	m.core("radiator", false, chin, cowl, 1.2, 50)
	m.core("oil_cooler", true, cheek, cowl, 0.3, 40)
	m.leak("baffle_gaps", chin, cowl, 0.06)
	m.leak("spinner_gap", chin, airpath.Outside, 0.04)
	belly := m.exit("belly", cowl, 1.56)
	m.plate("plate", 2e3)
	m.plant.Vents = []sim.Vent{{Name: "cabin", Exit: belly, Share: 0.25}}
	m.plant.Spray = &sim.Spray{Exchanger: 0}
	m.res.Exchangers[0].Heat += 6e3
	m.res.Worst.CoolantHeat += 6e3
	return m
}

// backwardsCowl sucks in by the weaker of its inlets what the other brings.
func backwardsCowl() *madeCowl {
	m := newMadeCowl()
	chin, cheek := m.inlet("chin", 1.2, 700, outsideAir), m.inlet("left_cheek", -0.2, 250, 95)
	cowl := m.place("cowl", 400, 70, 0, 0)
	m.core("radiator", false, chin, cowl, 1.2, 40)
	m.core("second", false, cheek, cowl, -0.2, 25)
	m.exit("louvers", cowl, 1)
	return m
}

// wideCowl has six inlets, two cores one behind the other, a core with an exit
// of its own, two compartments with a leak between them, and inlets that only
// leaks join with them.
func wideCowl() *madeCowl {
	m := newMadeCowl()
	var inlets []int
	for i, flow := range []float64{1.1, 0.2, 0.25, 0.3, 0.04, 0.03} {
		inlets = append(inlets, m.inlet(fmt.Sprintf("inlet_%d", i+1), flow, 300+50*float64(i), outsideAir))
	}
	upper, lower := m.place("upper_cowl", 60, 76, 2e3, 150), m.place("lower_cowl", 90, 81, 1.5e3, 120)
	between, before := m.place("behind_front_cooler", 150, 62, 0, 0), m.place("before_louver", 200, 66, 0, 0)
	m.core("radiator", false, inlets[0], upper, 1.06, 45)
	m.core("front_cooler", true, inlets[1], between, 0.2, 32)
	m.core("rear_radiator", false, between, upper, 0.2, 18)
	m.core("oil_cooler", true, inlets[2], lower, 0.25, 50)
	m.core("heater", false, inlets[3], before, 0.3, 36)
	m.leak("baffle_gaps", inlets[0], upper, 0.04)
	m.leak("slot_5", inlets[4], upper, 0.04)
	m.leak("slot_6", inlets[5], lower, 0.03)
	m.leak("floor", upper, lower, 0.05)
	m.exit("belly", upper, 1.27)
	m.exit("tail_pipe", lower, 0.33)
	m.exit("louver", before, 0.3)
	m.leak("seams", upper, airpath.Outside, 0.02)
	return m
}

// restingCowl is an engine that stands still in still air.
func restingCowl() *madeCowl {
	m := newMadeCowl()
	m.res.Worst = sim.Snapshot{Outside: outsideAir}
	nose := m.inlet("nose", 0, 0, outsideAir)
	cowl := m.place("cowl", 0, 41, 90, 88)
	m.core("radiator", false, nose, cowl, 0, 0)
	m.exit("outlet", cowl, 0)
	return m
}

func madeCowls() map[string]*madeCowl {
	return map[string]*madeCowl{"usual": usualCowl(), "backwards": backwardsCowl(), "wide": wideCowl(), "resting": restingCowl()}
}

func (m *madeCowl) draw(u plots.Units) (*plots.Figure, error) {
	return plots.Cowl(&m.plant, &m.res, u, caption)
}
