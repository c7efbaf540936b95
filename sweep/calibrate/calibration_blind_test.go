package calibrate

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hotclimb/scenarios"
)

// TestOutliers: two oil readings 25 K off drag the answer of squares away from what
// it is without them by more than its doubt says. To Huber's loss each of them is
// a reading 1.3 deviations off, and to Cauchy's it is hardly one.
func TestOutliers(t *testing.T) {
	sc := withDoubts(t, highwing)
	paths := []string{"engine.heat_to_coolant", "engine.heat_to_oil"}
	rng := rand.New(rand.NewPCG(5, 5))
	clean := truth{"engine.heat_to_oil": 0.11}.read(t, blank(t, sc, short), [2]float64{88, 75}, rng.NormFloat64)
	dirty, without := *clean, *clean
	dirty.Readings, without.Readings = slices.Clone(clean.Readings), nil
	spoiled := []int{}
	for i := range dirty.Readings {
		if m := &dirty.Readings[i]; m.Circuit == 1 && (m.From == 180 || m.From == 220) {
			m.Value += 25
			spoiled = append(spoiled, i)
		} else {
			without.Readings = append(without.Readings, *m)
		}
	}
	oil := func(r *Record, kind LossKind) *SharpNumber {
		found := find(t, &Calibration{Scenario: sc, Records: []*Record{r}, Paths: paths, Loss: Loss{Kind: kind}, Workers: 2})
		if kind != Squares {
			far := []int{}
			for _, f := range found.Checks.Far {
				far = append(far, f.Reading)
			}
			slices.Sort(far)
			if !slices.Equal(far, spoiled) {
				t.Errorf("%v: readings %v are told as far off, want %v", kind, far, spoiled)
			}
		}
		return &found.Numbers[1]
	}
	best := oil(&without, Squares)
	for _, c := range []struct {
		kind        LossKind
		least, most float64 // way from the answer without outliers, in its doubt
	}{{Squares, 3, math.Inf(1)}, {Huber, 0, 1.5}, {Cauchy, 0, 0.5}} {
		off := math.Abs(oil(&dirty, c.kind).After-best.After) / best.Left
		t.Logf("%v: off by %.2f doubts", c.kind, off)
		if off < c.least || off > c.most {
			t.Errorf("%v: off by %.2f doubts, want %g to %g", c.kind, off, c.least, c.most)
		}
	}
}

// TestBlindSpot: in one long climb at one speed, the rating of the radiator and
// the heat that the engine gives it stand in for each other; a number that the
// readings do not see at all is none of that.
func TestBlindSpot(t *testing.T) {
	sc := withDoubts(t, highwing, "exchangers.radiator.rating.heat=60 kW ± 12 kW")
	paths := []string{"exchangers.radiator.rating.heat", "engine.heat_to_coolant", "inlets.chin.spillage_drag"}
	long := short
	long.minutes, long.every = 8, 60
	record := truth{}.read(t, blank(t, sc, long), [2]float64{88, 75}, exactly)
	found := find(t, &Calibration{Scenario: sc, Records: []*Record{record}, Paths: paths, Workers: 2})
	if len(found.Blind) != 1 {
		t.Fatalf("%d blind spots: %+v", len(found.Blind), found.Blind)
	}
	b := found.Blind[0]
	if !b.holds(0, 1) || len(b.Numbers) != 2 || b.Ways[0]*b.Ways[1] <= 0 {
		t.Errorf("blind spot %+v, want the rating and the heat up together", b)
	}
	// A second flight with most of the radiator's air taken away, as with its inlet
	// half shut, tells them apart better.
	taped := long
	taped.name, taped.set = "taped", map[string]string{"inlets.chin.height": "2.2 in"}
	second := truth{}.read(t, blank(t, sc, taped), [2]float64{88, 75}, exactly)
	both := find(t, &Calibration{Scenario: sc, Records: []*Record{record, second}, Paths: paths, Workers: 2})
	alone := find(t, &Calibration{Scenario: sc, Records: []*Record{record, record}, Paths: paths, Workers: 2})
	if with, without := both.Numbers[0].Left, alone.Numbers[0].Left; !(with < without) {
		t.Errorf("a flight with the inlet half shut leaves %.3g of the rating, the same flight again %.3g", with, without)
	}
}

// TestSettledByTheTest: a number that a test sets is no matter of that record, and
// one that every test sets is not moved.
func TestSettledByTheTest(t *testing.T) {
	sc := withDoubts(t, highwing)
	p := short
	p.set = map[string]string{"engine.heat_to_oil": "0.12"}
	record := truth{"engine.heat_to_coolant": 0.8}.read(t, blank(t, sc, p), [2]float64{88, 75}, exactly)
	found := find(t, &Calibration{Scenario: sc, Records: []*Record{record}, Paths: []string{"engine.heat_to_coolant", "engine.heat_to_oil"}})
	if n := found.Numbers[1]; n.After != n.Before || math.Abs(n.Sharpened()-1) > 1e-9 || !slices.Equal(n.Elsewhere, []int{0}) {
		t.Errorf("a number set by the test came out as %+v", n)
	}
	if n := found.Numbers[0]; math.Abs(n.After-0.8) > 0.2*n.Left+0.01 {
		t.Errorf("heat to the coolant is %.4f ± %.4f, in truth 0.8", n.After, n.Left)
	}
}

