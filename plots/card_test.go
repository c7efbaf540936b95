package plots_test

import (
	"bytes"
	"math"
	"path/filepath"
	"strings"
	"testing"

	"hotclimb/plots"
	"hotclimb/sim"
	"hotclimb/sweep/optimum"
)

// cardOf is a made-up answer: 31 °C at 30 m/s, 1 K more for each m/s, 2 K less
// for each 600 m.
func cardOf(speeds, elevations []float64) *optimum.LimitTable {
	t := &optimum.LimitTable{
		Case: "hot_climb", Leg: "climb", Above: []float64{5 / 1.8, 10 / 1.8, 15 / 1.8},
		Filed: optimum.FiledClimb{Speed: 30, Elevation: 200, Temperature: 35, Status: sim.OverLimit, Margin: -4, By: optimum.ByCoolant},
	}
	row := func(speed, elevation float64) optimum.LimitRow {
		r := optimum.LimitRow{Speed: speed, Elevation: elevation, ClimbTime: 600}
		r.Ceiling = optimum.Ceiling{Temperature: 31 + speed - 30 - (elevation-200)/300, Bound: optimum.Found, By: optimum.ByCoolant}
		for _, step := range t.Above {
			r.Above = append(r.Above, optimum.TimeAbove{Temperature: r.Temperature + step, Time: 400 / step, By: optimum.ByCoolant, Leg: "climb"})
		}
		return r
	}
	for _, e := range elevations {
		for _, s := range speeds {
			t.Rows = append(t.Rows, row(s, e))
		}
		t.Slowest = append(t.Slowest, optimum.SlowClimb{
			Elevation: e, Temperature: 36 - e/150, Speed: 34.01 - e/300, Fastest: 40, Bound: optimum.SlowestFound, By: optimum.ByOil,
		})
	}
	t.Own = row(30, 200)
	return t
}

func usualCard() *optimum.LimitTable {
	t := cardOf([]float64{25, 27.5, 30, 33, 36}, []float64{200, 800, 1400})
	t.Spray = &optimum.SprayClimb{
		Onto: "left_radiator", Circuit: optimum.ByCoolant, Starts: 104, Rate: 1e-5, Least: true, RateFor: 36.5, Tank: 6e-3, Carried: 600,
		Needed:  []optimum.SprayTime{{Temperature: 33.8, Time: 61, Enough: true}, {Temperature: 36.6, Time: 700}, {Temperature: 39.4, Time: math.NaN()}},
		Ceiling: optimum.Ceiling{Temperature: 36, Bound: optimum.Found, By: optimum.ByOil},
	}
	return t
}

// oddCard has everything that is not as usual, and names as long as they come.
func oddCard() *optimum.LimitTable {
	t := cardOf([]float64{12, 20, 24, 26, 28, 30, 34, 40, 50}, []float64{200, 1400, 2400, 3800})
	bounds := []optimum.Ceiling{
		{Temperature: math.NaN(), Bound: optimum.NoClimb, By: optimum.ByStall, Trouble: "slower than the aircraft can fly"},
		{Temperature: math.NaN(), Bound: optimum.NoClimb, By: optimum.ByClimb, Trouble: "leg climb does not reach its end"},
		{Temperature: optimum.HottestField, Bound: optimum.Hotter},
		{Temperature: optimum.ColdestField, Bound: optimum.Colder, By: optimum.ByBoiling},
		{Temperature: 12, Bound: optimum.Found, By: optimum.ByClimb},
	}
	for i := range t.Rows {
		if i%3 > 0 {
			t.Rows[i].Ceiling = bounds[i%len(bounds)]
		}
	}
	t.Slowest[0].Bound, t.Slowest[0].By = optimum.SlowestNone, optimum.ByBoiling
	t.Slowest[1].Bound = optimum.SlowestAny
	t.Slowest[3].Bound, t.Slowest[3].Speed = optimum.SlowestNone, math.NaN()
	t.Spray = &optimum.SprayClimb{Onto: "radiator", Trouble: "spray does not help: the oil limits the climb"}
	return t
}

// never has an own climb that is not as usual.
func never(own optimum.Ceiling) *optimum.LimitTable {
	t := cardOf([]float64{30}, []float64{200})
	t.Own.Ceiling, t.Own.Above = own, nil
	t.Rows[0] = t.Own
	return t
}

func cards() map[string]*optimum.LimitTable {
	return map[string]*optimum.LimitTable{
		"usual":  usualCard(),
		"odd":    oddCard(),
		"colder": never(optimum.Ceiling{Temperature: optimum.ColdestField, Bound: optimum.Colder, By: optimum.ByBoiling}),
		"hotter": never(optimum.Ceiling{Temperature: optimum.HottestField, Bound: optimum.Hotter}),
		"none":   never(optimum.Ceiling{Temperature: math.NaN(), Bound: optimum.NoClimb, By: optimum.ByStall}),
	}
}

func card(t *testing.T, table *optimum.LimitTable, u plots.Units) *plots.Figure {
	t.Helper()
	fig, err := plots.LimitsCard(table, u, caption)
	if err != nil {
		t.Fatal(err)
	}
	return fig
}

