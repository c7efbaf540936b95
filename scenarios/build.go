package scenarios

import (
	"math"

	"hotclimb/sim"
	"hotclimb/sim/atmos"
	"hotclimb/sim/engine"
	"hotclimb/sim/flight"
	"hotclimb/sim/fluid"
	"hotclimb/sim/loop"
)

// Build makes the plant of an effective scenario. Nothing has been computed
// when it returns but sizes and fits. The error is a Faults.
func (sc *Scenario) Build() (*sim.Plant, error) {
	b := &builder{sc: sc, in: &everything, plant: &sim.Plant{}, layout: sc.layout()}
	return b.build()
}

// builder carries a plant through its making: from nothing, or from a copy of one
// of which some sections have changed. What it changes of that copy it replaces.
type builder struct {
	sc     *Scenario
	in     *sections // that are built
	plant  *sim.Plant
	layout *layout
	faults Faults
}

func (b *builder) build() (*sim.Plant, error) {
	if b.in.any("engine") {
		b.engine()
	}
	if b.in.any("coolant", "oil") {
		b.liquids()
	}
	if b.in.any("aircraft") {
		b.airframe()
	}
	if b.in.any("day") {
		b.weather()
	}
	if b.in.any("flight") {
		b.flight()
	}
	if b.faults == nil && b.coresChange() {
		b.cores()
	}
	if b.faults == nil { // every core is there
		b.air()
		if b.coresChange() {
			b.circuits()
		}
		if b.in.any("spray", "exchangers") { // whose order may have changed
			b.spray()
		}
	}
	if err := b.faults.err(); err != nil {
		return nil, err
	}
	return b.plant, nil
}

// coresChange says that the cores are built, which know the liquids in them.
func (b *builder) coresChange() bool { return b.in.any("exchangers", "coolant", "oil") }

func (b *builder) tell(path string, err error) {
	b.faults = append(b.faults, b.sc.where.fault(path, err.Error(), ""))
}

func (b *builder) airframe() {
	a, p := &b.sc.Aircraft, b.plant
	p.Aircraft = flight.Aircraft{
		Mass: a.Mass.Value, WingArea: a.WingArea.Value, AspectRatio: a.AspectRatio.Value,
		SpanEfficiency: a.SpanEfficiency.Value, ParasiteDrag: a.ParasiteDrag.Value,
		CoolingDrag: a.CoolingDrag.Value,
	}
	p.Propeller = flight.Propeller{
		Diameter:         a.Propeller.Diameter.Value,
		EfficiencyClimb:  a.Propeller.EfficiencyClimb.Value,
		EfficiencyCruise: a.Propeller.EfficiencyCruise.Value,
		EfficiencyStatic: a.Propeller.EfficiencyStatic.Value,
	}
	p.Airspeed = nil
	for _, point := range a.AirspeedError {
		p.Airspeed = append(p.Airspeed, flight.AirspeedPoint{Indicated: point.Indicated.Value, Calibrated: point.Calibrated.Value})
	}
	p.Airspeed.Sort()
}

func (b *builder) engine() {
	e := &b.sc.Engine
	basis := 1.0
	if e.HeatBasis == "fuel_energy" {
		basis = engine.RatioFromFuel(1, e.FuelConsumption.Value, e.FuelEnergy.Value)
	}
	b.plant.Engine = engine.Engine{
		RatedPower: e.RatedPower.Value, RatedSpeed: e.RatedSpeed.Value,
		Boosted:         e.Aspiration == "boosted",
		CriticalDensity: atmos.Standard().At(e.CriticalAltitude.Value).Density / atmos.SeaLevelDensity,
		FuelConsumption: e.FuelConsumption.Value,
		HeatToCoolant:   e.HeatToCoolant.Value * basis, HeatToOil: e.HeatToOil.Value * basis,
		HeatToBay:        e.HeatToBay.Value * basis,
		PartLoadExponent: e.PartLoadExponent.Value, IdleFuel: e.IdleFuel.Value,
	}
	b.plant.Metal = sim.Metal{
		HeatCapacity: e.MetalHeat.Value,
		ToCoolant:    loop.Contact{UA: e.MetalToCoolant.Value, Exponent: e.MetalToCoolantN.Value, Floor: stillContact},
		ToOil:        loop.Contact{UA: e.MetalToOil.Value, Exponent: e.MetalToOilN.Value, Floor: stillContact},
		ToBay:        e.MetalToBay.Value,
	}
}

// stillContact is the share of the contact between metal and liquid that is
// left when the pump stands: free convection, engineering judgement.
const stillContact = 0.1

// Temperatures at which liquids are taken where one value must stand for all
// [°C]: the heat capacity of a leg, and catalogue flows.
const (
	usualCoolant = 85.0
	usualOil     = 100.0
)

func (b *builder) liquids() {
	c, o := &b.sc.Coolant, &b.sc.Oil
	if l, err := c.liquid(); err != nil {
		b.tell("coolant.strength", err)
	} else {
		b.plant.Coolant = circuit(l, c.Volume.Value, c.HotShare.Value, usualCoolant)
	}
	if l, err := o.liquid(); err != nil {
		b.tell("oil.grade", err)
	} else {
		b.plant.Oil = circuit(l, o.Volume.Value, o.HotShare.Value, usualOil)
	}
	p := b.plant
	p.Coolant.PumpFlow, p.Coolant.Electric = c.PumpFlow.Value, c.Pump == "electric"
	p.Coolant.Thermostat, p.Coolant.CapPressure = c.Thermostat.build(), c.CapPressure.Value
	p.Coolant.Caution, p.Coolant.Maximum = c.Caution.Value, c.Maximum.Value
	if c.Sensor == "engine_in" {
		p.Coolant.Sensor = sim.ColdLeg
	}
	p.Oil.PumpFlow, p.Oil.Thermostat = o.PumpFlow.Value, o.Thermostat.build()
	p.Oil.Caution, p.Oil.Maximum = o.Caution.Value, o.Maximum.Value
	if o.Sensor == "return" {
		p.Oil.Sensor = sim.ColdLeg
	}
}

