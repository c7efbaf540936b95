package plots_test

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"testing"

	"hotclimb/plots"
)

// even returns n values from lo to hi.
func even(lo, hi float64, n int) []float64 {
	values := make([]float64, n)
	for i := range values {
		values[i] = lo + (hi-lo)*float64(i)/float64(max(1, n-1))
	}
	return values
}

func mapped(x []float64, f func(float64) float64) []float64 {
	y := make([]float64, len(x))
	for i := range x {
		y[i] = f(x[i])
	}
	return y
}

// over is a made-up curve: margins rise with the share of the range, and oil
// pays for it if trade is negative.
func over(label, unit string, x []float64, rise, trade float64) plots.SensitivityCurve {
	share := func(v float64) float64 { return (v - x[0]) / math.Max(1e-9, x[len(x)-1]-x[0]) }
	return plots.SensitivityCurve{
		Axis:    plots.Axis{Label: label, Unit: unit, Values: x},
		Coolant: mapped(x, func(v float64) float64 { return -4 + rise*math.Sqrt(share(v)) }),
		Oil:     mapped(x, func(v float64) float64 { return 2 + trade*share(v) }),
		Present: x[0] + 0.4*(x[len(x)-1]-x[0]),
	}
}

const longName = "exchangers.second_radiator_behind_gearbox.power_law.exponent_of_the_drop"

func sensitivities() map[string][]plots.SensitivityCurve {
	one := over("exits.belly.height", "in", even(6, 12, 7), 14, 6)
	broken := over("inlets.chin.height", "in", even(4, 8, 9), 9, -7)
	broken.Coolant[4], broken.Oil[4] = math.NaN(), math.NaN()
	broken.Oil[8] = math.NaN()
	single := over("coolant.cap_pressure", "psi", []float64{16}, 3, 1)
	flat := over("oil.volume", "qt", even(5, 9, 5), 0, 0)
	dense := over("flight.legs.tow.speed", "mph", even(60, 90, 301), 12, 8)
	none := over("spray.rate", "L/min", even(0, 1e-5, 5), 5, 1)
	none.Present = math.NaN()
	failed := over(longName, "Pa", even(0, 400, 3), 1, 1)
	for i := range failed.Values {
		failed.Coolant[i], failed.Oil[i] = math.NaN(), math.NaN()
	}
	twelve := []plots.SensitivityCurve{one, broken, single, flat, dense, none, failed}
	for i := range 5 {
		twelve = append(twelve, over(fmt.Sprintf("leaks.gap_%d.area", i+1), "in²", even(1, 3, 5), float64(-3*i), 4))
	}
	return map[string][]plots.SensitivityCurve{
		"one": {one}, "two": {one, broken}, "four": {one, broken, flat, dense}, "twelve": twelve,
		"single_value": {single}, "flat": {flat}, "failed": {failed},
	}
}

// valley is a made-up table of margins over two openings.
func valley(nx, ny int, level float64) plots.ContourData {
	d := plots.ContourData{
		X:           plots.Axis{Label: "inlets.chin.height", Unit: "in", Values: even(4, 8, nx)},
		Y:           plots.Axis{Label: "exits.belly.height", Unit: "in", Values: even(6, 12, ny)},
		NeedCoolant: 3, NeedOil: 3,
		Present: &[2]float64{5.6, 8.5}, Optimum: &[2]float64{5.15, 9.3},
	}
	for _, y := range d.Y.Values {
		var coolant, oil []float64
		for _, x := range d.X.Values {
			coolant = append(coolant, level+9*math.Sqrt((x-4)/4)+7*math.Sqrt((y-6)/6)-4)
			oil = append(oil, level+16*math.Sqrt((y-6)/6)-5*(x-4)/4-3)
		}
		d.Coolant, d.Oil = append(d.Coolant, coolant), append(d.Oil, oil)
	}
	return d
}

