package scenarios

import (
	"errors"
	"strings"
	"testing"
)

// good is a scenario without faults that uses every section.
const good = `title: a pusher seaplane with two cores
notes: "measured in the hangar: mostly"
aircraft:
  mass: 1400 lb
  wing_area: 150 ft^2
  aspect_ratio: 8
  parasite_drag: 0.05 ± 0.005
  propeller: {diameter: 68 in, place: pusher}
  airspeed_error:
    slow: {indicated: 60 mph, calibrated: 63 mph}
engine:
  rated_power: 100 hp
  rated_speed: 5800 rpm
coolant:
  volume: 6 L
  pump_flow: 90 L/min
  maximum: 235 degF
  caution: 220 degF
  thermostat: {opens: 80 degC, full: 95 degC}
oil:
  volume: 4 L
  pump_flow: 20 L/min
  maximum: 250 degF
inlets:
  left:
    kind: side
    area: 20 in^2 ± 1 in^2
    diffuser: {angle: 9 deg}
  right:
    width: 5 in
    height: 4 in
exchangers:
  radiator:
    serves: coolant
    from: left
    into: bay
    width: 12 in
    height: 9 in
    rating: {heat: 45 kW, temperature_difference: 75 K, air_speed: 8 m/s, liquid_flow: 80 L/min}
    bench:
      low: {speed: 5 m/s, drop: 120 Pa}
      high: {speed: 10 m/s, drop: 400 Pa}
  aux:
    serves: coolant
    from: right
    into: slot
    face_area: 60 in^2
    conductance: {air: 400 W/K, air_flow: 0.4 kg/s, liquid: 2 kW/K, liquid_flow: 40 L/min}
    power_law: {speed: 8 m/s, drop: 250 Pa}
  plate:
    serves: oil
    cooled_by: coolant
    rating: {heat: 12 kW, temperature_difference: 40 K, air_flow: 0.8 kg/s, liquid_flow: 15 L/min}
compartments:
  bay: {}
exits:
  belly: {from: bay, kind: flap, area: 40 in^2}
  slot: {area: 25 in^2}
leaks:
  seam: {from: bay, into: outside, area: 2 in^2}
vents:
  scoop: {behind: slot, share: 10 %}
spray:
  onto: radiator
  tank: 5 L
  rate: 0.5 L/min
  leg: hold
day:
  elevation: 500 ft
  temperature: 95 degF
flight:
  legs:
    - name: climb
      kind: climb
      speed: 70 mph
      to_altitude: 4000 ft
cases:
  - name: cool
    day: {isa_offset: 0 K}
  - name: taxi
    flight:
      legs:
        - {name: hold, kind: taxi, throttle: 15 %, for: 10 min}
    set:
      inlets.left.recovery: 0.4
changes:
  - name: bigger
    set:
      inlets.left.area: 25 in^2
      exchangers.aux.serves: oil
    weight: 2 lb
sweep:
  vary:
    inlets.left.area: 15..30 in^2:4
    exchangers.aux.serves: coolant, oil
  cases: [taxi]
size:
  vary:
    exits.belly.area: 20 in^2..60 in^2
tests:
  - name: june
    date: 2026-06-14
    set:
      day.temperature: 81 degF
    points:
      top: {time: 9 min, altitude: 4000 ft, speed: 70 mph, outside: 68 degF, coolant: 212 degF}
fit:
  paths: [aircraft.parasite_drag]
  tests: [june]
`

// mustLoad loads files that have no fault.
func mustLoad(t testing.TB, texts ...string) *Scenario {
	t.Helper()
	sc, err := Load(sources(texts)...)
	if err != nil {
		t.Fatalf("Load:\n%v", err)
	}
	return sc
}

// sources names the files base.yaml, over1.yaml and so on.
func sources(texts []string) []Source {
	names := []string{"base.yaml", "over1.yaml", "over2.yaml"}
	list := make([]Source, len(texts))
	for i, text := range texts {
		list[i] = Source{Name: names[i], Text: []byte(text)}
	}
	return list
}

// edited replaces a part of the good scenario.
func edited(t testing.TB, replacements ...string) string {
	t.Helper()
	text := good
	for i := 0; i < len(replacements); i += 2 {
		if strings.Count(text, replacements[i]) != 1 {
			t.Fatalf("%q stands %d times in the text", replacements[i], strings.Count(text, replacements[i]))
		}
		text = strings.Replace(text, replacements[i], replacements[i+1], 1)
	}
	return text
}

func TestLoadGood(t *testing.T) {
	sc := mustLoad(t, good)
	area := sc.Inlets["left"].Area
	if !closeTo(area.Value, 20*0.0254*0.0254) || !closeTo(area.Doubt, 0.0254*0.0254) {
		t.Errorf("inlets.left.area is %v ± %v m²", area.Value, area.Doubt)
	}
	if !area.Written || area.Text != "20 in^2 ± 1 in^2" || area.Unit != "in^2" {
		t.Errorf("how it was written is lost: %+v", area)
	}
	eff := sc.Aircraft.SpanEfficiency
	if eff.Value != 0.75 || eff.Doubt != 0.05 || eff.Written || !eff.Known || eff.Source == "" {
		t.Errorf("default of aircraft.span_efficiency: %+v", eff.Number)
	}
	if sc.Display != "us" || sc.Exits["slot"].Kind != "hole" {
		t.Errorf("default words are %q and %q", sc.Display, sc.Exits["slot"].Kind)
	}
	if sc.Compartments["bay"] == nil {
		t.Error("a section of defaults only is lost")
	}
	if got := strings.Join(sc.exchangerOrder, " "); got != "radiator aux plate" {
		t.Errorf("order of the exchangers: %s", got)
	}
}

func closeTo(a, b float64) bool { return a == b || (a-b)/b < 1e-12 && (b-a)/b < 1e-12 }

func TestLoadNothing(t *testing.T) {
	if _, err := Load(); err == nil {
		t.Error("no file is no scenario")
	}
}

// Every built-in scenario must load, whatever its contents.
func TestBuiltin(t *testing.T) {
	names := BuiltinNames()
	if len(names) == 0 {
		t.Fatal("there are none")
	}
	for _, name := range names {
		if _, err := LoadFile(name, nil); err != nil {
			t.Errorf("%s:\n%v", name, err)
		}
	}
	if _, ok := Builtin("nothing"); ok {
		t.Error("there is a built-in scenario nothing")
	}
	_, err := LoadFile("no/such/file.yaml", nil)
	if err == nil || !strings.Contains(err.Error(), names[0]) {
		t.Errorf("the error of a missing file does not name the built-in scenarios: %v", err)
	}
}

// All faults of a file come at once, in the order of its lines, and those that
// only follow from another are left out.
func TestLoadTellsAllFaults(t *testing.T) {
	text := edited(t,
		"mass: 1400 lb", "mass: 1400",
		"rated_speed: 5800 rpm", "rated_spede: 5800 rpm",
		"    area: 20 in^2 ± 1 in^2\n", "    aera: 20 in^2\n",
		"exits:\n  belly: {from: bay", "exits:\n  belly: {from: bya")
	_, err := Load(sources([]string{text})...)
	var faults Faults
	if !errors.As(err, &faults) {
		t.Fatalf("the error is %T", err)
	}
	var paths []string
	for _, f := range faults {
		paths = append(paths, f.Path)
	}
	want := "aircraft.mass engine.rated_spede inlets.left.aera exits.belly.from"
	if got := strings.Join(paths, " "); got != want {
		t.Errorf("faults at %s, want %s:\n%v", got, want, err)
	}
}
