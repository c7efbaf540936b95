package scenarios

import (
	"math"
	"slices"
	"testing"
)

const squareInch = 0.0254 * 0.0254 // m²

func TestParseVary(t *testing.T) {
	sc := mustLoad(t, good)
	for _, row := range []struct {
		path, text string
		lo, hi     float64
		values     []float64
		words      []string
	}{
		{"inlets.left.area", "10 in^2..20 in^2:3", 10, 20, []float64{10, 15, 20}, nil},
		{"inlets.left.area", "10..20 in²:3", 10, 20, []float64{10, 15, 20}, nil},
		{"inlets.left.area", "10 in^2 .. 20 in^2", 10, 20, nil, nil},
		{"inlets.left.area", "12, 10 in^2, 20 in^2", 10, 20, []float64{12, 10, 20}, nil},
		{"inlets.left.area", "12 in^2", 12, 12, []float64{12}, nil},
		{"exchangers.aux.serves", "coolant, oil", 0, 0, nil, []string{"coolant", "oil"}},
		{"exchangers.aux.from", "left", 0, 0, nil, []string{"left"}},
	} {
		v, err := ParseVary(row.text, mustCompile(t, sc, row.path))
		if err != nil {
			t.Error(err)
			continue
		}
		same := len(v.Values) == len(row.values) && slices.Equal(v.Words, row.words)
		same = same && closeTo(v.Lo, row.lo*squareInch) && closeTo(v.Hi, row.hi*squareInch)
		for i := range row.values {
			same = same && closeTo(v.Values[i], row.values[i]*squareInch)
		}
		if !same {
			t.Errorf("%s: %+v", row.text, v)
		}
	}
	// both ends are met exactly
	v, err := ParseVary("0.2..0.9:8", mustCompile(t, sc, "inlets.left.recovery"))
	if err != nil || v.Values[0] != 0.2 || v.Values[7] != 0.9 || math.Abs(v.Values[1]-0.3) > 1e-15 {
		t.Errorf("%v, %v", v.Values, err)
	}
}

func TestParseVaryFaults(t *testing.T) {
	sc := mustLoad(t, good)
	for text, want := range map[string]string{
		"10..20:3":              "20 has no unit; area takes in^2, ft^2, cm^2, m^2",
		"10..20 in:3":           "20 in is a length; area takes in^2, ft^2, cm^2, m^2",
		"20..10 in^2:3":         `"20..10 in^2:3" does not rise: write LOW..HIGH`,
		"10..20 in^2:1":         `"1" is no number of values: write LOW..HIGH:COUNT with a count from 2 to 10000`,
		"10..20 in^2:":          `"" is no number of values: write LOW..HIGH:COUNT with a count from 2 to 10000`,
		"10..2000 in^2:3":       "2000 in^2 is out of range (0 in^2 to 1550 in^2)",
		"10 in^2,, 20 in^2":     "a number is missing",
		"10 in^2..20 in^2..3:3": `20 in^2..3: a unit cannot go on with '.'`,
	} {
		_, err := ParseVary(text, mustCompile(t, sc, "inlets.left.area"))
		if err == nil || err.Error() != want {
			t.Errorf("%s: %v, want %s", text, err, want)
		}
	}
	if _, err := ParseVary("coolant, water", mustCompile(t, sc, "exchangers.aux.serves")); err == nil {
		t.Error("water is taken for a circuit")
	}
}

// Louvers are flown whole, whatever rounding makes of their number.
func TestParseVaryOfPieces(t *testing.T) {
	sc, err := LoadFile("seaplane", nil)
	if err != nil {
		t.Fatal(err)
	}
	p := mustCompile(t, sc, "exits.gills_left.count")
	v, err := ParseVary("3..10:8", p)
	if err != nil || !slices.Equal(v.Values, []float64{3, 4, 5, 6, 7, 8, 9, 10}) {
		t.Errorf("%v, %v", v.Values, err)
	}
	for _, text := range []string{"4..9:3", "4, 6.5"} {
		const want = "6.5 is no whole number of pieces: write a COUNT or a list that gives whole ones"
		if _, err := ParseVary(text, p); err == nil || err.Error() != want {
			t.Errorf("%s: %v", text, err)
		}
	}
}
