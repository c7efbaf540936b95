package plots_test

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"hotclimb/plots"
)

// noise is a made-up error of a reading: no two alike, about normal, the same
// in every test.
func noise(i int, sigma float64) float64 {
	x := 0.0
	for k := range 4 {
		_, part := math.Modf(math.Abs(math.Sin(float64(i*7+k*131+1)*12.9898)) * 43758.5453)
		x += part - 0.5
	}
	return sigma * x / math.Sqrt(4.0/12)
}

// gauge reads a made-up climb n times over so many seconds.
func gauge(n int, seconds, start, rise, sigma float64, seed int) plots.GaugeReadings {
	g := plots.GaugeReadings{Noise: sigma, Time: even(0, seconds, n)}
	for i, t := range g.Time {
		model := start + rise*(1-math.Exp(-t/240))
		g.Model = append(g.Model, model)
		g.Read = append(g.Read, model+noise(i+seed, sigma)+0.4*math.Sin(t/90))
	}
	g.Refused = make([]bool, n)
	return g
}

// recordOf returns a made-up record.
func recordOf(name string, n int, seconds float64, seed int) plots.FlightRecord {
	return plots.FlightRecord{
		Name:    name,
		Coolant: gauge(n, seconds, 84, 22+float64(seed%7), 1.1, 1000*seed),
		Oil:     gauge(n, seconds, 78, 30-float64(seed%5), 1.4, 1000*seed+500),
	}
}

// faulty has a spike and a stuck sensor that were refused, and a gap.
func faulty(name string, n int) plots.FlightRecord {
	r := recordOf(name, n, 1200, 3)
	r.Coolant.Read[n/4] += 60
	r.Coolant.Refused[n/4] = true
	for i := n / 2; i < n/2+n/10; i++ {
		r.Oil.Read[i], r.Oil.Refused[i] = r.Oil.Read[n/2], true
	}
	r.Oil.Read[n/8] -= 90
	r.Oil.Refused[n/8] = true
	c := &r.Coolant
	for _, list := range []*[]float64{&c.Time, &c.Read, &c.Model} {
		*list = append((*list)[:n*6/10:n*6/10], (*list)[n*7/10:]...)
	}
	c.Refused = append(c.Refused[:n*6/10:n*6/10], c.Refused[n*7/10:]...)
	return r
}

func records() map[string][]plots.FlightRecord {
	lone := recordOf("baseline, hand-read", 12, 1200, 1)
	noOil := recordOf("coolant only, before the oil gauge was fitted", 8, 700, 2)
	noOil.Oil = plots.GaugeReadings{}
	six := []plots.FlightRecord{
		lone, faulty("demo_log.csv, 1 Hz, 20 minutes", 1200), noOil, recordOf("exit taped to one half", 1200, 1500, 4),
		recordOf("louvers swapped", 14, 1100, 5), recordOf("a record with a very long name that says all of what was different on that day, and then some more of it", 600, 900, 6),
	}
	var thirteen []plots.FlightRecord
	for i := range 13 {
		thirteen = append(thirteen, recordOf(fmt.Sprintf("flight %d", i+1), 10, 1000, i))
	}
	quiet := recordOf("no noise told", 5, 300, 8)
	quiet.Coolant.Noise, quiet.Oil.Noise = 0, 0
	single := recordOf("one reading", 1, 0, 9)
	single.Oil = plots.GaugeReadings{}
	return map[string][]plots.FlightRecord{
		"few": {lone, recordOf("exit taped to one half", 10, 900, 4)}, "one": {lone}, "log": {faulty("demo_log.csv", 1200)},
		"six": six, "thirteen": thirteen, "quiet": {quiet}, "single": {single},
	}
}

// fitted is a made-up fit with its correlations.
func fitted(n int) ([]plots.FittedNumber, [][]float64) {
	names := []string{
		"exits.belly.pressure_coefficient", "exchangers.oil_cooler.power_law.drop", "gauges.coolant.bias", "gauges.oil.lag",
		"inlets.chin.recovery", "exchangers.second_radiator_behind_gearbox.power_law.exponent_of_the_drop", "engine.heat_to_coolant",
		"leaks.baffles.area",
	}
	units := []string{"", "in^2", "ddegF", "s", "", "", "", "in²"}
	numbers := make([]plots.FittedNumber, n)
	r := make([][]float64, n)
	for i := range numbers {
		name := names[i%len(names)]
		if i >= len(names) {
			name = fmt.Sprintf("%s_%d", name, i/len(names)+1)
		}
		size := math.Pow(10, float64(i%6)-2)
		numbers[i] = plots.FittedNumber{
			Name: name, Unit: units[i%len(units)], Prior: size, Doubt: 0.2 * size,
			Value: size * (1 + 0.3*math.Sin(float64(3*i+1))), After: size * (0.03 + 0.015*float64(i%8)),
		}
	}
	for i := range r {
		r[i] = make([]float64, n)
		for j := range r[i] {
			r[i][j] = 0.97 * math.Cos(float64((i+1)*(j+1))) * math.Exp(-math.Abs(float64(i-j))/6)
		}
		r[i][i] = 1
	}
	return numbers, r
}

