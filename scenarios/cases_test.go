package scenarios

import (
	"fmt"
	"reflect"
	"slices"
	"testing"

	"golang.org/x/sync/errgroup"
)

func TestWith(t *testing.T) {
	sc, untouched := mustLoad(t, good), mustLoad(t, good)
	c, err := sc.With([]Setting{{"inlets.left.area", "25 in^2"}, {"oil.maximum", "260 degF ± 3 degF"}})
	if err != nil {
		t.Fatal(err)
	}
	area, maximum := c.Inlets["left"].Area, c.Oil.Maximum
	if area.Doubt != 0 || !closeTo(area.Value, 25*0.0254*0.0254) || !closeTo(maximum.Doubt, 5./3) {
		t.Errorf("%v, %v", area, maximum)
	}
	if !reflect.DeepEqual(sc, untouched) {
		t.Error("the base has changed")
	}
	_, err = sc.With([]Setting{{"inlets.left.aera", "25 in^2"}, {"inlets.left.area", "25"}})
	checkFaults(t, err, []string{
		"inlets.left.aera: unknown path: there is no aera (did you mean inlets.left.area?)",
		"inlets.left.area: 25 has no unit; area takes in^2, ft^2, cm^2, m^2",
	})
	_, err = sc.With([]Setting{{"coolant.maximum", "200 degF"}})
	checkFaults(t, err, []string{
		"base.yaml:18:12: coolant.caution: 220 degF is not below coolant.maximum, 200 degF",
		"base.yaml:19:38: coolant.thermostat.full: 95 degC is above coolant.maximum, 200 degF (the thermostat must be open before the limit is reached)",
	})
}

// Defaults that depend on a word follow it; what is given stays.
func TestWithRefills(t *testing.T) {
	sc := mustLoad(t, good)
	c, err := sc.With([]Setting{{"inlets.left.kind", "scoop"}, {"inlets.right.recovery", "0.5"}, {"inlets.right.lip", "sharp"}})
	if err != nil {
		t.Fatal(err)
	}
	fresh := mustLoad(t, edited(t, "kind: side", "kind: scoop", "    height: 4 in", "    height: 4 in\n    recovery: 0.5\n    lip: sharp"))
	if !reflect.DeepEqual(c.Inlets["left"], fresh.Inlets["left"]) || !reflect.DeepEqual(c.Inlets["right"], fresh.Inlets["right"]) {
		t.Error("a setting does not do what the file would")
	}
	if c.SHA256() != fresh.SHA256() {
		t.Error("the hashes differ")
	}
}

func TestCase(t *testing.T) {
	sc, untouched := mustLoad(t, good), mustLoad(t, good)
	if got := sc.CaseNames(); !slices.Equal(got, []string{"cool", "taxi"}) {
		t.Errorf("cases %v", got)
	}
	cool, err := sc.Case("cool")
	if err != nil {
		t.Fatal(err)
	}
	if cool.Day.Temperature.Known || !cool.Day.Offset.Known || cool.Day.Elevation.Value != 0 || cool.Flight.Legs[0].Name != "climb" {
		t.Errorf("day %+v", cool.Day)
	}
	taxi, err := sc.Case("taxi")
	if err != nil {
		t.Fatal(err)
	}
	if taxi.Flight.Legs[0].Name != "hold" || taxi.Day.Elevation.Text != "500 ft" || taxi.Inlets["left"].Recovery.Value != 0.4 {
		t.Errorf("taxi: %+v, %+v", taxi.Flight.Legs[0], taxi.Day)
	}
	if taxi.Cases != nil || taxi.Sweep != nil || !slices.Equal(taxi.CaseNames(), []string{"taxi"}) {
		t.Error("a case still has cases or studies")
	}
	taxi.Flight.Legs[0].For.Value = 1
	taxi.Inlets["left"].Area.Value = 1
	if !reflect.DeepEqual(sc, untouched) {
		t.Error("the base shares something with its case")
	}
	_, err = sc.Case("taxy")
	checkFaults(t, err, []string{"there is no case taxy (did you mean taxi?)"})
}

