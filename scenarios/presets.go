package scenarios

import "hotclimb/sim/engine"

// fillKinds fills what kinds and presets imply and the file does not give.
func (sc *Scenario) fillKinds(in *sections) {
	if in.any("engine") {
		sc.Engine.fill()
	}
	if in.any("coolant", "oil") {
		sc.fillLimits()
	}
	if in.any("inlets") {
		for _, i := range sc.Inlets {
			i.fill(sc.Aircraft.Propeller.Place)
		}
	}
	if in.any("exchangers") {
		for name, x := range sc.Exchangers {
			x.fill(sc.filedAs(name, x))
		}
	}
	if in.any("exits") {
		for _, e := range sc.Exits {
			e.fill()
		}
	}
	if in.any("compartments") {
		sc.shareBayHeat()
	}
	if in.any("flight", "cases") {
		sc.fillLegs()
	}
}

// known is a default: a number, its doubt and its source.
type known struct {
	Number
	dim *Dimension
}

// standard reads a default of kind K.
func standard[K Kind](text, source string) known {
	d := DimensionOf[K]()
	n, err := Parse(text, d)
	if err != nil {
		panic("scenarios: a default does not parse: " + err.Error())
	}
	n.Written, n.Text, n.Source = false, "", source
	return known{n, d}
}

// give fills q unless the file has it.
func give[K Kind](q *Quantity[K], k known) {
	if !q.Known && k.Known {
		q.Number = k.Number
	}
}

// enginePreset is a kind of engine.
type enginePreset struct {
	aspiration                        string
	consumption, energy               known
	coolant, oil, bay, exponent, idle known
	metal, toCoolant, toOil, toBay    known
	toCoolantExponent, toOilExponent  known
	criticalAltitude                  known
}

// The conductances and heat capacities stand for an engine of 80 to 130 kW.
var enginePresets = map[string]enginePreset{
	"automotive": {
		aspiration:  "natural",
		consumption: standard[FuelRate]("300 g/kWh ± 20 g/kWh", "four-stroke spark ignition, 270 to 340 g/kWh: synthesis after Heywood 1988"),
		energy:      standard[Energy]("43.5 MJ/kg", "gasoline, from memory, high"),
		coolant:     standard[Ratio]("0.75 ± 0.10", "water-jacketed four-stroke, 0.55 to 0.95: Heywood 1988 table 12.1, from memory; synthesis"),
		oil:         standard[Ratio]("0.10 ± 0.025", "water-jacketed four-stroke, 0.06 to 0.15: synthesis"),
		bay:         standard[Ratio]("0.05 ± 0.025", "exhaust heat the cowl air takes, that of the engine surface aside, engineering judgement"),
		exponent:    partLoad,
		idle:        idleFuel,
		metal:       standard[HeatCapacity]("45 kJ/K ± 6 kJ/K", "1.6 to 2.0 L aluminium four, 35 to 60 kJ/K: from memory, medium"),
		toCoolant:   metalToCoolant, toCoolantExponent: coolantContact,
		toOil: standard[Conductance]("0.25 kW/K ± 0.08 kW/K", "0.1 to 0.4 kW/K for 100 kW: engineering judgement"), toOilExponent: oilContact,
		toBay: metalToBay,
	},
	"rotary": {
		aspiration:  "natural",
		consumption: standard[FuelRate]("330 g/kWh ± 18 g/kWh", "two-rotor, 300 to 365 g/kWh: synthesis of builders' arithmetic and a manual"),
		energy:      standard[Energy]("43.5 MJ/kg", "gasoline, from memory, high"),
		coolant:     standard[Ratio]("0.68 ± 0.06", "two-rotor with oil-cooled rotors, 0.60 to 0.80: synthesis of common practice and a manual"),
		oil:         standard[Ratio]("0.28 ± 0.05", "two-rotor with oil-cooled rotors, 0.18 to 0.35: no published table is known"),
		bay:         standard[Ratio]("0.06 ± 0.03", "exhaust heat the cowl air takes, that of the engine surface aside, engineering judgement"),
		exponent:    partLoad,
		idle:        idleFuel,
		metal:       standard[HeatCapacity]("55 kJ/K ± 6 kJ/K", "two-rotor with iron side housings, 45 to 65 kJ/K: from memory, medium"),
		toCoolant:   metalToCoolant, toCoolantExponent: coolantContact,
		toOil: standard[Conductance]("0.20 kW/K ± 0.08 kW/K", "0.1 to 0.4 kW/K for 100 kW: engineering judgement"), toOilExponent: oilContact,
		toBay: metalToBay,
	},
	"turbo_diesel": {
		aspiration:       "boosted",
		criticalAltitude: standard[Length]("2500 m ± 500 m", "engineering judgement; the engine maker's data rule"),
		consumption:      standard[FuelRate]("225 g/kWh ± 12 g/kWh", "diesel conversion, 205 to 250 g/kWh: from memory, medium"),
		energy:           standard[Energy]("42.8 MJ/kg", "diesel fuel, from memory, high"),
		coolant:          standard[Ratio]("0.55 ± 0.08", "diesel conversion, 0.45 to 0.75: from memory, medium"),
		oil:              standard[Ratio]("0.085 ± 0.02", "diesel conversion, 0.05 to 0.12: from memory, medium"),
		bay:              standard[Ratio]("0.06 ± 0.03", "exhaust and turbine heat the cowl air takes, that of the engine surface aside, engineering judgement"),
		exponent:         partLoad,
		idle:             idleFuel,
		metal:            standard[HeatCapacity]("60 kJ/K ± 10 kJ/K", "scaled from aluminium fours by mass, engineering judgement"),
		toCoolant:        metalToCoolant, toCoolantExponent: coolantContact,
		toOil: standard[Conductance]("0.25 kW/K ± 0.08 kW/K", "0.1 to 0.4 kW/K for 100 kW: engineering judgement"), toOilExponent: oilContact,
		toBay: metalToBay,
	},
}