func TestCardGolden(t *testing.T) {
	for name, u := range map[string]plots.Units{"usual": plots.US, "odd": plots.SI} {
		var svg bytes.Buffer
		if err := card(t, cards()[name], u).WriteSVG(&svg); err != nil {
			t.Fatal(err)
		}
		golden(t, filepath.Join("..", "testdata", "golden", "plots_card_"+name+".svg"), svg.Bytes())
	}
	for name, table := range cards() {
		for u, system := range map[plots.Units]string{plots.US: "us", plots.SI: "si"} {
			if *look != "" {
				save(t, card(t, table, u), filepath.Join(*look, "card_"+name+"_"+system+".png"))
			}
		}
	}
}

// Temperatures are rounded down, speeds and minutes of spray up, for safety's
// sake. 31 °C is 87.8 °F; 33.34 m/s, the slowest at 200 m, is 74.6 mph.
func TestCardRoundsToTheSafeSide(t *testing.T) {
	var svg bytes.Buffer
	if err := card(t, usualCard(), plots.US).WriteSVG(&svg); err != nil {
		t.Fatal(err)
	}
	drawn := texts(t, svg.String(), "text")
	for _, want := range []string{
		"UNLIMITED CLIMB UP TO", "87 °F", "climbing at 67 mph,", "from a field at 656 ft.",
		"coolant  2.4 / 1.2 / 0.8", // 400/step s: 144, 72, 48 s
		"656 ft, 94 °F:  75 mph; below that, the oil limits",
		"Water spray on left radiator",
		"On at 219 °F coolant, 9.5 gal/h: carried for 10.0 min. Unlimited climb with it: 96 °F.",
		"Needed: 1.1 min at 92 °F; 11.7 min at 97 °F, which is NOT carried; not held at 102 °F.",
	} {
		if !has(drawn, want) {
			t.Errorf("%q is not among %q", want, drawn)
		}
	}
	if about := texts(t, svg.String(), "desc"); len(about) != 1 ||
		about[0] != "Climbing at 67 mph from a field at 656 ft, the climb is unlimited up to 87 °F at the field; above that, the coolant limits." {
		t.Errorf("description is %q", about)
	}
	if root, _, _ := strings.Cut(svg.String(), ">"); !strings.Contains(root, `viewBox="0 0 612 792"`) || !strings.Contains(root, `role="img"`) {
		t.Errorf("root element is %s", root)
	}
}

// The foot says what is kept for doubt, and nothing where nothing is.
func TestCardTellsDoubt(t *testing.T) {
	for kept, want := range map[float64]string{0: "", 1: "With 1 standard deviation of doubt", 1.645: "With 1.645 standard deviations of doubt"} {
		table, svg := usualCard(), bytes.Buffer{}
		table.Doubt = kept
		if err := card(t, table, plots.US).WriteSVG(&svg); err != nil {
			t.Fatal(err)
		}
		foot := strings.Join(texts(t, svg.String(), "text"), " ")
		if !strings.Contains(foot, want) || strings.Contains(foot, "of doubt kept on top of every margin.") != (kept > 0) {
			t.Errorf("with %g deviations kept: %s", kept, foot)
		}
	}
}

// No minutes are told apart from less than 6 s.
func TestCardTellsLimitsBeforeTheClimb(t *testing.T) {
	for _, passed := range []float64{0, 5} {
		table, svg := usualCard(), bytes.Buffer{}
		table.Rows[0].Above[2].Time = passed
		if err := card(t, table, plots.US).WriteSVG(&svg); err != nil {
			t.Fatal(err)
		}
		drawn := strings.Join(texts(t, svg.String(), "text"), " ")
		if !strings.Contains(drawn, "coolant  2.4 / 1.2 / 0.0") || strings.Contains(drawn, "(0.0: before the climb begins)") != (passed == 0) {
			t.Errorf("limit passed after %g s: %q", passed, drawn)
		}
	}
}

// What is not as usual is said so.
func TestCardsOfOddClimbs(t *testing.T) {
	want := map[string][]string{
		"odd":    {"above 131", "below −4", "no climb", "too slow to fly", "end not reached", "hotter: end not reached", "boiling"},
		"colder": {"NO UNLIMITED CLIMB, NOT EVEN AT", "−4 °F", "Even then, the coolant boils."},
		"hotter": {"UNLIMITED CLIMB, NO LIMIT FOUND UP TO", "131 °F"},
		"none":   {"NO CLIMB", "As filed, it is too slow to fly."},
	}
	for name, list := range want {
		var svg bytes.Buffer
		if err := card(t, cards()[name], plots.US).WriteSVG(&svg); err != nil {
			t.Fatal(err)
		}
		drawn := texts(t, svg.String(), "text")
		for _, text := range list {
			if !has(drawn, text) {
				t.Errorf("%s: %q is not among %q", name, text, drawn)
			}
		}
	}
	if _, err := plots.LimitsCard(&optimum.LimitTable{}, plots.US, caption); err == nil {
		t.Error("a card of nothing")
	}
}
