package plots_test

import (
	"math"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"hotclimb/plots"
	"hotclimb/sim"
	"hotclimb/sim/airpath"
)

func TestCowlGolden(t *testing.T) {
	for name, m := range madeCowls() {
		fig, err := m.draw(plots.US)
		if err != nil {
			t.Fatal(name, err)
		}
		drawing := svg(t, fig)
		golden(t, filepath.Join("..", "testdata", "golden", "plots_cowl_"+name+".svg"), []byte(drawing))
		if !strings.Contains(drawing, `viewBox="0 0 540 `) {
			t.Errorf("%s is wider than a page: %.120s", name, drawing)
		}
		if *look != "" {
			save(t, fig, filepath.Join(*look, "cowl_"+name+".png"))
		}
	}
}

func TestCowlSameBytes(t *testing.T) {
	fig, err := wideCowl().draw(plots.SI)
	if err != nil {
		t.Fatal(err)
	}
	want := svg(t, fig)
	var wait sync.WaitGroup
	for range 4 {
		wait.Go(func() {
			again, err := wideCowl().draw(plots.SI)
			if err != nil {
				t.Error(err)
				return
			}
			for _, f := range []*plots.Figure{fig, again} {
				if svg(t, f) != want {
					t.Error("the same air gave other bytes")
				}
			}
		})
	}
	wait.Wait()
}

// What a builder looks for, by hand: 60.36 + 6 kW out of the radiator, of which
// 6 kW are vapour; the vent breathes 30 + 0.25·48 = 42 °C; the exit takes
// 1.56·1006·48 W = 75.3 kW. The metal keeps 90 − 66 − 16 − 5 kW, the coolant
// 66 + 2 − 66.36, the oil 16 − 12.072 − 2.
func TestCowlTellsAll(t *testing.T) {
	fig, err := usualCowl().draw(plots.SI)
	if err != nil {
		t.Fatal(err)
	}
	drawing := svg(t, fig)
	drawn := texts(t, drawing, "text")
	for _, want := range []string{
		"chin", "1.300 kg/s", "600 Pa", "30.0 °C", "radiator", "coolant", "66.4 kW", "sprayed", "30.0 → 80.0 °C",
		"oil cooler", "oil", "12.1 kW", "0.300 kg/s", "cowl", "+5.0 kW", "180 Pa", "78.0 °C", "belly", "1.560 kg/s", "75.3 kW",
		"spinner gap", "to outside", "engine", "120.0 kW", "cowl air", "5.0 kW", "16.0 kW", "↓ plate", "2.0 kW", "66.0 kW",
		"inlets", "cores", "compartment", "exit",
		"At the least margin, oil 2.5 K over its limit: 5:43 into the flight in hot climb, 850 m, 30.0 °C outside, 144.0 km/h, ram\u00a0841\u00a0Pa.",
		"Not settled: metal takes up 3.0 kW, coolant takes up 1.6 kW, oil takes up 1.9 kW.",
		"Spray: 6.0 kW leave radiator with the vapour of the water.", "Skin of cowl: 0.4 kW go through it to the outside air.",
		"Vent cabin, behind belly, takes in air of 42.0 °C.",
	} {
		if !has(drawn, want) {
			t.Errorf("%q is not among %q", want, drawn)
		}
	}
	if has(drawn, "backwards") {
		t.Error("something goes backwards")
	}
	about := texts(t, drawing, "desc")[0]
	for _, want := range []string{
		"144.0 km/h, ram 841 Pa.", "1.300 kg/s goes from outside to chin by chin.",
		"1.200 kg/s goes from chin to cowl by radiator, takes 66.4 kW out of the coolant and goes from 30.0 °C to 80.0 °C.",
		"Vent cabin, behind belly, takes in air of 42.0 °C. An estimate",
	} {
		if !strings.Contains(about, want) {
			t.Errorf("%q is not in %q", want, about)
		}
	}
}

