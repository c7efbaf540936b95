package exchanger

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"hotclimb/sim/fluid"
)

// row is one line of a reference table by column name.
type row map[string]string

// number returns the value of a column.
func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %q: %v", column, err)
	}
	return x
}

// table reads a reference table with a # header and a line of names.
func table(t *testing.T, name string) []row {
	t.Helper()
	file, err := os.Open("../../testdata/tables/" + name + ".csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	lines, err := reader.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(lines) < 2 {
		t.Fatalf("table %s is empty", name)
	}
	var rows []row
	for _, line := range lines[1:] {
		r := row{}
		for i, column := range lines[0] {
			r[column] = line[i]
		}
		rows = append(rows, r)
	}
	return rows
}

// near fails when got is further than tol from want.
func near(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: got %.15g, want %.15g ± %.2g (off by %.3g)", what, got, want, tol, got-want)
	}
}

// nearRel fails when got is further than the relative tol from want.
func nearRel(t testing.TB, what string, got, want, tol float64) {
	t.Helper()
	near(t, what, got, want, tol*math.Abs(want))
}

// must returns the value of a call that may not fail.
func must[T any](t testing.TB) func(T, error) T {
	return func(x T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
}

// Check geometries of a louvered core, per m² of face: A a common radiator, B a
// thick core. The values of the louvered_fin tables belong to these.
func geometryA() LouverGeometry {
	return LouverGeometry{
		FinPitch: 1.30e-3, LouverPitch: 1.20e-3, LouverLength: 6.5e-3, LouverAngle: 28 * math.Pi / 180,
		FinLength: 8.0e-3, FinDepth: 32e-3, TubeDepth: 32e-3, TubePitch: 10.0e-3, TubeThickness: 2.0e-3,
		FinThickness: 0.08e-3, FinConductivity: 180, FaceArea: 1,
	}
}

func geometryB() LouverGeometry {
	return LouverGeometry{
		FinPitch: 1.90e-3, LouverPitch: 1.70e-3, LouverLength: 7.5e-3, LouverAngle: 25 * math.Pi / 180,
		FinLength: 9.5e-3, FinDepth: 48e-3, TubeDepth: 48e-3, TubePitch: 12.0e-3, TubeThickness: 2.5e-3,
		FinThickness: 0.12e-3, FinConductivity: 180, FaceArea: 1,
	}
}

// louvered makes the named check geometry ready for use.
func louvered(t testing.TB, name string) *LouveredFin {
	g := map[string]LouverGeometry{"A": geometryA(), "B": geometryB()}[name]
	return must[*LouveredFin](t)(NewLouveredFin(g))
}

// strip is the Kays & London surface 1/8-15.61, 50 mm deep.
func strip() StripGeometry {
	return StripGeometry{
		Spacing: 1.52516e-3, Height: 6.248e-3, Thickness: 0.102e-3, Strip: 3.175e-3,
		Depth: 50e-3, FreeArea: 0.03, FaceArea: 0.05, FinConductivity: 180,
	}
}

// coolant is 50 % ethylene glycol in water.
func coolant(t testing.TB) *fluid.Liquid {
	return must[*fluid.Liquid](t)(fluid.EthyleneGlycol(0.5))
}

// radiator is a core of geometry A, 0.06 m² face, with flat-tube liquid side.
func radiator(t testing.TB) *Core {
	g := geometryA()
	g.FaceArea = 0.06
	fin := must[*LouveredFin](t)(NewLouveredFin(g))
	tube := must[*Tube](t)(NewTube(TubeGeometry{
		Diameter: 2.5e-3, Length: 0.3, FlowArea: 1.0e-3, WettedArea: 0.5,
	}, coolant(t)))
	return &Core{Air: fin, Liquid: tube, Resist: fin, FreeArea: fin.FreeArea(), FaceArea: fin.FaceArea()}
}

// rated is the catalogue point of a 24 kW radiator.
func rated() Rating {
	return Rating{
		Heat: 24000, TemperatureDifference: 60, AirFlow: 0.60, LiquidFlow: 1.0, LiquidHeatCapacity: 3600,
		AirShare: 0.8, AirExponent: 0.5, LiquidExponent: 0.8,
	}
}

// ratedCore is the core of that catalogue point.
func ratedCore(t testing.TB, r Rating) *Core {
	t.Helper()
	air, liquid, err := r.Sides()
	if err != nil {
		t.Fatal(err)
	}
	return &Core{
		Air: air, Liquid: liquid, Resist: PowerLaw{Drop: 300, Flow: 0.6, Exponent: 1.7, Density: 1.1},
		Arrangement: r.Arrangement, FreeArea: 0.045, FaceArea: 0.06,
	}
}
