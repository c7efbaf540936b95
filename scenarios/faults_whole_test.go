package scenarios

// Faults of the aircraft as a whole: missing things, and places that do not
// fit each other.
var cowlRows = []faultRow{
	{"missing number",
		[]string{"  mass: 1400 lb\n", ""},
		[]string{
			`base.yaml:3:1: aircraft.mass: is missing (take-off mass, with anything towed)`,
		}},
	{"missing section",
		[]string{"day:\n  elevation: 500 ft\n  temperature: 95 degF\n", ""},
		[]string{
			`base.yaml:1:1: day: is missing (the air of the day)`,
		}},
	{"missing legs",
		[]string{"flight:\n  legs:\n    - name: climb\n      kind: climb\n      speed: 70 mph\n      to_altitude: 4000 ft", "flight: {}"},
		[]string{
			`base.yaml:71:1: flight.legs: is missing (legs in the order flown)`,
		}},
	{"alternatives",
		[]string{"    area: 20 in^2 ± 1 in^2", "    area: 20 in^2\n    diameter: 5 in"},
		[]string{
			`base.yaml:28:15: inlets.left: given twice: area and diameter (keep one)`,
		}},
	{"alternatives of sections",
		[]string{"    conductance: {air", "    geometry: {}\n    conductance: {air"},
		[]string{
			`base.yaml:49:5: exchangers.aux: given twice: conductance and geometry (keep one)`,
		}},
	{"refers to nothing",
		[]string{"from: left\n    into: bay", "from: lfet\n    into: bay"},
		[]string{
			`base.yaml:35:11: exchangers.radiator.from: "lfet" is the name of nothing in inlets, compartments or exchangers (did you mean left?)`,
		}},
	{"ambiguous name",
		[]string{"compartments:\n  bay: {}", "compartments:\n  bay: {}\n  aux: {}", "leaks:\n", "leaks:\n  gap: {from: aux, into: outside, area: 1 in^2}\n"},
		[]string{
			`base.yaml:56:3: compartments.aux: the name aux also stands for exchangers.aux (give one of them another name)`,
		}},
	{"reserved name",
		[]string{"compartments:\n  bay: {}", "compartments:\n  bay: {}\n  outside: {}"},
		[]string{
			`base.yaml:56:3: compartments.outside: the name outside also stands for the open air (give one of them another name)`,
		}},
	{"name of a temperature",
		[]string{"compartments:\n  bay: {}", "compartments:\n  bay: {}\n  oil_in: {}", "leaks:\n", "leaks:\n  gap: {from: left, into: oil_in, area: 1 in^2}\n  left: {from: oil_in, into: outside, area: 1 in^2}\n"},
		[]string{
			`base.yaml:56:3: compartments.oil_in: the name oil_in also stands for a temperature of the results (give one of them another name)`,
			`base.yaml:62:3: leaks.left: the name left also stands for inlets.left (give one of them another name)`,
		}},
	{"leak to itself",
		[]string{"leaks:\n", "leaks:\n  gap: {from: bay, into: bay, area: 1 in^2}\n"},
		[]string{
			`base.yaml:60:26: leaks.gap.into: the leak leaves bay and enters it (name another place)`,
		}},
	{"drop that falls",
		[]string{"high: {speed: 10 m/s, drop: 400 Pa}", "high: {speed: 10 m/s, drop: 100 Pa}"},
		[]string{
			`base.yaml:42:7: exchangers.radiator.bench.high: 100 Pa at 10 m/s, but 120 Pa at 5 m/s: the drop must rise with the speed`,
		}},
	{"rating beyond the air",
		[]string{"heat: 45 kW", "heat: 95 kW"},
		[]string{
			`base.yaml:39:20: exchangers.radiator.rating.heat: 95 kW is more than its air can carry: at most 51.52 kW at that flow and temperature difference`,
		}},
	{"rating beyond the liquid",
		[]string{"air_speed: 8 m/s, liquid_flow: 80 L/min", "air_speed: 8 m/s, liquid_flow: 8 L/min"},
		[]string{
			`base.yaml:39:20: exchangers.radiator.rating.heat: 45 kW is more than its liquid can carry: at most 36.47 kW at that flow and temperature difference`,
		}},
	{"fins without a passage",
		[]string{"    conductance: {air: 400 W/K, air_flow: 0.4 kg/s, liquid: 2 kW/K, liquid_flow: 40 L/min}", "    geometry: {fin: louvered, depth: 30 mm, fin_pitch: 0.8 mm, fin_height: 8 mm, fin_thickness: 0.9 mm, louver_pitch: 1.2 mm, louver_length: 9 mm, louver_angle: 27 deg, tube_height: 2 mm, tube_wall: 1 mm}"},
		[]string{
			`base.yaml:48:97: exchangers.aux.geometry.fin_thickness: 0.9 mm is too much for a fin_pitch of 0.8 mm`,
			`base.yaml:48:142: exchangers.aux.geometry.louver_length: 9 mm is too much for a fin_height of 8 mm`,
			`base.yaml:48:200: exchangers.aux.geometry.tube_wall: 1 mm is too much for a tube_height of 2 mm`,
		}},
	{"core fed from nowhere",
		[]string{"    from: right\n", ""},
		[]string{
			`base.yaml:43:3: exchangers.aux.from: is missing: the core is fed from nowhere (name an inlet, a compartment or another exchanger)`,
		}},
	{"core blows nowhere",
		[]string{"    from: left\n    into: bay\n", "    from: left\n"},
		[]string{
			`base.yaml:33:3: exchangers.radiator.into: is missing: the core blows nowhere (name a compartment or an exit)`,
		}},
	{"no opening",
		[]string{"    width: 5 in\n    height: 4 in", "    lip: sharp"},
		[]string{
			`base.yaml:29:3: inlets.right: has no opening (give area, diameter, or width and height)`,
		}},
	{"half a rectangle",
		[]string{"    width: 5 in\n    height: 4 in", "    width: 5 in"},
		[]string{
			`base.yaml:29:3: inlets.right: has a width but no height (give both)`,
		}},
	{"exit without opening",
		[]string{"  slot: {area: 25 in^2}", "  slot: {kind: hole}"},
		[]string{
			`base.yaml:58:3: exits.slot: has no opening (give area, or count, width and height)`,
		}},
	{"exit without a source",
		[]string{"belly: {from: bay, kind", "belly: {kind"},
		[]string{
			`base.yaml:57:3: exits.belly.from: is missing (the compartment it empties)`,
		}},
	{"exit with two sources",
		[]string{"  slot: {area: 25 in^2}", "  slot: {area: 25 in^2, from: bay}"},
		[]string{
			`base.yaml:58:31: exits.slot.from: empties bay, but exchangers.aux blows straight into it (remove from here, or let the exchanger blow into bay)`,
		}},
	{"compartment without a way out",
		[]string{"compartments:\n  bay: {}", "compartments:\n  bay: {}\n  dead: {}", "leaks:\n", "leaks:\n  gap: {from: left, into: dead, area: 1 in^2}\n"},
		[]string{
			`base.yaml:56:3: compartments.dead: has no way out (give it an exit, or a leak into outside)`,
		}},
	{"nothing feeds an exit",
		[]string{"compartments:\n  bay: {}", "compartments:\n  bay: {}\n  dead: {}", "exits:\n", "exits:\n  tail: {from: dead, area: 1 in^2}\n"},
		[]string{
			`base.yaml:58:3: exits.tail: empties dead, which nothing feeds (let an exchanger or a leak blow into that compartment)`,
		}},
	{"inlet feeds nothing",
		[]string{"inlets:\n", "inlets:\n  nose: {area: 3 in^2}\n"},
		[]string{
			`base.yaml:25:3: inlets.nose: feeds nothing (name it in from of an exchanger or a leak)`,
		}},
	{"ring",
		[]string{"from: left\n    into: bay", "from: aux\n    into: bay", "from: right\n    into: slot", "from: radiator\n    into: slot"},
		[]string{
			`base.yaml:35:11: exchangers.radiator.from: takes its air from itself, by way of aux`,
			`base.yaml:45:11: exchangers.aux.from: takes its air from itself, by way of radiator`,
		}},
	{"no heat",
		[]string{"    rating: {heat: 45 kW, temperature_difference: 75 K, air_speed: 8 m/s, liquid_flow: 80 L/min}\n", ""},
		[]string{
			`base.yaml:33:3: exchangers.radiator: does not say how much heat it moves (give rating, conductance or geometry)`,
		}},
	{"rating without a flow",
		[]string{"air_speed: 8 m/s, liquid_flow: 80", "liquid_flow: 80"},
		[]string{
			`base.yaml:39:5: exchangers.radiator.rating: does not say at which air flow (give air_flow or air_speed)`,
		}},
	{"no pressure drop",
		[]string{"    power_law: {speed: 8 m/s, drop: 250 Pa}\n", ""},
		[]string{
			`base.yaml:43:3: exchangers.aux: does not say its pressure drop on the air side (give bench, power_law or geometry)`,
		}},
	{"no face",
		[]string{"    face_area: 60 in^2\n", ""},
		[]string{
			`base.yaml:43:3: exchangers.aux: has no face size (give face_area, or width and height)`,
		}},
	{"plate serves coolant",
		[]string{"    serves: oil\n    cooled_by: coolant", "    serves: coolant\n    cooled_by: coolant"},
		[]string{
			`base.yaml:52:16: exchangers.plate.cooled_by: coolant cannot cool coolant (an exchanger cooled by coolant must serve oil)`,
		}},
	{"air through a plate",
		[]string{"    cooled_by: coolant", "    cooled_by: coolant\n    from: left"},
		[]string{
			`base.yaml:53:11: exchangers.plate.from: no air flows through an exchanger cooled by coolant (remove it)`,
		}},
	{"louvers without angle",
		[]string{"    conductance: {air: 400 W/K, air_flow: 0.4 kg/s, liquid: 2 kW/K, liquid_flow: 40 L/min}", "    geometry: {fin: louvered, depth: 30 mm, fin_pitch: 1.5 mm, fin_height: 8 mm, fin_thickness: 0.1 mm, louver_pitch: 1.2 mm, louver_length: 6 mm, tube_height: 2 mm}"},
		[]string{
			`base.yaml:48:5: exchangers.aux.geometry.louver_angle: is missing (louvered fins need it)`,
		}},
}
