// Package sim flies a plant: engine, coolant loop, oil loop and cowl, through
// the legs of a flight, and returns what both temperatures did.
//
// Start reading at Run. A derivative is evaluated in the order
//
//	flight → atmosphere → engine heat → liquid flows → air flow and core rating → balances
//
// and only masses have state: metal, the hot and the cold leg of both
// circuits, the two thermostats, altitude and spray water. Inside, everything
// is SI with temperatures in °C.
package sim

import (
	"hotclimb/sim/airpath"
	"hotclimb/sim/atmos"
	"hotclimb/sim/engine"
	"hotclimb/sim/exchanger"
	"hotclimb/sim/flight"
	"hotclimb/sim/fluid"
	"hotclimb/sim/loop"
)

// Plant is everything that is flown. Run does not change it, and many runs may
// share one.
type Plant struct {
	Aircraft  flight.Aircraft
	Propeller flight.Propeller
	Airspeed  flight.AirspeedTable // position error
	Engine    engine.Engine
	Metal     Metal
	Coolant   Circuit
	Oil       Circuit

	Exchangers []Exchanger
	Air        airpath.Network
	BayShare   []float64 // share of bay heat and metal-to-bay conductance per place [-]
	Vents      []Vent
	Spray      *Spray

	Weather Weather
	Legs    []flight.Leg
	Start   Start
}

// Available returns the greatest power [W] of the engine at a pressure altitude
// [m] on a day.
func (p *Plant) Available(day atmos.Day, altitude float64) float64 {
	return p.Engine.Available(powerDensity(day.At(altitude), altitude))
}

// Metal is the warm mass of the engine.
type Metal struct {
	HeatCapacity float64      // [J/K]
	ToCoolant    loop.Contact // to the hot leg of the coolant
	ToOil        loop.Contact // to the hot leg of the oil
	ToBay        float64      // to the air of the cowl [W/K]
}

// Sensor says where a gauge measures.
type Sensor int

const (
	HotLeg  Sensor = iota // coolant leaving the engine, oil in the sump
	ColdLeg               // coolant or oil returning to the engine
)

// Circuit is a liquid circuit: a hot leg from the engine to the exchangers and
// a cold leg back, each well mixed and of constant heat capacity.
type Circuit struct {
	Liquid       *fluid.Liquid
	HotCapacity  float64 // heat capacity of the hot leg [J/K]
	ColdCapacity float64 // of the cold leg [J/K]
	PumpFlow     float64 // at rated engine speed [m³/s]
	Electric     bool    // the pump does not follow the engine
	Thermostat   *loop.Thermostat
	Chain        loop.Chain // way through the exchangers
	CapPressure  float64    // relief above the outside air [Pa]

	Sensor  Sensor
	Caution float64 // [°C]
	Maximum float64 // [°C]
}

// Exchanger is a core in the air or, when Branch is NoBranch, a plate
// exchanger that takes heat out of the oil into the cold coolant.
type Exchanger struct {
	Name    string
	Oil     bool // serves the oil circuit
	Core    *exchanger.Core
	Branch  int     // of the air network
	Share   float64 // of the flow of its circuit that it gets [-]
	AirFlow float64 // rated air flow, for a warning; 0: none [kg/s]
}

// NoBranch marks an exchanger without air.
const NoBranch = -1

// Vent is a cabin fresh-air intake.
type Vent struct {
	Name  string
	Exit  int     // branch of the exit ahead of it
	Share float64 // of exit air in what it takes in [-]
}

// Spray is water sprayed on one core.
type Spray struct {
	Exchanger int
	Tank      float64 // water carried [kg]
	Rate      float64 // [kg/s]
	Landing   float64 // φ [-]
	Upstream  float64 // η_A [-]
	Water     float64 // its temperature [°C]
	WetDrop   float64 // on the pressure drop [-]
	Leg       string  // runs in this leg; "": in all
	OnAbove   bool    // waits for the sensor of its circuit to pass Above
	Above     float64 // [°C]
	Duration  float64 // at most [s]; 0: no end
}

// Weather is the air of the day.
type Weather struct {
	Day       atmos.Day
	Elevation float64 // of the field [m]
	Humidity  float64 // relative, at the field [-]
	Wind      float64 // headwind on the ground [m/s]
}

// Start says where the flight starts, and how warm the plant is there.
type Start struct {
	Above   float64 // height above the field [m]
	Settled bool    // in the conditions of the first leg
	Given   bool    // at these temperatures; else as warm as the air
	Coolant float64 // and metal [°C]
	Oil     float64 // [°C]
}