func contours() map[string]plots.ContourData {
	holes := valley(9, 9, 0)
	for _, at := range [][2]int{{2, 6}, {3, 6}, {8, 8}, {0, 0}} {
		holes.Coolant[at[1]][at[0]], holes.Oil[at[1]][at[0]] = math.NaN(), math.NaN()
	}
	failed := valley(4, 3, 0)
	for j := range failed.Coolant {
		for i := range failed.Coolant[j] {
			failed.Coolant[j][i] = math.NaN()
		}
	}
	flat := valley(5, 5, 0)
	for j := range flat.Coolant {
		for i := range flat.Coolant[j] {
			flat.Coolant[j][i], flat.Oil[j][i] = 7, 7
		}
	}
	runaway := valley(9, 9, 0)
	for i := range 3 {
		for j := range 3 {
			runaway.Coolant[j][i] -= 150 / float64(1+i+j)
		}
	}
	wavy := valley(25, 25, 0)
	for j, y := range wavy.Y.Values {
		for i, x := range wavy.X.Values {
			wavy.Coolant[j][i] = 3 + 8*math.Sin(3*x)*math.Cos(2*y)
			wavy.Oil[j][i] = 4 + 8*math.Cos(2*x)*math.Sin(2.5*y)
		}
	}
	outside := valley(6, 6, 0)
	outside.Present, outside.Optimum = &[2]float64{3, 20}, nil
	outside.X.Label, outside.Y.Label = longName, longName
	return map[string]plots.ContourData{
		"valley": valley(11, 11, 0), "coarse": valley(2, 2, 0), "holes": holes, "all_failed": failed, "level": flat,
		"infeasible": valley(7, 7, -40), "feasible": valley(7, 7, 40), "runaway": runaway, "wavy": wavy, "outside": outside,
	}
}

func tornados() map[string][]plots.Gain {
	few := []plots.Gain{
		{Name: "spray 0.8 L/min", Coolant: 6.2, Oil: 0.3, Note: "uses 6.1 of 1.5 gal"},
		{Name: "bigger_exit", Coolant: 3.4, Oil: 4.1},
		{Name: "auxiliary serves oil", Coolant: -5.3, Oil: 9.4, Note: "fixes oil by spoiling coolant"},
		{Name: "no effect"},
	}
	var forty []plots.Gain
	for i := range 20 {
		size := 8 * math.Pow(0.8, float64(i))
		name := fmt.Sprintf("exchangers.core_%d.rating.heat", i+1)
		forty = append(forty, plots.Gain{Name: name + " +10 %", Coolant: size, Oil: -0.4 * size},
			plots.Gain{Name: name + " −10 %", Coolant: -1.1 * size, Oil: 0.5 * size})
	}
	long := []plots.Gain{
		{Name: longName + " and " + longName + " and " + longName, Coolant: 2, Oil: 1, Note: "a note that is much longer than the room for names, so that it must be broken into lines, and more"},
		{Name: "WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW", Coolant: -123.4, Oil: 456.7},
	}
	return map[string][]plots.Gain{"few": few, "forty": forty, "long": long, "nothing": {{Name: "nothing"}}, "losses": {{Name: "tape over the inlet", Coolant: -8, Oil: -3}}}
}

func fronts() map[string][]plots.FrontPoint {
	var trade []plots.FrontPoint
	for _, m := range even(-3, 9, 9) {
		trade = append(trade, plots.FrontPoint{Margin: m, DragPower: 4200 + 90*m + 22*m*m, Area: 0.09 + 0.0035*m + 0.0004*m*m})
	}
	var many []plots.FrontPoint
	for _, m := range even(2, 22, 200) {
		many = append(many, plots.FrontPoint{Margin: m, DragPower: 3000 + 20*m*m, Area: 0.08 + 0.002*m})
	}
	return map[string][]plots.FrontPoint{"trade": trade, "single_point": trade[4:5], "many": many, "over": trade[:2]}
}

var present = plots.FrontPoint{Margin: 0.8, DragPower: 4900, Area: 0.104}

// study is a chart of each kind by name.
func studies(t testing.TB, u plots.Units) map[string]*plots.Figure {
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
	for name, curves := range sensitivities() {
		fig, err := plots.Sensitivity(curves, u, c)
		add("sensitivity_"+name, fig, err)
	}
	for name, d := range contours() {
		fig, err := plots.Contour(d, u, c)
		add("contour_"+name, fig, err)
	}
	for name, gains := range tornados() {
		fig, err := plots.Tornado(gains, u, c)
		add("tornado_"+name, fig, err)
	}
	for name, points := range fronts() {
		fig, err := plots.Front(points, present, u, c)
		add("front_"+name, fig, err)
	}
	return all
}

func TestStudiesGolden(t *testing.T) {
	kept := map[string]bool{"sensitivity_two": true, "contour_valley": true, "contour_holes": true, "tornado_few": true, "front_trade": true}
	for name, fig := range studies(t, plots.US) {
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