// TestJoined: a number whose doubt goes together with one asked for is fitted too.
func TestJoined(t *testing.T) {
	sc := withDoubts(t, highwing)
	r := &scenarios.Correlation{Name: "c", Of: "engine.heat_to_oil", With: "engine.heat_to_coolant"}
	r.Value.Number = given(0.6, 0)
	sc.Correlations = append(sc.Correlations, r)
	record := truth{"engine.heat_to_coolant": 0.8}.read(t, blank(t, sc, short), [2]float64{88, 75}, exactly)
	found := find(t, &Calibration{Scenario: sc, Records: []*Record{record}, Paths: []string{"engine.heat_to_coolant"}})
	if len(found.Numbers) != 2 || !found.Numbers[1].Joined || found.Numbers[0].Joined {
		t.Errorf("fitted %+v", found.Numbers)
	}
	if list := found.Correlations(sc); len(list) != 1 || list[0].Name != "c" || list[0].Value.Value == 0.6 {
		t.Errorf("correlations %+v, want the one of the scenario with another value", list)
	}
}

// TestNotToFit: paths that cannot be sharpened, each told with its reason.
func TestNotToFit(t *testing.T) {
	sc := withDoubts(t, highwing)
	record := truth{}.read(t, blank(t, sc, short), [2]float64{88, 75}, exactly)
	for path, reason := range map[string]string{
		"aircraft.mass":         "no doubt",
		"oil.sensor":            "a word",
		"gauges.coolant.noise":  "weighs the readings",
		"exits.belly.count":     "",
		"exits.nowhere.area":    "unknown path",
		"inlets.chin.diffuser.": "unknown path",
	} {
		_, err := (&Calibration{Scenario: sc, Records: []*Record{record}, Paths: []string{path}}).Find(t.Context())
		if err == nil || !strings.Contains(err.Error(), reason) || !strings.Contains(err.Error(), path) {
			t.Errorf("%s: %v", path, err)
		}
	}
	if _, err := (&Calibration{Scenario: sc}).Find(t.Context()); err == nil {
		t.Error("no records are fitted")
	}
	sure := withDoubts(t, highwing)
	for _, path := range sure.Paths() {
		if q, err := sure.Compile(path); err == nil {
			if n, ok := q.Get(sure); ok && n.Doubt > 0 {
				if err := q.Set(sure, n.Value); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	if _, err := (&Calibration{Scenario: sure, Records: []*Record{record}}).Find(t.Context()); !errors.Is(err, ErrNothingToFit) {
		t.Errorf("without doubts: %v", err)
	}
}

// TestSequentialRecords: one record after the other, the second on what the first
// left, ends where both together do but for a quarter of the doubt, since the model
// is not linear: TestSequentialIsJoint holds a linear one to it.
func TestSequentialRecords(t *testing.T) {
	sc := withDoubts(t, highwing, fourDoubts...)
	rng := rand.New(rand.NewPCG(6, 6))
	made := truth{"engine.heat_to_coolant": 0.8, "engine.heat_to_oil": 0.11, "gauges.oil.bias": 1, "gauges.coolant.lag": 23}
	cold := short
	cold.name, cold.outside = "cold", 5
	first := made.read(t, blank(t, sc, short), [2]float64{88, 75}, rng.NormFloat64)
	second := made.read(t, blank(t, sc, cold), [2]float64{88, 75}, rng.NormFloat64)
	joint := find(t, &Calibration{Scenario: sc, Records: []*Record{first, second}, Paths: fourPaths, Workers: 2})
	half := find(t, &Calibration{Scenario: sc, Records: []*Record{first}, Paths: fourPaths, Workers: 2})
	then, err := half.Posterior(sc)
	if err != nil {
		t.Fatal(err)
	}
	again := *second
	if again.Scenario, err = half.Posterior(second.Scenario); err != nil {
		t.Fatal(err)
	}
	whole := find(t, &Calibration{Scenario: then, Records: []*Record{&again}, Paths: fourPaths, Workers: 2})
	for k := range whole.Numbers {
		a, b := &whole.Numbers[k], &joint.Numbers[k]
		off, ratio := (a.After-b.After)/b.Left, a.Left/b.Left
		t.Logf("%s: off by %.3f of the doubt, which is %.3f of that of both together", a.Param.Path, off, ratio)
		if math.Abs(off) > 0.25 || math.Abs(ratio-1) > 0.05 {
			t.Errorf("%s: %.4g ± %.2g one after the other, %.4g ± %.2g together", a.Param.Path, a.After, a.Left, b.After, b.Left)
		}
	}
}