func TestCowlTellsBackwards(t *testing.T) {
	fig, err := backwardsCowl().draw(plots.US)
	if err != nil {
		t.Fatal(err)
	}
	drawing := svg(t, fig)
	drawn := texts(t, drawing, "text")
	if count := countOf(drawn, "backwards"); count != 2 || !has(drawn, "158.0 → 203.0 °F") || !has(drawn, "air going backwards") {
		t.Errorf("%d cards say backwards: %q", count, drawn)
	}
	if !has(drawn, "744 BTU/min") { // 0.2·1006·65 W leave by the inlet
		t.Errorf("the heat of the inlet is not told: %q", drawn)
	}
	about := texts(t, drawing, "desc")[0]
	for _, want := range []string{"Air goes backwards through left cheek, second.", "26.5 lb/min goes backwards from cowl to left cheek by second, takes 286 BTU/min out of the coolant"} {
		if !strings.Contains(about, want) {
			t.Errorf("%q is not in %q", want, about)
		}
	}
	// Backwards go the air of one inlet and both sides of one core, to the right
	// that of the other inlet and core and both sides of the exit.
	if left, right := heads(t, drawing, "#454C54"); len(left) != 3 || len(right) != 5 {
		t.Errorf("%d arrows of air go to the left and %d to the right, want 3 and 5", len(left), len(right))
	}
	if left, right := heads(t, drawing, "#0072B2"); len(left) != 0 || len(right) != 2 {
		t.Errorf("%d arrows of coolant go to the left and %d to the right, want none and 2", len(left), len(right))
	}
}

func TestCowlTellsOddAir(t *testing.T) {
	m := usualCowl()
	branches, w := m.res.Air.Branches, &m.res.Worst
	branches[0].In, branches[0].Out = 40, 40
	branches[5].Flow = -0.04
	m.leak("seams", 2, airpath.Outside, 0.04)
	m.res.Exchangers[1].Heat = -1500
	w.EngineHeat, w.IntoCoolant, w.IntoOil = 0, 1e3, 500
	fig, err := m.draw(plots.SI)
	if err != nil {
		t.Fatal(err)
	}
	drawing := svg(t, fig)
	drawn := texts(t, drawing, "text")
	for want, times := range map[string]int{
		"Inlet chin draws exit air back in, and 13.1 kW with it.": 1, "backwards": 1, "from outside": 1, "to outside": 1, "1.9 kW": 1, "-1.5 kW": 1,
		"Not settled: metal gives back 6.5 kW, coolant gives back 63.4 kW, oil gives back 13.6 kW.": 1,
	} {
		if got := countOf(drawn, want); got != times {
			t.Errorf("%q is drawn %d times, not %d, in %q", want, got, times, drawn)
		}
	}
	if about, want := texts(t, drawing, "desc")[0], "by oil cooler, gives 1.5 kW to the oil and goes from"; !strings.Contains(about, want) {
		t.Errorf("%q is not in %q", want, about)
	}
	expect(t, tableOf(t, fig, err, "Air through openings and cores; less than none is backwards"),
		"chin|inlet|outside|chin|1.300|40.0|40.0|-13.1", "seams|leak|cowl|outside|0.040|78.0|78.0|1.9")
}

// Behind an exit that lets nothing out, a vent breathes outside air.
func TestVentBehindStillExit(t *testing.T) {
	m := usualCowl()
	m.res.Air.Branches[6].Flow = 0
	fig, err := m.draw(plots.SI)
	if err != nil {
		t.Fatal(err)
	}
	drawn := texts(t, svg(t, fig), "text")
	if want := "Vent cabin, behind belly, takes in air of 30.0 °C."; !has(drawn, want) {
		t.Errorf("%q is not among %q", want, drawn)
	}
}

func countOf(list []string, text string) int {
	count := 0
	for _, s := range list {
		if s == text {
			count++
		}
	}
	return count
}

func TestCowlInNumbers(t *testing.T) {
	fig, err := usualCowl().draw(plots.SI)
	expect(t, tableOf(t, fig, err, "Air through openings and cores; less than none is backwards"),
		"chin|inlet|outside|chin|1.300|30.0|30.0|", "radiator|core, coolant|chin|cowl|1.200|30.0|80.0|66.4",
		"baffle gaps|leak|chin|cowl|0.060|30.0|30.0|", "spinner gap|leak|chin|outside|0.040|30.0|30.0|0.0", "belly|exit|cowl|outside|1.560|78.0|78.0|75.3")
	expect(t, tableOf(t, fig, err, "Air that stands in inlets, compartments and between cores"), "cowl|180|78.0|5.0|0.4")
	expect(t, tableOf(t, fig, err, "Heat, from the engine to the outside air"), "of the engine|90.0", "engine into coolant|66.0", "warms the metal|3.0",
		"plate out of oil into coolant|2.0", "warms the coolant|1.6", "warms the oil|1.9", "leaves by belly|75.3", "through the skin of cowl|0.4", "with the vapour from radiator|6.0")
	fig, err = backwardsCowl().draw(plots.SI)
	expect(t, tableOf(t, fig, err, "Air through openings and cores"), "left cheek|inlet|outside|left cheek|-0.200|95.0|95.0|13.1", "second|core, coolant|left cheek|cowl|-0.200|70.0|95.0|5.0")
}