// fit is a chart of a fit.
type fit struct {
	numbers      []plots.FittedNumber
	correlations [][]float64
}

func fits() map[string]fit {
	of := func(n int) fit { a, b := fitted(n); return fit{a, b} }
	four := of(4)
	four.numbers[1].Held = "at its least, 0.008"
	four.numbers[1].Value, four.numbers[1].After = 0.08, 0
	four.numbers[3].Doubt = 0
	four.numbers[2].Value = 30
	bare := of(3)
	bare.correlations = nil
	return map[string]fit{"four": four, "bare": bare, "one": of(1), "eight": of(8), "twelve": of(12), "many": of(25), "most": of(40), "more": of(41)}
}

func differences() map[string][]plots.Difference {
	change := func(v, half float64, verdict string) *plots.Interval {
		return &plots.Interval{Value: v, Low: v - half, High: v + half, Verdict: verdict}
	}
	usual := []plots.Difference{
		{Name: "louvers swapped", Coolant: change(-4.1, 1.3, "real"), Oil: change(0.8, 2.1, "not distinguishable from noise; 3 more flights of each would settle it")},
		{Name: "exit taped to one half", Coolant: change(9.4, 1.6, "real"), Oil: change(6.2, 2.0, "real"), Note: "tape held for all of the climb"},
		{Name: "coolant only", Coolant: change(0.2, 4.4, "not distinguishable from noise")},
	}
	var many []plots.Difference
	for i := range 12 {
		many = append(many, plots.Difference{Name: fmt.Sprintf("%s_%d", longName, i), Coolant: change(float64(i-6), 3, "real"), Oil: change(float64(6-i), 2, "not distinguishable from noise")})
	}
	return map[string][]plots.Difference{
		"usual": usual, "one": usual[2:], "many": many,
		"huge": {{Name: "out of hand", Coolant: change(-12345.6, 2345, "real"), Oil: change(0, 0, "")}},
	}
}

var doubtNow = plots.MarginDoubt{Coolant: 4.2, Oil: 5.6}

func candidates() map[string][]plots.CandidateFlight {
	usual := []plots.CandidateFlight{
		{Name: "exit taped to one half", Left: plots.MarginDoubt{Coolant: 2.1, Oil: 2.9}, Note: "stop at the caution: the margin is small, the tape may come off"},
		{Name: "climb at 85 mph", Left: plots.MarginDoubt{Coolant: 3.4, Oil: 4.0}},
		{Name: "outside air above 86 °F", Left: plots.MarginDoubt{Coolant: 4.1, Oil: 5.6}},
	}
	var many []plots.CandidateFlight
	for i := range 20 {
		many = append(many, plots.CandidateFlight{Name: fmt.Sprintf("%s %d", longName, i+1), Left: plots.MarginDoubt{Coolant: 0.2 * float64(i), Oil: 0.28 * float64(i)}})
	}
	return map[string][]plots.CandidateFlight{"usual": usual, "many": many, "known": {{Name: "all is known"}}}
}

func shareLists() map[string][]plots.ShareOfDoubt {
	usual := []plots.ShareOfDoubt{
		{Name: "exits.belly.pressure_coefficient", Coolant: plots.Index{First: 0.52, Total: 0.58, Low: 0.51, High: 0.65}, Oil: plots.Index{First: 0.21, Total: 0.30, Low: 0.24, High: 0.36}},
		{Name: "exchangers.oil_cooler.power_law.drop", Coolant: plots.Index{First: 0.02, Total: 0.05, Low: 0.03, High: 0.07}, Oil: plots.Index{First: 0.44, Total: 0.61, Low: 0.55, High: 0.68}},
		{Name: "engine.heat_to_coolant", Coolant: plots.Index{First: 0.31, Total: 0.34, Low: 0.28, High: 0.4}, Oil: plots.Index{First: -0.01, Total: 0.004, Low: 0, High: 0.01}},
	}
	var many []plots.ShareOfDoubt
	for i := range 25 {
		v := 0.4 * math.Pow(0.8, float64(i))
		many = append(many, plots.ShareOfDoubt{Name: fmt.Sprintf("%s_%d", longName, i), Coolant: plots.Index{First: v, Total: 1.3 * v}, Oil: plots.Index{First: 0.3 * v, Total: 0.4 * v}})
	}
	return map[string][]plots.ShareOfDoubt{
		"usual": usual, "many": many, "nothing": {{Name: "nothing"}},
		"odd": {{Name: "few draws", Coolant: plots.Index{First: -0.3, Total: 1.4, Low: -0.5, High: 2}, Oil: plots.Index{First: 1.1, Total: 0.9}}},
	}
}

