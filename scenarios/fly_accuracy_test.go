package scenarios_test

import (
	"math"
	"reflect"
	"testing"

	"golang.org/x/sync/errgroup"

	"hotclimb/sim"
)

// TestPeaksAreExact: two formulas that share nothing but the derivative agree
// to rounding of the tolerance, and the usual one is within 0.01 K of them with
// the usual formula. The explicit one needs a thirtieth of that: its steps are at
// the edge of stability, where errors as large as the tolerance stay.
func TestPeaksAreExact(t *testing.T) {
	between, usual, explicit := 0.0, 0.0, 0.0
	everyCase(t, func(t *testing.T, p *sim.Plant) {
		exact := fly(t, p, sim.Settings{RelTol: 1e-8, Method: sim.Explicit})
		other := fly(t, p, sim.Settings{RelTol: 1e-7})
		between = max(between, compare(t, exact, other, 1e-4))
		usual = max(usual, compare(t, exact, fly(t, p, sim.Settings{}), 0.01))
		explicit = max(explicit, compare(t, exact, fly(t, p, sim.Settings{RelTol: 5e-5, Method: sim.Explicit}), 0.01))
	})
	t.Logf("peaks: formulas apart by %.1e K; usual tolerance off by %.1e K, explicit at 5e-5 by %.1e K", between, usual, explicit)
}

// compare checks peaks, spans of legs and the status of two runs of one plant,
// and returns the largest difference of the peaks [K].
func compare(t *testing.T, want, got *sim.Result, tol float64) float64 {
	t.Helper()
	worst := 0.0
	for i, w := range want.Peaks {
		g := got.Peaks[i]
		worst = math.Max(worst, math.Abs(g.Value-w.Value))
		if g.Exceeded != w.Exceeded || math.Abs(g.TimeToLimit-w.TimeToLimit) > 100*tol {
			t.Errorf("%s: limit passed %t at %g s, want %t at %g s", w.Channel, g.Exceeded, g.TimeToLimit, w.Exceeded, w.TimeToLimit)
		}
	}
	if !(worst <= tol) {
		t.Errorf("peaks %v, want %v", got.Peaks, want.Peaks)
	}
	for i, w := range want.Legs {
		if g := got.Legs[i]; math.Abs(g.End-w.End) > 100*tol {
			t.Errorf("leg %s ends at %g s, want %g s", w.Name, g.End, w.End)
		}
	}
	if len(got.Events) != len(want.Events) || got.Status != want.Status {
		t.Errorf("%v and %v, want %v and %v", got.Status, got.Events, want.Status, want.Events)
	}
	return worst
}

// TestLookingChangesNothing: a run gives the same bits with and without a
// trajectory, again and beside others.
func TestLookingChangesNothing(t *testing.T) {
	everyCase(t, func(t *testing.T, p *sim.Plant) {
		want := fly(t, p, sim.Settings{})
		seen := fly(t, p, sim.Settings{Sample: 3})
		seen.Trajectory = nil
		results := make([]*sim.Result, 4)
		var group errgroup.Group
		for i := range results {
			group.Go(func() (err error) {
				results[i], err = sim.Run(t.Context(), p, sim.Settings{})
				return err
			})
		}
		if err := group.Wait(); err != nil {
			t.Fatal(err)
		}
		for _, got := range append(results, seen) {
			if !reflect.DeepEqual(got, want) {
				t.Errorf("%+v\nwant %+v", got, want)
			}
		}
	})
}

// TestTrajectory: all values are finite, time grows, and the highest samples
// stay just below the located peaks.
func TestTrajectory(t *testing.T) {
	everyCase(t, func(t *testing.T, p *sim.Plant) {
		r := fly(t, p, sim.Settings{Sample: 0.5})
		for _, c := range r.Trajectory.Channels {
			for i, v := range c.Values {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%s is %g in sample %d", c.Name, v, i)
				}
			}
		}
		times := r.Trajectory.Channels[0].Values
		last := len(times) - 1
		for i := range last {
			if !(times[i] < times[i+1]) {
				t.Fatalf("%g s comes before %g s", times[i], times[i+1])
			}
		}
		if end := r.Legs[len(r.Legs)-1].End; times[last] != end {
			t.Errorf("ends at %g s, the flight at %g s", times[last], end)
		}
		for _, peak := range r.Peaks {
			highest := math.Inf(-1)
			for i, v := range channel(t, r, peak.Channel+"_degC") {
				highest = math.Max(highest, v)
				if math.Abs(times[i]-peak.Time) < 0.5 && v < peak.Value-0.2 {
					t.Errorf("%s is %g at %g s, just beside its peak %g", peak.Channel, v, times[i], peak.Value)
				}
			}
			if d := peak.Value - highest; !(d >= 0 && d < 0.05) {
				t.Errorf("%s: peak %g, highest sample %g", peak.Channel, peak.Value, highest)
			}
		}
	})
}

// channel returns the values of a channel of a trajectory.
func channel(t testing.TB, r *sim.Result, name string) []float64 {
	t.Helper()
	c := r.Trajectory.Find(name)
	if c == nil {
		t.Fatalf("there is no channel %s", name)
	}
	return c.Values
}