var (
	partLoad       = standard[Ratio]("0.75 ± 0.07", "0.6 to 0.9, for the gas side follows flow^0.75: from memory of Taylor, medium")
	idleFuel       = standard[Ratio]("0.04 ± 0.015", "engineering judgement")
	metalToCoolant = standard[Conductance]("3 kW/K ± 0.5 kW/K", "2 to 4 kW/K for 100 kW: engineering judgement")
	coolantContact = standard[Ratio]("0.6 ± 0.1", "turbulent jackets, part of it boiling: engineering judgement")
	oilContact     = standard[Ratio]("0.3 ± 0.1", "splashed and laminar oil: engineering judgement")
	metalToBay     = standard[Conductance]("12 W/K ± 6 W/K", "about 0.8 m² of hot surface in moving air: engineering judgement")
)

func (e *Engine) fill() {
	p := enginePresets[e.Preset]
	if e.Aspiration == "" {
		e.Aspiration = p.aspiration
	}
	give(&e.FuelConsumption, p.consumption)
	give(&e.FuelEnergy, p.energy)
	give(&e.HeatToCoolant, e.onBasis(p.coolant))
	give(&e.HeatToOil, e.onBasis(p.oil))
	give(&e.HeatToBay, e.onBasis(p.bay))
	give(&e.PartLoadExponent, p.exponent)
	give(&e.IdleFuel, p.idle)
	give(&e.MetalHeat, p.metal)
	give(&e.MetalToCoolant, p.toCoolant)
	give(&e.MetalToCoolantN, p.toCoolantExponent)
	give(&e.MetalToOil, p.toOil)
	give(&e.MetalToOilN, p.toOilExponent)
	give(&e.MetalToBay, p.toBay)
	if e.Aspiration == "boosted" {
		give(&e.CriticalAltitude, enginePresets["turbo_diesel"].criticalAltitude)
	}
}

// onBasis returns a heat ratio to brake power on the basis that the engine's
// ratios refer to.
func (e *Engine) onBasis(k known) known {
	if e.HeatBasis == "fuel_energy" {
		fuel := engine.RatioFromFuel(1, e.FuelConsumption.Value, e.FuelEnergy.Value)
		k.Value, k.Doubt = k.Value/fuel, k.Doubt/fuel
		k.Source += ", over fuel energy"
	}
	return k
}

// cautionBelow is how far below the maximum the caution band starts.
const cautionBelow = 10 / 1.8 // K

// fillLimits starts the caution bands 10 °F below the maxima.
func (sc *Scenario) fillLimits() {
	for _, c := range []struct{ caution, maximum *Quantity[Temperature] }{
		{&sc.Coolant.Caution, &sc.Coolant.Maximum}, {&sc.Oil.Caution, &sc.Oil.Maximum},
	} {
		if !c.caution.Known && c.maximum.Known {
			n := c.maximum.Number
			n.Value -= cautionBelow
			n.Written, n.Text, n.Source, n.Doubt = false, "", "10 °F below the maximum", 0
			c.caution.Number = n
		}
	}
}

