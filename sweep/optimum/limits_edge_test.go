package optimum

import (
	"errors"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// A margin that is nearly linear in the temperature takes few evaluations.
func TestHighestOfLines(t *testing.T) {
	for _, line := range []struct{ root, slope, guess float64 }{
		{36, 1, 35}, {36, 1, -20}, {36, 1.2, 55}, {36, 0.85, 20}, {-19.99, 1, 30}, {54.99, 1.1, 0}, {20, 1, 20},
	} {
		n := 0
		e, err := highest(line.guess, func(x float64) (float64, error) {
			n++
			return line.slope * (line.root - x), nil
		})
		if err != nil || !e.hasGood || !e.hasBad {
			t.Fatalf("%+v: %+v, %v", line, e, err)
		}
		if e.good.x > line.root || e.bad.x < line.root || e.bad.x-e.good.x > temperatureTolerance {
			t.Errorf("%+v: between %g and %g", line, e.good.x, e.bad.x)
		}
		if n > 7 { // one or two for each doubling of the step, two or three to close in
			t.Errorf("%+v: %d evaluations", line, n)
		}
	}
}

// Any margin that falls, and any that ends, is bracketed.
func TestHighestOfCurves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		root := rapid.Float64Range(ColdestField, HottestField).Draw(t, "root")
		slope := rapid.Float64Range(0.05, 5).Draw(t, "slope")
		bend := rapid.Float64Range(0, 0.1).Draw(t, "bend")
		end := rapid.Float64Range(ColdestField, HottestField+20).Draw(t, "end") // of flights at all
		guess := rapid.Float64Range(-60, 80).Draw(t, "guess")
		n := 0
		e, err := highest(guess, func(x float64) (float64, error) {
			n++
			if x > end {
				return math.NaN(), nil
			}
			d := root - x
			return slope*d + bend*d*d*d, nil
		})
		if err != nil || !e.hasGood {
			t.Fatalf("%+v, %v", e, err)
		}
		last := math.Min(root, end)
		if e.good.x > last || e.hasBad && e.bad.x < last || e.hasBad && e.bad.x-e.good.x > temperatureTolerance {
			t.Fatalf("the edge is %g; found between %g and %g", last, e.good.x, e.bad.x)
		}
		if !e.hasBad && e.good.x != HottestField {
			t.Fatalf("given up at %g", e.good.x)
		}
		if n > 45 { // three evaluations halve the bracket of 75 K, eleven halvings
			t.Fatalf("%d evaluations", n)
		}
	})
}

func TestHighestOutsideTheRange(t *testing.T) {
	e, err := highest(30, func(x float64) (float64, error) { return 80 - x, nil })
	if err != nil || e.hasBad || e.good.x != HottestField {
		t.Errorf("no limit in the range: %+v, %v", e, err)
	}
	e, err = highest(30, func(x float64) (float64, error) { return -40 - x, nil })
	if err != nil || e.hasGood || e.bad.x != ColdestField {
		t.Errorf("a limit everywhere: %+v, %v", e, err)
	}
	e, err = highest(30, func(float64) (float64, error) { return math.NaN(), nil })
	if err != nil || e.hasGood || !math.IsNaN(e.bad.margin) {
		t.Errorf("no flight at all: %+v, %v", e, err)
	}
	broken := errors.New("broken")
	if _, err = highest(30, func(float64) (float64, error) { return 0, broken }); err != broken {
		t.Errorf("the error is %v", err)
	}
}

// The sides of an edge may lie either way round.
func TestRefineEitherWay(t *testing.T) {
	margin := func(x float64) (float64, error) { return math.Sqrt(x) - 2, nil }
	e, err := refine(edge{good: probe{9, 1}, bad: probe{0, -2}, hasGood: true, hasBad: true}, 1e-3, margin)
	if err != nil || e.good.x < 4 || e.bad.x >= 4 || e.good.x-e.bad.x > 1e-3 {
		t.Errorf("%+v, %v", e, err)
	}
}
