package main

import (
	"bytes"
	"context"
	"encoding/json"
	"path/filepath"
	"testing"

	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep/optimum"
)

// decoded runs a command with --format json.
func decoded(t *testing.T, into any, args ...string) {
	t.Helper()
	var stdout, stderr bytes.Buffer
	if status := app(context.Background(), append(args, "--format", "json"), &stdout, &stderr); status != exitDone {
		t.Fatalf("%v: exit status %d\n%s", args, status, &stderr)
	}
	if err := json.Unmarshal(stdout.Bytes(), into); err != nil {
		t.Fatal(err)
	}
}

// The overlay of --out, flown by run, has the margins that size told: also in a
// case that sets the size itself, and with a path of a leg.
func TestOverlayFliesAsTold(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "sized")
	var told struct {
		Build struct {
			Cases []struct {
				Name    string
				Coolant float64 `json:"coolant_margin_K"`
				Oil     float64 `json:"oil_margin_K"`
			}
		} `json:"to_build"`
	}
	decoded(t, &told, "size", "tug", "--case", "hot_tow", "--case", "cruise", "--coolant-margin", "2 K", "--out", dir,
		"--vary", "exits.belly.height=4 in..14 in", "--vary", "flight.legs.tow.speed=68 mph..74 mph")
	for _, k := range told.Build.Cases {
		var flown struct {
			Cases []struct {
				Peaks []struct {
					Margin float64 `json:"margin_K"`
				}
			}
		}
		decoded(t, &flown, "run", "tug", "--case", k.Name, "--over", filepath.Join(dir, overlayName))
		peaks := flown.Cases[0].Peaks
		if peaks[0].Margin != k.Coolant || peaks[1].Margin != k.Oil {
			t.Errorf("%s: margins %v, told %+v", k.Name, peaks, k)
		}
	}
	if len(told.Build.Cases) != 2 {
		t.Errorf("cases %+v", told.Build.Cases)
	}
}

func TestCutLengths(t *testing.T) {
	const inch = 0.0254
	us, si := &sized{origin: origin{units: plots.US}}, &sized{origin: origin{units: plots.SI}}
	tests := []struct {
		z    *sized
		in   float64
		want string
	}{
		{us, 8, "8 in"},
		{us, 0.5, "1/2 in"},
		{us, 7.9375, "7 15/16 in"},
		{us, 3.25, "3 1/4 in"},
		{si, 2, "51 mm"},
	}
	for _, test := range tests {
		if got := test.z.cut(test.in * inch); got != test.want {
			t.Errorf("%g in: %q, want %q", test.in, got, test.want)
		}
	}
}

// A length of an opening is shown in inches where the file gives it no unit, and
// anything in the unit of the file where it does.
func TestUnitsOfFactors(t *testing.T) {
	sc, cases, err := (&common{cases: []string{"hot_tow"}}).load("tug")
	if err != nil {
		t.Fatal(err)
	}
	sc.Size.Vary = map[string]string{
		"exits.belly.height": "4 in..14 in", "inlets.cheek_left.width": "1 in..9 in", "flight.legs.tow.speed": "65 mph..80 mph",
	}
	s, err := sizingOf(sc, cases)
	if err != nil {
		t.Fatal(err)
	}
	z := &sized{Sizing: s, origin: origin{units: plots.US}}
	for i, want := range []string{"in", "mph", "in"} {
		if got := z.unit(i); got != want {
			t.Errorf("%s in %q, want %q", z.Factors[i].Param.Path, got, want)
		}
	}
	z.units = plots.SI
	if got := z.unit(2); got != "cm" {
		t.Errorf("%s in %q, want cm", z.Factors[2].Param.Path, got)
	}
	if got := z.change(0, 0.0254); got != "+1.000 in" {
		t.Errorf("an inch more is %q", got)
	}
	if got := plots.Pretty(scenarios.Format(1e-4, "cm^2", scenarios.DimensionOf[scenarios.Area]())); got != "1 cm²" {
		t.Errorf("a square centimetre is %q", got)
	}
	if z.Minimise != optimum.OpeningArea {
		t.Errorf("minimise %q", z.Minimise)
	}
}

// Margins with doubt that have not come to rest are told.
func TestRestlessDoubt(t *testing.T) {
	for moved, want := range map[float64]string{
		0.05: ", 8 rounds for the margins with doubt",
		0.5:  ", 8 rounds for the margins with doubt, which still moved by 0.9 °F",
	} {
		z := &sized{Sized: &optimum.Sized{Rounds: 8, Moved: moved}, Sizing: optimum.Sizing{Doubt: 1}}
		p := &sizePage{&page{units: plots.US}, z}
		if got := p.rounds(); got != want {
			t.Errorf("moved by %g K: %q", moved, got)
		}
	}
}