// filedAs returns what an exchanger serves in the first file, before overlays
// and settings moved it.
func (sc *Scenario) filedAs(name string, x *Exchanger) string {
	if s := sc.served[name]; s != "" {
		return s
	}
	return x.Serves
}

// exchangerSides are the usual shares and exponents of a core.
type exchangerSides struct{ airShare, airExponent, liquidExponent known }

var usualSides = map[string]exchangerSides{
	"coolant": {
		standard[Ratio]("0.80 ± 0.06", "radiators, 0.7 to 0.9: engineering judgement"),
		standard[Ratio]("0.48 ± 0.04", "louvered fins, 0.45 to 0.5; offset strips 0.46 to 0.6: computed from correlations"),
		standard[Ratio]("0.8 ± 0.05", "turbulent coolant"),
	},
	"oil": {
		standard[Ratio]("0.45 ± 0.08", "oil coolers, 0.3 to 0.6: engineering judgement"),
		standard[Ratio]("0.50 ± 0.05", "louvered fins, 0.45 to 0.5; offset strips 0.46 to 0.6: computed from correlations"),
		standard[Ratio]("0.4 ± 0.06", "laminar oil with turbulators, 0.3 to 0.5"),
	},
	"plate": {
		standard[Ratio]("0.25 ± 0.1", "coolant side of a plate exchanger: engineering judgement"),
		standard[Ratio]("0.7 ± 0.1", "coolant between plates: engineering judgement"),
		standard[Ratio]("0.45 ± 0.1", "laminar oil between plates: engineering judgement"),
	},
}

// fill fills an exchanger that served filed in the first file.
func (x *Exchanger) fill(filed string) {
	if x.RatedWith == "" {
		x.RatedWith = filed
	}
	usual := usualSides[x.RatedWith]
	if x.CooledBy == "coolant" {
		usual = usualSides["plate"]
	}
	if x.Arrangement == "" {
		x.Arrangement = "both_unmixed"
		if x.CooledBy == "coolant" {
			x.Arrangement = "counterflow"
		}
	}
	if r := x.Rating; r != nil {
		give(&r.AirShare, usual.airShare)
		give(&r.AirExponent, usual.airExponent)
		give(&r.LiquidExponent, usual.liquidExponent)
	}
	if c := x.Conductance; c != nil {
		give(&c.AirExponent, usual.airExponent)
		give(&c.LiquidExponent, usual.liquidExponent)
	}
}

// shareBayHeat gives compartments without a share equal parts of what the
// others leave.
func (sc *Scenario) shareBayHeat() {
	left, open := 1.0, 0.0
	for _, c := range sorted(sc.Compartments) {
		if c.BayHeatShare.Known {
			left -= c.BayHeatShare.Value
		} else {
			open++
		}
	}
	for _, c := range sorted(sc.Compartments) {
		if !c.BayHeatShare.Known {
			c.BayHeatShare.Number = Number{
				Value: max(0, left) / open, Known: true, Source: "equal parts of what other compartments leave",
			}
		}
	}
}

// The throttle of a leg that names neither throttle nor power.
var usualThrottle = map[string]known{
	"idle":     standard[Ratio]("5 %", "engineering judgement"),
	"taxi":     standard[Ratio]("10 %", "engineering judgement"),
	"run_up":   standard[Ratio]("60 %", "engineering judgement"),
	"take_off": standard[Ratio]("100 %", "full throttle"),
	"climb":    standard[Ratio]("100 %", "full throttle"),
	"level":    standard[Ratio]("65 %", "engineering judgement"),
	"descend":  standard[Ratio]("20 %", "engineering judgement"),
}

func (leg *Leg) fill() {
	if !leg.Power.Known {
		give(&leg.Throttle, usualThrottle[leg.Kind])
	}
}

func (sc *Scenario) fillLegs() {
	for _, f := range sc.flights() {
		for _, leg := range f.Legs {
			leg.fill()
		}
	}
}

// flights returns the flight of the file and those of its cases.
func (sc *Scenario) flights() []*Flight {
	list := []*Flight{&sc.Flight}
	for _, c := range sc.Cases {
		if c.Flight != nil {
			list = append(list, c.Flight)
		}
	}
	return list
}
