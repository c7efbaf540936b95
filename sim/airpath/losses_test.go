package airpath

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const degree = math.Pi / 180

// near fails unless got is within tol of want.
func near(t *testing.T, name string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.8g, want %.8g ± %.1g", name, got, want, tol)
	}
}

// table reads a reference table, its header first.
func table(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("../../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	r := csv.NewReader(file)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Borda–Carnot identity.
func TestSuddenExpansion(t *testing.T) {
	near(t, "K(1/4)", SuddenExpansion(0.25), 0.5625, 1e-12)
	near(t, "K(1/3)", SuddenExpansion(1./3), 4./9, 1e-12)
	near(t, "K(1/2)", SuddenExpansion(0.5), 0.25, 1e-12)
}

// Idelchik 1966: every node exact.
func TestConicalDiffuserNodes(t *testing.T) {
	rows := table(t, "idelchik_expansion.csv")
	nodes := 0
	for _, row := range rows[1:] {
		a := number(t, row[0])
		for j, name := range rows[0] {
			deg, isLoss := strings.CutPrefix(name, "k_")
			if !isLoss {
				continue
			}
			near(t, name+" at "+row[0], ConicalDiffuser(a, number(t, deg)*degree), number(t, row[j]), 1e-12)
			nodes++
		}
		near(t, "dump at "+row[0], SuddenExpansion(a), number(t, row[len(row)-1]), 5e-5)
		if k60, k180 := ConicalDiffuser(a, 60*degree), ConicalDiffuser(a, math.Pi); k60 <= k180 {
			t.Errorf("K(60°) %g not above that of a dump %g at %g", k60, k180, a)
		}
	}
	if want := len(expansionRatios) * len(expansionAngles); nodes != want {
		t.Errorf("%d nodes compared, want %d", nodes, want)
	}
}

// Between nodes the loss lies between those of its neighbours.
func TestConicalDiffuserBounded(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		i := rapid.IntRange(0, len(expansionRatios)-2).Draw(t, "i")
		j := rapid.IntRange(0, len(expansionAngles)-2).Draw(t, "j")
		a := blend(expansionRatios[i], expansionRatios[i+1], rapid.Float64Range(0, 1).Draw(t, "x"))
		deg := blend(expansionAngles[j], expansionAngles[j+1], rapid.Float64Range(0, 1).Draw(t, "y"))
		k, p, q := ConicalDiffuser(a, deg*degree), &expansionLosses[i], &expansionLosses[i+1]
		low, high := min(p[j], p[j+1], q[j], q[j+1]), max(p[j], p[j+1], q[j], q[j+1])
		if k < low-1e-12 || k > high+1e-12 {
			t.Fatalf("K(%g, %g°) = %g outside %g … %g", a, deg, k, low, high)
		}
	})
	near(t, "no widening", ConicalDiffuser(1, 60*degree), 0, 1e-12)
	near(t, "no angle", ConicalDiffuser(0.3, 0), 0, 1e-12)
	near(t, "half of 3°", ConicalDiffuser(0.2, 1.5*degree), 0.01, 1e-12)
}

// Rennels & Hudson 2012, computed from their equations.
func TestRennelsDiffuser(t *testing.T) {
	// D 1/3 → 1, 50°; the friction factor is that of a smooth pipe at Re 1e6.
	near(t, "50°", RennelsDiffuser(1./9, 50*degree, 0.01165), 0.8028, 0.8028*0.01)
	// Area ratio 3, f = 0.02.
	near(t, "20°", RennelsDiffuser(1./3, 20*degree, 0.02), 0.190, 0.0005)
	near(t, "30°", RennelsDiffuser(1./3, 30*degree, 0.02), 0.362, 0.0005)
	// Idelchik at the same places, without friction, agrees within a quarter.
	for _, deg := range []float64{60, 90, 180} {
		for _, a := range []float64{0.1, 0.2, 0.3, 0.5} {
			r, i := RennelsDiffuser(a, deg*degree, 0), ConicalDiffuser(a, deg*degree)
			if math.Abs(r/i-1) > 0.25 {
				t.Errorf("a %g, %g°: Rennels %g, Idelchik %g", a, deg, r, i)
			}
		}
	}
	near(t, "dump, wide", RennelsDiffuser(0.3, math.Pi, 0), (1.205-0.20)*0.49, 1e-12)
	near(t, "dump, narrow", RennelsDiffuser(0.2, math.Pi, 0), (1.205-3.28*(0.0625-0.04)-12.8*0.008)*0.64, 1e-12)
	near(t, "no angle", RennelsDiffuser(0.3, 0, 0.02), 0, 0)
	// 7.5° total, long cone: friction f(1 − a²)/(8 sin(α/2)) alone is added.
	with, without := RennelsDiffuser(0.5, 0.1, 0.02), RennelsDiffuser(0.5, 0.1, 0)
	near(t, "friction", with-without, 0.02*0.75/(8*math.Sin(0.05)), 1e-12)
}

func TestAngleOfLength(t *testing.T) {
	// Radii 0.1 and 0.2 m, 0.1 m long: half angle 45°.
	near(t, "angle", AngleOfLength(0.1, math.Pi*0.01, math.Pi*0.04), math.Pi/2, 1e-12)
	near(t, "no length", AngleOfLength(0, 0.01, 0.02), math.Pi, 1e-12)
	near(t, "no widening", AngleOfLength(1, 0.02, 0.01), 0, 0)
}

// Every row of the loss table that one of the functions gives. Sources in the
// table: ASHRAE fitting 1-2, Idelchik 1966, Blevins 1984.
func TestLossTable(t *testing.T) {
	compared := 0
	for _, row := range table(t, "loss_coefficients.csv")[1:] {
		var loss func(float64) float64
		tol := 1e-12
		switch row[0] {
		case "bellmouth without wall":
			loss = Bellmouth
		case "bellmouth in wall":
			loss = WallBellmouth
		case "thick grille":
			loss, tol = GrilleLoss, 1e-4 // printed to four digits
		case "square-edge screen or perforated plate":
			loss = PlateLoss
		case "round-wire screen":
			loss, tol = func(a float64) float64 { return WireLoss(a, 400) }, 0.005 // printed to two digits
		default:
			continue
		}
		words := strings.FieldsFunc(row[1], func(r rune) bool { return strings.ContainsRune("=, ", r) })
		at := words[1]
		if words[0] == "open" {
			at = words[2]
		}
		near(t, row[0]+" "+at, loss(number(t, at)), number(t, row[2]), tol)
		compared++
	}
	if compared != 31 {
		t.Errorf("%d rows compared, want 31", compared)
	}
	for _, row := range table(t, "idelchik_bellmouth_in_wall.csv")[1:] {
		near(t, "wall "+row[0], WallBellmouth(number(t, row[0])), number(t, row[1]), 1e-12)
	}
	near(t, "grille 0.45", GrilleLoss(0.45), 5.2963, 1e-4)
	near(t, "wire 0.5, Re 100", WireLoss(0.5, 100), 2.10, 1e-12)
	for _, loss := range []func(float64) float64{GrilleLoss, PlateLoss, func(a float64) float64 { return WireLoss(a, 50) }} {
		near(t, "open", loss(1), 0, 0)
		if !math.IsInf(loss(0), 1) {
			t.Errorf("shut screen loses %g", loss(0))
		}
	}
}