// A default word of a case's own flight stays a default: it follows Refill.
func TestCaseDefaultsMove(t *testing.T) {
	taxi, err := mustLoad(t, good).Case("taxi")
	if err != nil {
		t.Fatal(err)
	}
	if !taxi.filled["flight.legs.hold.speed_kind"] || taxi.filled["cases.taxi.flight.legs.hold.speed_kind"] {
		t.Error("the default word has not moved with the flight")
	}
}

func TestEffectiveCases(t *testing.T) {
	sc := mustLoad(t, good)
	list, err := sc.EffectiveCases(nil, []Setting{
		{"flight.legs.hold.for", "5 min"},
		{"cases.cool.day.isa_offset", "10 K"},
		{"day.elevation", "1000 ft"},
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != 2 || list[0].Name != "cool" || list[1].Name != "taxi" {
		t.Fatalf("%+v", list)
	}
	cool, taxi := list[0].Scenario, list[1].Scenario
	if taxi.Flight.Legs[0].For.Value != 300 || cool.Flight.Legs[0].For.Known {
		t.Error("a setting of one flight is not applied to it alone")
	}
	if cool.Day.Offset.Value != 10 || taxi.Day.Offset.Known {
		t.Error("a setting of one case is not applied to it alone")
	}
	if cool.Day.Elevation.Text != "1000 ft" || taxi.Day.Elevation.Text != "1000 ft" {
		t.Error("a setting of the day is not applied to both")
	}
	if list, err = sc.EffectiveCases([]string{"taxi"}, nil); err != nil || len(list) != 1 {
		t.Errorf("one case: %v, %v", list, err)
	}
	_, err = sc.EffectiveCases([]string{"taxi", "tax"}, nil)
	checkFaults(t, err, []string{"there is no case tax (did you mean taxi?)"})
	_, err = sc.EffectiveCases(nil, []Setting{{"flight.legs.hodl.for", "5 min"}, {"day.elevation", "9 kg"}})
	checkFaults(t, err, []string{
		"flight.legs.hodl.for: unknown path: there is no hodl in flight.legs (did you mean flight.legs.hold.for?)",
	})
	_, err = sc.EffectiveCases(nil, []Setting{{"day.elevation", "9 kg"}})
	checkFaults(t, err, []string{"day.elevation: 9 kg is a mass; length takes in, ft, mm, cm, m"})
}

// A case need not fly the leg in which the spray runs, but some case must.
func TestSprayLegOfAnotherCase(t *testing.T) {
	sc := mustLoad(t, edited(t, "leg: hold", "leg: climb", "      exchangers.aux.serves: oil\n", "      spray.leg: hold\n"))
	_, err := sc.EffectiveCases(nil, []Setting{{"spray.leg", "hodl"}})
	checkFaults(t, err, []string{"spray.leg: there is no leg hodl in any flight (did you mean hold?)"})
}

// Without cases the flight of the file is the one case.
func TestNoCases(t *testing.T) {
	sc := mustLoad(t, good)
	sc.Cases, sc.Spray = nil, nil
	list, err := sc.EffectiveCases(nil, []Setting{{"day.elevation", "1000 ft"}})
	if err != nil || len(list) != 1 || list[0].Name != "flight" || list[0].Scenario.Day.Elevation.Text != "1000 ft" {
		t.Errorf("%+v, %v", list, err)
	}
}

func TestParseSetting(t *testing.T) {
	s, err := ParseSetting("day.temperature = 35 degC")
	if err != nil || s != (Setting{"day.temperature", "35 degC"}) {
		t.Errorf("%+v, %v", s, err)
	}
	for _, text := range []string{"", "a", "=1", "a="} {
		if _, err := ParseSetting(text); err == nil {
			t.Errorf("%q is taken", text)
		}
	}
}

// Copies may be made and changed by several goroutines at once; the race
// detector watches.
func TestWithConcurrently(t *testing.T) {
	sc := mustLoad(t, good)
	var g errgroup.Group
	for i := range 8 {
		g.Go(func() error {
			list, err := sc.EffectiveCases(nil, []Setting{{"inlets.left.area", fmt.Sprintf("%d in^2", 10+i)}})
			if err == nil && list[0].Scenario.Inlets["left"].Area.Text != fmt.Sprintf("%d in^2", 10+i) {
				err = fmt.Errorf("a neighbour has changed case %d", i)
			}
			return err
		})
	}
	if err := g.Wait(); err != nil {
		t.Error(err)
	}
}
