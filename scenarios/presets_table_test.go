package scenarios

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"hotclimb/sim"
)

// rows reads a reference table by the text of its first column.
func rows(t *testing.T, name string) map[string]map[string]string {
	t.Helper()
	f, err := os.Open("../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	table := map[string]map[string]string{}
	for _, row := range all[1:] {
		table[row[0]] = map[string]string{}
		for i, column := range all[0] {
			table[row[0]][column] = row[i]
		}
	}
	return table
}

// inBand checks a default against a band of a reference table; an empty bound
// is none.
func inBand(t *testing.T, what string, k known, row map[string]string, low, high string) {
	t.Helper()
	if row == nil {
		t.Fatalf("%s: no such row", what)
	}
	for column, sign := range map[string]float64{low: 1, high: -1} {
		if bound, err := strconv.ParseFloat(row[column], 64); err == nil && sign*(k.Value-bound) < -1e-12 {
			t.Errorf("%s: %g is beyond %s %g", what, k.Value, column, bound)
		}
	}
}

// TestInletPresets: recoveries are the nominal ones of the reference table
// (from memory, medium; NACA RM A8B16, 1948, second-hand; engineering
// judgement: see the source of each row).
func TestInletPresets(t *testing.T) {
	table := rows(t, "inlet_recovery.csv")
	for kind, name := range map[string]string{
		"nose":           "nose ram inlet, rounded lip, clear of spinner",
		"spinner_slot":   "slot beside spinner behind prop root",
		"scoop_diverted": "chin or belly scoop, boundary layer diverted",
		"scoop":          "chin or belly scoop, boundary layer not diverted",
		"side":           "armpit or side opening",
		"submerged":      "submerged (NACA), mass-flow coefficient 1.00",
	} {
		nominal, err := strconv.ParseFloat(table[name]["nominal"], 64)
		if err != nil {
			t.Fatal(err)
		}
		if got := inletPresets[kind].recovery.Value; got != nominal {
			t.Errorf("%s recovers %g, the table %g", kind, got, nominal)
		}
	}
	p := inletPresets["submerged"]
	if low := p.recovery.Value - p.lowFlowLoss.Value; math.Abs(low-0.5) > 1e-12 {
		t.Errorf("submerged inlet recovers %g at no flow, the table 0.50", low)
	}
}

// TestExitPresets: coefficients lie in the bands of the reference table (from
// memory, low to medium; engineering judgement: see the source of each row).
func TestExitPresets(t *testing.T) {
	table := rows(t, "exit_coefficients.csv")
	for kind, name := range map[string]string{
		"nozzle":  "smooth converging aft-facing nozzle",
		"hole":    "flush sharp hole, quiescent or high jet ratio",
		"louvers": "aft louvers, on free area",
		"lip":     "lip 5-15 mm ahead of exit",
	} {
		p := exitPresets[kind]
		inBand(t, kind+" discharge", p.discharge, table[name], "cd_low", "cd_high")
		inBand(t, kind+" pressure", p.pressure, table[name], "cp_low", "cp_high")
	}
	for deg, name := range map[float64]string{0: "cowl flap 0 deg", 15: "cowl flap 15 deg", 30: "cowl flap 30 deg"} {
		p := flapAt(deg * math.Pi / 180)
		inBand(t, name+" discharge", p.discharge, table[name], "cd_low", "cd_high")
		inBand(t, name+" pressure", p.pressure, table[name], "cp_low", "cp_high")
	}
}

// TestEnginePresets: heat ratios are the defaults of the reference table and
// fuel consumptions lie in its bands (Heywood 1988 table 12.1, from memory;
// synthesis; common practice: see the source of each row).
func TestEnginePresets(t *testing.T) {
	table := rows(t, "heat_rejection_ratios.csv")
	for preset, name := range map[string]string{
		"automotive":   "automotive four-stroke spark ignition, water jacketed",
		"rotary":       "two-rotor Wankel, oil-cooled rotors",
		"turbo_diesel": "turbo diesel conversion",
	} {
		p, row := enginePresets[preset], table[name]
		inBand(t, preset+" coolant", p.coolant, row, "coolant_default", "coolant_default")
		inBand(t, preset+" oil", p.oil, row, "oil_low", "oil_high")
		if row["oil_default"] != "" {
			inBand(t, preset+" oil", p.oil, row, "oil_default", "oil_default")
		}
		const perKWh = 1e3 * 3.6e6 // g/kWh in kg/J
		bsfc := p.consumption
		bsfc.Value *= perKWh
		inBand(t, preset+" consumption", bsfc, row, "bsfc_low", "bsfc_high")
	}
}

// TestPresetsOverFuelEnergy: a preset is the same engine, with the same doubt,
// whichever its ratios refer to: over brake power, or over the energy of the
// fuel at 300 g/kWh and 43.5 MJ/kg, which is 3.625 times the brake power.
func TestPresetsOverFuelEnergy(t *testing.T) {
	brake, fuel := Engine{Preset: "automotive"}, Engine{Preset: "automotive", HeatBasis: "fuel_energy"}
	brake.fill()
	fuel.fill()
	for what, q := range map[string][2]Quantity[Ratio]{
		"coolant": {brake.HeatToCoolant, fuel.HeatToCoolant}, "oil": {brake.HeatToOil, fuel.HeatToOil}, "bay": {brake.HeatToBay, fuel.HeatToBay},
	} {
		if r := q[0].Value / q[1].Value; math.Abs(r-3.625) > 1e-9 {
			t.Errorf("%s: %g over brake power is %g over fuel energy", what, q[0].Value, q[1].Value)
		}
		if r := q[0].Doubt / q[1].Doubt; math.Abs(r-3.625) > 1e-9 {
			t.Errorf("%s: a doubt of %g becomes %g", what, q[0].Doubt, q[1].Doubt)
		}
	}
	plant := func(e Engine) [3]float64 {
		b := &builder{sc: &Scenario{Engine: e}, plant: &sim.Plant{}}
		b.engine()
		p := &b.plant.Engine
		return [3]float64{p.HeatToCoolant, p.HeatToOil, p.HeatToBay}
	}
	a, b := plant(brake), plant(fuel)
	for i := range a {
		if math.Abs(a[i]-b[i]) > 1e-12 {
			t.Errorf("the engines give %v and %v of their power", a, b)
		}
	}
}

// TestDefaultsOfOpenings: a bank of louvers stands with 2.5 times its free area
// in the stream, a nozzle with its own (engineering judgement); an inlet of a
// pusher has no slipstream.
func TestDefaultsOfOpenings(t *testing.T) {
	for kind, times := range map[string]float64{"louvers": 2.5, "nozzle": 1} {
		e := Exit{Kind: kind}
		e.Area.Number = Number{Value: 0.02, Known: true}
		e.fill()
		if math.Abs(e.DragArea.Value-times*0.02) > 1e-12 {
			t.Errorf("%s of 0.02 m² has %g m² in the stream", kind, e.DragArea.Value)
		}
	}
	for place, share := range map[string]float64{"tractor": 0.15, "pusher": 0} {
		in := Inlet{Kind: "nose", Lip: "rounded"}
		in.fill(place)
		if !in.Slipstream.Known || in.Slipstream.Value != share {
			t.Errorf("slipstream of a %s at the nose: %+v", place, in.Slipstream)
		}
	}
}
