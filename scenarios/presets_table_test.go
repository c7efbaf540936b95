package scenarios

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
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
