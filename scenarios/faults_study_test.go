package scenarios

// Faults of limits, flights, cases and studies.
var studyRows = []faultRow{
	{"spray onto a plate",
		[]string{"onto: radiator", "onto: plate"},
		[]string{
			`base.yaml:64:9: spray.onto: no air flows through exchangers.plate (spray a core that is cooled by air)`,
		}},
	{"spray in no leg",
		[]string{"leg: hold", "leg: clinb"},
		[]string{
			`base.yaml:67:8: spray.leg: there is no leg clinb in any flight (did you mean climb?)`,
		}},
	{"constant without properties",
		[]string{"  volume: 6 L", "  mixture: constant\n  volume: 6 L"},
		[]string{
			`base.yaml:15:12: coolant.mixture: is constant, but there is no section coolant.constant (give its density and heat_capacity)`,
		}},
	{"caution above maximum",
		[]string{"caution: 220 degF", "caution: 120 degC"},
		[]string{
			`base.yaml:18:12: coolant.caution: 120 degC is not below coolant.maximum, 235 degF`,
		}},
	{"thermostat upside down",
		[]string{"full: 95 degC", "full: 75 degC"},
		[]string{
			`base.yaml:19:23: coolant.thermostat.opens: 80 degC is not below coolant.thermostat.full, 75 degC`,
		}},
	{"thermostat above the limit",
		[]string{"full: 95 degC", "full: 240 degF"},
		[]string{
			`base.yaml:19:38: coolant.thermostat.full: 240 degF is above coolant.maximum, 235 degF (the thermostat must be open before the limit is reached)`,
		}},
	{"leg without end",
		[]string{"      to_altitude: 4000 ft\n", ""},
		[]string{
			`base.yaml:73:7: flight.legs.climb: has no end (give to_altitude, for, until or after_peak)`,
		}},
	{"level leg that ends at an altitude",
		[]string{"      kind: climb\n", "      kind: level\n"},
		[]string{
			`base.yaml:76:20: flight.legs.climb.to_altitude: a leg of kind level keeps its altitude and never ends so (give for, until or after_peak)`,
		}},
	{"level leg that climbs",
		[]string{"      kind: climb\n", "      kind: level\n", "to_altitude: 4000 ft\n", "rate_of_climb: 300 ft/min\n      for: 5 min\n"},
		[]string{
			`base.yaml:76:22: flight.legs.climb.rate_of_climb: a leg of kind level keeps its altitude (remove it, or a leg of kind climb or descend)`,
		}},
	{"climb that sinks",
		[]string{"to_altitude: 4000 ft\n", "to_altitude: 4000 ft\n      rate_of_climb: -300 ft/min\n"},
		[]string{
			`base.yaml:77:22: flight.legs.climb.rate_of_climb: -300 ft/min is no climb (above 0, or a leg of kind descend)`,
		}},
	{"descent that climbs",
		[]string{"      kind: climb\n", "      kind: descend\n", "to_altitude: 4000 ft\n", "for: 5 min\n      rate_of_climb: 300 ft/min\n"},
		[]string{
			`base.yaml:77:22: flight.legs.climb.rate_of_climb: 300 ft/min is no descent (below 0, or a leg of kind climb)`,
		}},
	{"too much glycol by volume",
		[]string{"  volume: 6 L", "  strength: 60 %\n  volume: 6 L"},
		[]string{
			`base.yaml:15:13: coolant.strength: 60 % by volume is 63 % by mass, beyond the known properties (take less, or write strength_by: mass if it is by mass)`,
		}},
	{"more than all of the bay heat",
		[]string{"  bay: {}", "  bay: {bay_heat_share: 60 %}\n  tail: {bay_heat_share: 50 %}", "leaks:\n", "leaks:\n  gap: {from: bay, into: tail, area: 1 in^2}\n  slit: {from: tail, into: outside, area: 1 in^2}\n"},
		[]string{
			`base.yaml:54:1: compartments: their bay_heat_share together is 110 % (all of them together at most 100 %)`,
		}},
	{"more heat than the fuel holds",
		[]string{"  rated_speed: 5800 rpm", "  rated_speed: 5800 rpm\n  heat_basis: fuel_energy\n  heat_to_coolant: 0.7\n"},
		[]string{
			`base.yaml:15:20: engine.heat_to_coolant: coolant, oil, bay and brake power together take 102 % of the energy of the fuel (lower heat_to_coolant, heat_to_oil or heat_to_bay; see heat_basis)`,
		}},
	{"speed error given twice",
		[]string{"    slow: {indicated: 60 mph, calibrated: 63 mph}", "    slow: {indicated: 60 mph, calibrated: 63 mph}\n    also: {indicated: 60 mph, calibrated: 65 mph}"},
		[]string{
			`base.yaml:10:5: aircraft.airspeed_error.slow: also has the same indicated speed, 60 mph (keep one)`,
		}},
	{"properties that are not used",
		[]string{"  volume: 6 L", "  constant: {density: 1000 kg/m^3, heat_capacity: 4 kJ/kg/K}\n  volume: 6 L", "oil:\n", "oil:\n  constant: {density: 900 kg/m^3, heat_capacity: 2 kJ/kg/K}\n"},
		[]string{
			`base.yaml:15:3: coolant.constant: is not used: the mixture is ethylene_glycol by default (write mixture: constant)`,
			`base.yaml:22:3: oil.constant: is not used: the grade is 15w_50 by default (write grade: constant)`,
		}},
	{"leg without speed",
		[]string{"      speed: 70 mph\n", ""},
		[]string{
			`base.yaml:73:7: flight.legs.climb.speed: is missing (a leg of kind climb needs its airspeed)`,
		}},
	{"shut down with power",
		[]string{"kind: taxi, throttle: 15 %", "kind: shut_down, throttle: 15 %"},
		[]string{
			`base.yaml:83:11: cases.taxi.flight.legs.hold: has power though the engine is shut down (remove throttle and power)`,
		}},
	{"half the start temperatures",
		[]string{"flight:\n  legs:", "flight:\n  start_oil: 80 degC\n  legs:"},
		[]string{
			`base.yaml:71:1: flight: start_coolant and start_oil go together (give both or none)`,
		}},
	{"case sets an unknown path",
		[]string{"inlets.left.recovery: 0.4", "inlets.letf.recovery: 0.4"},
		[]string{
			`base.yaml:85:29: cases.taxi.set.inlets.letf.recovery: unknown path: there is no letf in inlets (did you mean inlets.left.recovery?)`,
		}},
	{"case sets a bad value",
		[]string{"inlets.left.recovery: 0.4", "inlets.left.recovery: 4"},
		[]string{
			`base.yaml:85:29: cases.taxi.set.inlets.left.recovery: 4 is out of range (0 to 1)`,
		}},
	{"case breaks the cowl",
		[]string{"inlets.left.recovery: 0.4", "exits.belly.from: nowhere"},
		[]string{
			`base.yaml:85:25: cases.taxi.set.exits.belly.from: "nowhere" is the name of nothing in compartments (known: bay)`,
		}},
	{"case contradicts",
		[]string{"inlets.left.recovery: 0.4", "coolant.caution: 240 degF"},
		[]string{
			`base.yaml:84:5: cases.taxi.set: with these settings coolant.caution: 240 degF is not below coolant.maximum, 235 degF`,
		}},
	{"change sets a bad unit",
		[]string{"inlets.left.area: 25 in^2", "inlets.left.area: 25 in"},
		[]string{
			`base.yaml:89:25: changes.bigger.set.inlets.left.area: 25 in is a length; area takes in^2, ft^2, cm^2, m^2`,
		}},
	{"change sets a bad word",
		[]string{"exchangers.aux.serves: oil", "exchangers.aux.serves: water"},
		[]string{
			`base.yaml:90:30: changes.bigger.set.exchangers.aux.serves: "water" is not one of its words (one of coolant, oil)`,
		}},
	{"change breaks a plate",
		[]string{"exchangers.aux.serves: oil", "exchangers.plate.serves: coolant"},
		[]string{
			`base.yaml:88:5: changes.bigger.set: with these settings exchangers.plate.cooled_by: coolant cannot cool coolant (an exchanger cooled by coolant must serve oil)`,
		}},
	{"change sets rivals",
		[]string{"      inlets.left.area: 25 in^2", "      inlets.left.area: 25 in^2\n      inlets.left.diameter: 5 in"},
		[]string{
			`base.yaml:90:29: changes.bigger.set.inlets.left.diameter: excludes inlets.left.area, which is set as well (keep one)`,
		}},
	{"change to an absent section",
		[]string{"inlets.left.area: 25 in^2", "inlets.right.diffuser.angle: 9 deg"},
		[]string{
			`base.yaml:89:36: changes.bigger.set.inlets.right.diffuser.angle: unknown path: this scenario has no section inlets.right.diffuser (did you mean inlets.left.diffuser.angle?)`,
		}},
	{"sweep of a bad range",
		[]string{"inlets.left.area: 15..30 in^2:4", "inlets.left.area: 15..30 in^2:one"},
		[]string{
			`base.yaml:94:23: sweep.vary.inlets.left.area: "one" is no number of values: write LOW..HIGH:COUNT with a count from 2 to 10000`,
		}},
	{"sweep without a count",
		[]string{"inlets.left.area: 15..30 in^2:4", "inlets.left.area: 15..30 in^2"},
		[]string{
			`base.yaml:94:23: sweep.vary.inlets.left.area: "15..30 in^2" does not say how many values (write LOW..HIGH:COUNT or values separated by commas)`,
		}},
	{"unknown design",
		[]string{"  cases: [taxi]", "  cases: [taxi]\n  design: sobbol"},
		[]string{
			`base.yaml:97:11: sweep.design: "sobbol" is not one of its words (did you mean sobol? one of grid, latin_hypercube, sobol)`,
		}},
	{"sweep of a bad unit",
		[]string{"inlets.left.area: 15..30 in^2:4", "inlets.left.area: 15..30 in:4"},
		[]string{
			`base.yaml:94:23: sweep.vary.inlets.left.area: 30 in is a length; area takes in^2, ft^2, cm^2, m^2`,
		}},
	{"sweep of a section",
		[]string{"inlets.left.area: 15..30 in^2:4", "inlets.left: 15..30 in^2:4"},
		[]string{
			`base.yaml:94:18: sweep.vary.inlets.left: unknown path: inlets.left is a section, not a number or a word (did you mean inlets.left.kind, inlets.left.area or inlets.left.diameter?)`,
		}},
	{"sweep of an unknown case",
		[]string{"cases: [taxi]", "cases: [tax]"},
		[]string{
			`base.yaml:96:11: sweep.cases.tax: "tax" is the name of nothing in cases (did you mean taxi?)`,
		}},
	{"size with a count",
		[]string{"exits.belly.area: 20 in^2..60 in^2", "exits.belly.area: 20 in^2..60 in^2:3"},
		[]string{
			`base.yaml:99:23: size.vary.exits.belly.area: "20 in^2..60 in^2:3" gives no bounds (write LOW..HIGH)`,
		}},
	{"fit without a doubt",
		[]string{"paths: [aircraft.parasite_drag]", "paths: [aircraft.mass]"},
		[]string{
			`base.yaml:108:11: fit.paths.aircraft.mass: has no doubt to sharpen (write its value as in 0.60 ± 0.10)`,
		}},
	{"fit of a word",
		[]string{"paths: [aircraft.parasite_drag]", "paths: [aircraft.propeller.place]"},
		[]string{
			`base.yaml:108:11: fit.paths.aircraft.propeller.place: is a word, not a number`,
		}},
	{"fit of an unknown test",
		[]string{"tests: [june]", "tests: [july]"},
		[]string{
			`base.yaml:109:11: fit.tests.july: "july" is the name of nothing in tests (did you mean june?)`,
		}},
	{"test without readings",
		[]string{"    points:\n      top: {time: 9 min, altitude: 4000 ft, speed: 70 mph, outside: 68 degF, coolant: 212 degF}\n", ""},
		[]string{
			`base.yaml:101:5: tests.june: has no readings (give log or points)`,
		}},
	{"test with a bad date",
		[]string{"date: 2026-06-14", "date: 14 June"},
		[]string{
			`base.yaml:102:11: tests.june.date: "14 June" is no date (write YYYY-MM-DD)`,
		}},
	{"path with a big letter",
		[]string{"inlets.left.area: 25 in^2", "Inlets.left.area: 25 in^2"},
		[]string{
			`base.yaml:89:7: changes.bigger.set.Inlets.left.area: is no path (paths have small letters, as inlets.left.area)`,
		}},
}