func TestBadCowlsAreRefused(t *testing.T) {
	nan := math.NaN()
	for want, spoil := range map[string]func(m *madeCowl){
		"does not hold the air":               func(m *madeCowl) { m.res.Air = sim.AirState{} },
		"the plant has no air":                func(m *madeCowl) { m.plant.Air.Branches = nil },
		"2 places, the plant 3":               func(m *madeCowl) { m.res.Air.Places = m.res.Air.Places[:2] },
		"6 branches, the plant 7":             func(m *madeCowl) { m.res.Air.Branches = m.res.Air.Branches[:6] },
		"2 exchangers, the plant 3":           func(m *madeCowl) { m.res.Exchangers = m.res.Exchangers[:2] },
		"branch radiator goes from 1 to 2":    func(m *madeCowl) { m.res.Air.Branches[2].From = 1 },
		"exchanger radiator is in branch 7":   func(m *madeCowl) { m.plant.Exchangers[0].Branch = 7 },
		"vent cabin is behind branch 0":       func(m *madeCowl) { m.plant.Vents[0].Exit = 0 },
		"has 0 laws":                          func(m *madeCowl) { m.plant.Air.Branches[3].Core = nil },
		"pressure in cowl":                    func(m *madeCowl) { m.res.Air.Places[2].Pressure = nan },
		"temperature in chin":                 func(m *madeCowl) { m.res.Air.Places[0].Temperature = math.Inf(1) },
		"heat into cowl":                      func(m *madeCowl) { m.res.Air.Places[2].Heat = nan },
		"skin of cowl":                        func(m *madeCowl) { m.res.Air.Places[2].Skin = nan },
		"air flow of belly":                   func(m *madeCowl) { m.res.Air.Branches[6].Flow = nan },
		"air into belly":                      func(m *madeCowl) { m.res.Air.Branches[6].In = nan },
		"air out of belly":                    func(m *madeCowl) { m.res.Air.Branches[6].Out = 1e12 },
		"heat of plate":                       func(m *madeCowl) { m.res.Exchangers[2].Heat = nan },
		"the outside temperature":             func(m *madeCowl) { m.res.Worst.Outside = nan },
		"the heat into the oil has the value": func(m *madeCowl) { m.res.Worst.IntoOil = nan },
		"the ram pressure":                    func(m *madeCowl) { m.res.Worst.Ram = nan },
		"share of vent cabin":                 func(m *madeCowl) { m.plant.Vents[0].Share = nan },
		"margin of oil_sump":                  func(m *madeCowl) { m.res.Peaks[1].Margin = nan },
	} {
		m := usualCowl()
		spoil(m)
		if _, err := m.draw(plots.US); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want an error on %q, got %v", want, err)
		}
	}
	m := usualCowl()
	for i, err := range []error{
		second(plots.Cowl(nil, &m.res, plots.US, caption)), second(plots.Cowl(&m.plant, nil, plots.US, caption)), second(m.draw(plots.Units(7))),
	} {
		if err == nil {
			t.Errorf("%d was accepted", i)
		}
	}
}

func second(_ *plots.Figure, err error) error { return err }

// A leg and peaks may lack; names of the user can be anything.
func TestCowlOfOddNames(t *testing.T) {
	m := usualCowl()
	m.plant.Air.Places[2].Name, m.res.Air.Places[2].Name = "<&>", "<&>"
	m.res.Air.Branches[6].Name = strings.Repeat("an exit with a long name ", 9)
	m.res.Legs, m.res.Peaks = nil, nil
	fig, err := m.draw(plots.US)
	if err != nil {
		t.Fatal(err)
	}
	drawn := texts(t, svg(t, fig), "text")
	if !has(drawn, "<&>") || !slices.ContainsFunc(drawn, func(s string) bool { return strings.HasPrefix(s, "an exit with") }) {
		t.Errorf("drawn are %q", drawn)
	}
}