// circuit returns a circuit with its two legs filled.
func circuit(l *fluid.Liquid, volume, hotShare, t float64) sim.Circuit {
	whole := volume * l.Density(t) * l.HeatCapacity(t)
	return sim.Circuit{Liquid: l, HotCapacity: hotShare * whole, ColdCapacity: (1 - hotShare) * whole}
}

func (c *Coolant) liquid() (*fluid.Liquid, error) {
	share := c.Strength.Value
	switch c.Mixture {
	case "water":
		return fluid.Water(), nil
	case "constant":
		return c.Constant.liquid("coolant")
	}
	if c.StrengthBy == "volume" {
		var err error
		if share, err = fluid.MassFractionOfVolume(c.Mixture, share); err != nil {
			return nil, err
		}
	}
	if c.Mixture == "propylene_glycol" {
		return fluid.PropyleneGlycol(share)
	}
	return fluid.EthyleneGlycol(share)
}

func (o *Oil) liquid() (*fluid.Liquid, error) {
	switch o.Grade {
	case "table_a5":
		return fluid.OilTableA5(), nil
	case "constant":
		return o.Constant.liquid("oil")
	}
	return fluid.EngineOil(o.Grade)
}

func (c *ConstantFluid) liquid(name string) (*fluid.Liquid, error) {
	return fluid.Constant(name, fluid.Properties{
		Density: c.Density.Value, HeatCapacity: c.HeatCapacity.Value,
		Conductivity: c.Conductivity.Value, Viscosity: c.Viscosity.Value,
	})
}

func (t *Thermostat) build() *loop.Thermostat {
	if t == nil {
		return nil
	}
	return &loop.Thermostat{
		Opens: t.Opens.Value, Full: t.Full.Value, Closing: t.Closing.Value,
		Leak: t.Leak.Value, Lag: t.Lag.Value,
	}
}

func (b *builder) weather() {
	d := &b.sc.Day
	w := sim.Weather{Elevation: d.Elevation.Value, Humidity: d.Humidity.Value, Wind: d.Wind.Value}
	switch {
	case d.Temperature.Known:
		w.Day = atmos.AtField(w.Elevation, d.Temperature.Value)
	case d.HotDay == "part_23":
		w.Day = atmos.HotDay()
	case d.HotDay == "cs_22":
		w.Day = atmos.HotDayCS22()
	default:
		w.Day = atmos.Offset(d.Offset.Value)
	}
	b.plant.Weather = w
}

var speedKinds = map[string]flight.SpeedKind{
	"indicated": flight.Indicated, "calibrated": flight.Calibrated,
	"equivalent": flight.Equivalent, "true": flight.True,
}

func (b *builder) flight() {
	f := &b.sc.Flight
	b.plant.Start = sim.Start{
		Settled: f.Start == "settled", Given: f.Coolant.Known || f.Oil.Known,
		Coolant: f.Coolant.Value, Oil: f.Oil.Value,
	}
	b.plant.Legs = make([]flight.Leg, 0, len(f.Legs))
	for _, leg := range f.Legs {
		kind, err := flight.KindOf(leg.Kind)
		if err != nil {
			b.tell(join("flight.legs", leg.Name), err)
			continue
		}
		l := flight.Leg{
			Name: leg.Name, Kind: kind, Speed: leg.Speed.Value, SpeedKind: speedKinds[leg.SpeedKind],
			Power: leg.Power.Value, EngineSpeed: leg.EngineSpeed.Value,
			Prescribed: leg.Rate.Known, RateOfClimb: leg.Rate.Value,
			ToAltitude: leg.ToAltitude.Value, HasAltitude: leg.ToAltitude.Known,
			Duration: leg.For.Value, Settled: leg.Until == "settled", AfterPeak: leg.AfterPeak.Value,
		}
		if !leg.Power.Known {
			l.Throttle = leg.Throttle.Value
		}
		b.plant.Legs = append(b.plant.Legs, l)
	}
}

// waterDensity is that of the water in the spray tank [kg/m³]: IAPWS-IF97 at
// 25 °C.
const waterDensity = 997.0

func (b *builder) spray() {
	s := b.sc.Spray
	if s == nil {
		return
	}
	rate := s.Rate.Value
	if s.For.Known && s.For.Value == 0 {
		rate = 0 // no time at all, while a duration of 0 is one without end
	}
	b.plant.Spray = &sim.Spray{
		Exchanger: b.layout.core[s.Onto], Tank: s.Tank.Value * waterDensity, Rate: rate * waterDensity,
		Landing: s.Landing.Value, Upstream: s.Upstream.Value, Water: s.Water.Value, WetDrop: s.WetDrop.Value,
		Leg: s.Leg, OnAbove: s.Above.Known, Above: s.Above.Value, Duration: s.For.Value,
	}
}

// faceArea returns the frontal area of the whole core [m²].
func (x *Exchanger) faceArea() float64 {
	if x.FaceArea.Known {
		return x.FaceArea.Value
	}
	return x.Width.Value * x.Height.Value
}

// openingArea returns the throat area of an inlet [m²].
func (in *Inlet) openingArea() float64 {
	switch {
	case in.Area.Known:
		return in.Area.Value
	case in.Diameter.Known:
		return math.Pi / 4 * in.Diameter.Value * in.Diameter.Value
	}
	return in.Width.Value * in.Height.Value
}
