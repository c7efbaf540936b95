package scenarios

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// faultRow replaces parts of the good scenario and wants exactly these faults.
type faultRow struct {
	name   string
	change []string // old, new, old, new ...
	want   []string
}

// Faults of single places, told while reading.
var readingRows = []faultRow{
	{"unknown key",
		[]string{"  mass: 1400 lb", "  mas: 1400 lb"},
		[]string{
			`base.yaml:4:3: aircraft.mas: unknown key (did you mean mass?)`,
		}},
	{"unknown section",
		[]string{"vents:", "vent:"},
		[]string{
			`base.yaml:61:1: vent: unknown key (did you mean vents?)`,
		}},
	{"unknown key far from any",
		[]string{"  mass: 1400 lb", "  mass: 1400 lb\n  xyzzy: 1"},
		[]string{
			`base.yaml:5:3: aircraft.xyzzy: unknown key (known: mass, wing_area, aspect_ratio, span_efficiency, parasite_drag, cooling_drag_included, propeller, airspeed_error)`,
		}},
	{"path for a key",
		[]string{"  mass: 1400 lb", "  mass: 1400 lb\n  propeller.place: tractor"},
		[]string{
			`base.yaml:5:3: aircraft.propeller.place: unknown key (a path is no key: write its parts as keys, each indented below the one before)`,
		}},
	{"percentage without its sign",
		[]string{"parasite_drag: 0.05 ± 0.005", "parasite_drag: 5"},
		[]string{
			`base.yaml:7:18: aircraft.parasite_drag: 5 is out of range (did you mean 5 %? 0.005 to 0.3)`,
		}},
	{"duplicate key",
		[]string{"  wing_area: 150 ft^2", "  wing_area: 150 ft^2\n  wing_area: 151 ft^2"},
		[]string{
			`base.yaml:6:3: aircraft.wing_area: given twice, first on line 5 (keep one)`,
		}},
	{"duplicate name",
		[]string{"  right:\n", "  left:\n"},
		[]string{
			`base.yaml:29:3: inlets.left: given twice, first on line 25 (keep one)`,
			`base.yaml:45:11: exchangers.aux.from: "right" is the name of nothing in inlets, compartments or exchangers (known: left, bay, aux, plate, radiator)`,
		}},
	{"second document",
		[]string{"fit:\n", "---\nfit:\n"},
		[]string{
			`base.yaml:107:1: a second document starts here (keep one scenario in a file and remove the line ---)`,
		}},
	{"list for a map",
		[]string{"inlets:\n  left:\n    kind: side\n    area: 20 in^2 ± 1 in^2\n    diffuser: {angle: 9 deg}\n  right:\n    width: 5 in\n    height: 4 in", "inlets:\n  - left\n  - right"},
		[]string{
			`base.yaml:25:3: inlets: must be names, indented below it, each with keys of its own`,
		}},
	{"map for a list",
		[]string{"  legs:\n    - name: climb\n      kind: climb\n      speed: 70 mph\n      to_altitude: 4000 ft", "  legs:\n    climb: {kind: climb}"},
		[]string{
			`base.yaml:73:5: flight.legs: must be a list, each item starting with - name:`,
		}},
	{"map for a number",
		[]string{"  mass: 1400 lb", "  mass: {value: 1400}"},
		[]string{
			`base.yaml:4:9: aircraft.mass: must be a number with its unit`,
		}},
	{"number for a section",
		[]string{"compartments:\n  bay: {}", "compartments:\n  bay: 3"},
		[]string{
			`base.yaml:55:8: compartments.bay: must be keys of its own, indented below it`,
		}},
	{"empty section",
		[]string{"compartments:\n  bay: {}", "compartments:\n  bay:"},
		[]string{
			`base.yaml:55:7: compartments.bay: has nothing in it (write {} to take every default, or remove it)`,
		}},
	{"empty value",
		[]string{"  mass: 1400 lb", "  mass:"},
		[]string{
			`base.yaml:4:8: aircraft.mass: has no value (give a number with its unit, or remove it)`,
		}},
	{"empty word",
		[]string{"place: pusher", "place: \"\""},
		[]string{
			`base.yaml:8:39: aircraft.propeller.place: has no value (give one, or remove it)`,
		}},
	{"bad name",
		[]string{"  right:\n    width", "  Right:\n    width"},
		[]string{
			`base.yaml:29:3: inlets.Right: "Right" is no good name (use small letters, digits and _, a letter first)`,
		}},
	{"item without a name",
		[]string{"  - name: cool\n    day", "  - title: cool\n    day"},
		[]string{
			`base.yaml:78:5: cases.#1: has no name (start it with name:)`,
		}},
	{"item name twice",
		[]string{"  - name: taxi\n", "  - name: cool\n"},
		[]string{
			`base.yaml:67:8: spray.leg: there is no leg hold in any flight (known: climb)`,
			`base.yaml:80:11: cases.cool: name used twice`,
			`base.yaml:96:11: sweep.cases.taxi: "taxi" is the name of nothing in cases (known: cool)`,
		}},
	{"bare number",
		[]string{"  mass: 1400 lb", "  mass: 1400"},
		[]string{
			`base.yaml:4:9: aircraft.mass: 1400 has no unit; mass takes lb, oz, kg, g`,
		}},
	{"wrong unit",
		[]string{"    area: 20 in^2 ± 1 in^2", "    area: 20 in"},
		[]string{
			`base.yaml:27:11: inlets.left.area: 20 in is a length; area takes in^2, ft^2, cm^2, m^2`,
		}},
	{"unknown unit",
		[]string{"diameter: 68 in", "diameter: 68 zoll"},
		[]string{
			`base.yaml:8:25: aircraft.propeller.diameter: 68 zoll: "zoll" is no known unit`,
		}},
	{"out of range",
		[]string{"  mass: 1400 lb", "  mass: 14 lb"},
		[]string{
			`base.yaml:4:9: aircraft.mass: 14 lb is out of range (110.2 lb to 44092 lb)`,
		}},
	{"out of range in a small unit",
		[]string{"diameter: 68 in", "diameter: 680 in"},
		[]string{
			`base.yaml:8:25: aircraft.propeller.diameter: 680 in is out of range (19.69 in to 196.9 in)`,
		}},
	{"unknown word",
		[]string{"place: pusher", "place: puller"},
		[]string{
			`base.yaml:8:39: aircraft.propeller.place: "puller" is not one of its words (did you mean pusher? one of tractor, pusher)`,
		}},
	{"alias",
		[]string{"rated_power: 100 hp", "rated_power: &p 100 hp"},
		[]string{
			`base.yaml:12:16: engine.rated_power: anchors (&name), aliases (*name) and merge keys (<<) are not used in scenario files (write the value out)`,
		}},
	{"unknown alias",
		[]string{"rated_power: 100 hp", "rated_power: *p"},
		[]string{
			`base.yaml:12:1: anchors (&name), aliases (*name) and merge keys (<<) are not used in scenario files (write the value out)`,
		}},
	{"merge key",
		[]string{"  rated_power: 100 hp", "  <<: {rated_power: 100 hp}"},
		[]string{
			`base.yaml:12:3: engine: anchors (&name), aliases (*name) and merge keys (<<) are not used in scenario files (write the value out)`,
		}},
	{"tag",
		[]string{"rated_power: 100 hp", "rated_power: !!str 100 hp"},
		[]string{
			`base.yaml:12:16: engine.rated_power: tags such as !!str are not used in scenario files (remove it)`,
		}},
	{"tab",
		[]string{"  rated_power: 100 hp", "	rated_power: 100 hp"},
		[]string{
			`base.yaml:12:1: a tab cannot indent (use spaces)`,
		}},
	{"not UTF-8",
		[]string{"a pusher seaplane", "a pusher \xff seaplane"},
		[]string{
			`base.yaml:1:17: this character is not UTF-8 (save the file as UTF-8)`,
		}},
	{"control character",
		[]string{"a pusher seaplane", "a pusher \x07 seaplane"},
		[]string{
			`base.yaml:1:17: control character U+0007 (remove it)`,
		}},
	{"syntax",
		[]string{"title: a pusher", "title: a: pusher"},
		[]string{
			`base.yaml:1:1: this cannot be read as YAML: a colon stands where none can stand, as in a text without quotes (look at indentation, colons and quotes here and on the line above)`,
		}},
}

func TestFaults(t *testing.T) {
	for _, row := range slices.Concat(readingRows, cowlRows, studyRows, recordRows) {
		t.Run(row.name, func(t *testing.T) {
			_, err := Load(sources([]string{edited(t, row.change...)})...)
			checkFaults(t, err, row.want)
		})
	}
}

// checkFaults compares an error with the faults wanted, line by line.
func checkFaults(t *testing.T, err error, want []string) {
	t.Helper()
	if got := fmt.Sprint(err); got != strings.Join(want, "\n") {
		t.Errorf("faults:\n%s\nwant:\n%s", got, strings.Join(want, "\n"))
	}
}
