package main

import (
	"bytes"
	"encoding/json"
	"math"
	"path/filepath"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// TestOverlayOfFit: the overlay, laid over the scenario, carries what was found:
// values and doubts to a thousandth of the doubt, correlations to six decimals,
// where every study of doubt takes them from. Paths are of kinds, presets, defaults
// and gauges, in units of all sorts.
func TestOverlayOfFit(t *testing.T) {
	overlay := filepath.Join(t.TempDir(), "fitted.yaml")
	args := []string{"fit", "rotary", "--test", "wide_ring_again", "--format", "json", "--write", overlay}
	for _, path := range []string{
		"engine.heat_to_oil", "engine.metal_to_oil", "exits.aft_ring.pressure_coefficient", "exchangers.radiator.rating.heat",
		"coolant.thermostat.lag", "gauges.oil.bias", "gauges.coolant.lag",
	} {
		args = append(args, "--path", path)
	}
	var out, errs bytes.Buffer
	if status := app(t.Context(), args, &out, &errs); status != exitDone {
		t.Fatalf("status %d: %s", status, errs.String())
	}
	var found struct {
		Numbers []struct {
			Path  string
			After float64
			Doubt float64 `json:"doubt_after"`
		}
		Correlations []struct {
			Of, With string
			Value    float64
		}
	}
	if err := json.Unmarshal(out.Bytes(), &found); err != nil {
		t.Fatal(err)
	}
	sc, err := scenarios.LoadFile("rotary", []string{overlay})
	if err != nil {
		t.Fatal(err)
	}
	kase, err := sc.Case("hot_climb")
	if err != nil {
		t.Fatal(err)
	}
	doubts, err := sweep.DoubtsOf(kase)
	if err != nil {
		t.Fatal(err)
	}
	place := map[string]int{}
	for k, p := range doubts.Params {
		place[p.Path] = k
	}
	for _, n := range found.Numbers {
		q, err := kase.Compile(n.Path)
		if err != nil {
			t.Fatal(err)
		}
		if got, _ := q.Get(kase); math.Abs(got.Value-n.After) > 1e-3*n.Doubt || math.Abs(got.Doubt-n.Doubt) > 1e-3*n.Doubt {
			t.Errorf("%s is %v ± %v in the overlay, %v ± %v was found", n.Path, got.Value, got.Doubt, n.After, n.Doubt)
		}
	}
	if len(found.Numbers) != 7 || len(found.Correlations) != 21 {
		t.Errorf("%d numbers and %d correlations", len(found.Numbers), len(found.Correlations))
	}
	compared := 0
	for _, c := range found.Correlations {
		j, a := place[c.Of]
		k, b := place[c.With]
		if !a || !b {
			continue // of a gauge, which changes no flight
		}
		compared++
		if got := doubts.Correlation.At(j, k); math.Abs(got-c.Value) > 1e-6 {
			t.Errorf("%s with %s: %v in the overlay, %v was found", c.Of, c.With, got, c.Value)
		}
	}
	if compared != 10 {
		t.Errorf("%d correlations compared, want those of 5 numbers", compared)
	}
}

// TestInWords: paths as people say them.
func TestInWords(t *testing.T) {
	for path, want := range map[string]string{
		"exits.belly.pressure_coefficient": "pressure coefficient of exit belly",
		"engine.heat_to_coolant":           "heat to coolant of the engine",
		"exchangers.radiator.rating.heat":  "rating heat of exchanger radiator",
		"gauges.oil.bias":                  "bias of the oil gauge",
		"coolant.thermostat.lag":           "thermostat lag of the coolant",
	} {
		if got := inWords(path); got != want {
			t.Errorf("%s: %q, want %q", path, got, want)
		}
	}
}
