package scenarios

import (
	"strings"
	"testing"
)

func TestOverlayMerges(t *testing.T) {
	sc := mustLoad(t, good, `
title: with overlay
inlets:
  left: {recovery: 0.5}
exchangers:
  plate: {liquid: parallel}
  third: {serves: oil, cooled_by: coolant, conductance: {air: 1 kW/K, air_flow: 1 kg/s, liquid: 1 kW/K, liquid_flow: 9 L/min}}
compartments: {}
flight:
  legs:
    - {name: dive, kind: descend, speed: 90 mph, to_altitude: 1000 ft}
    - {name: climb, speed: 75 mph}
cases:
  - name: taxi
    flight: {legs: [{name: hold, throttle: 20 %}]}
  - {name: high, day: {elevation: 3000 ft, isa_offset: 0 K}}
`, `
title: with two
changes:
  - name: bigger
    set: {inlets.left.area: 26 in^2}
sweep: {cases: [high]}
`)
	for path, want := range map[string]string{
		"title":                                "with two",
		"inlets.left.recovery":                 "0.5",
		"inlets.left.area":                     "20 ± 1 in^2",
		"exchangers.plate.liquid":              "parallel",
		"flight.legs.climb.speed":              "75 mph",
		"flight.legs.climb.to_altitude":        "4000 ft",
		"flight.legs.dive.speed":               "90 mph",
		"cases.taxi.flight.legs.hold.throttle": "20 %",
		"cases.taxi.flight.legs.hold.for":      "10 min",
		"cases.high.day.elevation":             "3000 ft",
	} {
		p, err := sc.Compile(path)
		if err != nil {
			t.Error(err)
		} else if got := p.Text(sc); got != want {
			t.Errorf("%s is %q, want %q", path, got, want)
		}
	}
	check := func(what, got, want string) {
		if got != want {
			t.Errorf("%s: %s, want %s", what, got, want)
		}
	}
	check("order of the legs", strings.Join(legNames(&sc.Flight), " "), "climb dive")
	check("order of the cases", strings.Join(sc.CaseNames(), " "), "cool taxi high")
	check("order of the exchangers", strings.Join(sc.exchangerOrder, " "), "radiator aux plate third")
	check("settings of the change", sc.Changes[0].Set["inlets.left.area"], "26 in^2")
	check("settings kept", sc.Changes[0].Set["exchangers.aux.serves"], "oil")
	check("a list of words is replaced", strings.Join(sc.Sweep.Cases, " "), "high")
}

func legNames(f *Flight) []string {
	var names []string
	for _, leg := range f.Legs {
		names = append(names, leg.Name)
	}
	return names
}

// A key of an overlay replaces the keys of earlier files that exclude it, also
// when a file between them says nothing, and in named and listed sections.
func TestOverlayReplacesAlternatives(t *testing.T) {
	sc := mustLoad(t, good, "title: says nothing of it\n", `
inlets:
  left: {diameter: 5 in}
  right: {area: 12 in^2}
exchangers:
  aux: {rating: {heat: 20 kW, temperature_difference: 60 K, air_flow: 0.4 kg/s, liquid_flow: 30 L/min}}
day: {hot_day: part_23}
cases:
  - {name: cool, day: {temperature: 50 degF}}
`)
	left, right, aux := sc.Inlets["left"], sc.Inlets["right"], sc.Exchangers["aux"]
	if left.Area.Known || !left.Diameter.Known {
		t.Error("diameter has not replaced area")
	}
	if right.Width.Known || right.Height.Known || !right.Area.Known {
		t.Error("area has not replaced width and height")
	}
	if aux.Conductance != nil || aux.Rating == nil || aux.PowerLaw == nil {
		t.Error("rating has not replaced conductance, or more than that")
	}
	if sc.Day.Temperature.Known || sc.Day.HotDay != "part_23" {
		t.Error("hot_day has not replaced temperature")
	}
	if k := sc.Cases[0].Day; k.Offset.Known || !k.Temperature.Known {
		t.Error("temperature has not replaced isa_offset in the case")
	}
}

// An overlay that misspells a name adds a section without meaning to.
func TestOverlaySlips(t *testing.T) {
	_, err := Load(sources([]string{good, `
exchangers:
  auxx: {serves: oil}
flight:
  legs:
    - {name: climp, speed: 80 mph}
vents:
  left: {behind: bely, share: 0.1}
`})...)
	checkFaults(t, err, []string{
		"over1.yaml:3:3: exchangers.auxx: is new here: the files before have none of that name (did you mean aux?)",
		"over1.yaml:3:3: exchangers.auxx: does not say how much heat it moves (give rating, conductance or geometry)",
		"over1.yaml:3:3: exchangers.auxx.from: is missing: the core is fed from nowhere (name an inlet, a compartment or another exchanger)",
		"over1.yaml:3:3: exchangers.auxx.into: is missing: the core blows nowhere (name a compartment or an exit)",
		"over1.yaml:3:3: exchangers.auxx: has no face size (give face_area, or width and height)",
		"over1.yaml:3:3: exchangers.auxx: does not say its pressure drop on the air side (give bench, power_law or geometry)",
		"over1.yaml:6:7: flight.legs.climp: is new here: the files before have none of that name (did you mean climb?)",
		"over1.yaml:6:7: flight.legs.climp.kind: is missing (what is done: one of idle, taxi, run_up, take_off, climb, level, descend, shut_down)",
		"over1.yaml:6:7: flight.legs.climp: has no end (give to_altitude, for, until or after_peak)",
		`over1.yaml:8:18: vents.left.behind: "bely" is the name of nothing in exits (did you mean belly?)`,
	})
}

// Faults point into the file that caused them.
func TestOverlayFaults(t *testing.T) {
	_, err := Load(sources([]string{edited(t, "diameter: 68 in", "diameter: 68"), `
inlets:
  left: {recovery: 1.3}
  right:
    heigth: 5 in
exits:
  belly: {from: bai}
`, `
coolant: {caution: 120 degC}
cases:
  - name: taxi
    set: {spray.tank: 5 m}
`})...)
	checkFaults(t, err, []string{
		"base.yaml:8:25: aircraft.propeller.diameter: 68 has no unit; length takes in, ft, mm, cm, m",
		"over1.yaml:3:20: inlets.left.recovery: 1.3 is out of range (0 to 1)",
		"over1.yaml:5:5: inlets.right.heigth: unknown key (did you mean height?)",
		`over1.yaml:7:17: exits.belly.from: "bai" is the name of nothing in compartments (did you mean bay?)`,
		"over2.yaml:2:20: coolant.caution: 120 degC is not below coolant.maximum, 235 degF",
		"over2.yaml:5:23: cases.taxi.set.spray.tank: 5 m is a length; volume takes qt, gal, L, cm^3",
	})
}