// bandsOf are made-up bands about a run: they widen with time.
func bandsOf(f flown, wide float64) []plots.Band {
	var bands []plots.Band
	for i, of := range []func(float64) float64{f.coolant, f.oil} {
		b := plots.Band{Channel: f.sensor[i], Chance: []string{"over its limit in 62 % of 256 draws", "over its limit in 8 % of 256 draws"}[i]}
		for t := 0.0; t <= f.end(); t += 10 {
			v, w := of(t), wide*(1-math.Exp(-t/300))
			b.Time = append(b.Time, t)
			b.Low, b.Median, b.High = append(b.Low, v-0.8*w), append(b.Median, v+0.1*w), append(b.High, v+1.2*w)
		}
		bands = append(bands, b)
	}
	return bands
}

// banded are curves with bands.
func banded() []plots.SensitivityCurve {
	list := sensitivities()["two"]
	list = append(list, over("coolant.cap_pressure", "psi", []float64{16}, 3, 1))
	for i := range list {
		s := &list[i]
		wider := func(list []float64, by float64) []float64 {
			return mapped(list, func(v float64) float64 { return v + by })
		}
		s.CoolantBand = &plots.MarginBand{Low: wider(s.Coolant, -2.5), High: wider(s.Coolant, 2)}
		if i < 2 {
			s.OilBand = &plots.MarginBand{Low: wider(s.Oil, -1.5), High: wider(s.Oil, 1.2)}
		}
	}
	return list
}

// lessons are the charts of what flights showed, by name.
func lessons(t testing.TB, u plots.Units) map[string]*plots.Figure {
	t.Helper()
	all := map[string]*plots.Figure{}
	add := func(name string, fig *plots.Figure, err error) {
		if err != nil {
			t.Fatal(name, err)
		}
		all[name] = fig
	}
	c := caption
	c.Title, c.Cases = "", nil
	for name, list := range records() {
		fig, err := plots.Parity(list, u, c)
		add("parity_"+name, fig, err)
		fig, err = plots.Residuals(list, u, c)
		add("residuals_"+name, fig, err)
	}
	for name, f := range fits() {
		fig, err := plots.Posterior(f.numbers, f.correlations, c)
		add("posterior_"+name, fig, err)
	}
	for name, list := range differences() {
		fig, err := plots.Differences(list, "as built, three flights", u, c)
		add("differences_"+name, fig, err)
	}
	for name, list := range candidates() {
		fig, err := plots.DoubtLeft(doubtNow, list, u, c)
		add("doubt_left_"+name, fig, err)
	}
	for name, list := range shareLists() {
		fig, err := plots.Shares(list, c)
		add("shares_"+name, fig, err)
	}
	fig, err := plots.History(climb().result(), u, caption, bandsOf(climb(), 6)...)
	add("bands_climb", fig, err)
	fig, err = plots.History(overLimit().result(), u, caption, bandsOf(overLimit(), 5)...)
	add("bands_over_limit", fig, err)
	fig, err = plots.Sensitivity(banded(), u, c)
	add("bands_sensitivity", fig, err)
	return all
}

func TestLessonsGolden(t *testing.T) {
	kept := map[string]bool{
		"parity_few": true, "residuals_few": true, "residuals_log": true, "posterior_four": true, "posterior_many": true, "differences_usual": true,
		"doubt_left_usual": true, "shares_usual": true, "bands_over_limit": true, "bands_sensitivity": true,
	}
	for name, fig := range lessons(t, plots.US) {
		if *look != "" {
			save(t, fig, filepath.Join(*look, name+".png"))
		}
		if !kept[name] {
			continue
		}
		var svg bytes.Buffer
		if err := fig.WriteSVG(&svg); err != nil {
			t.Fatal(err)
		}
		golden(t, filepath.Join("..", "testdata", "golden", "plots_"+name+".svg"), svg.Bytes())
	}
}
