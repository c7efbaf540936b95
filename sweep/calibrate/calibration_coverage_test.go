package calibrate

import (
	"math/rand/v2"
	"os"
	"runtime"
	"testing"

	"golang.org/x/sync/errgroup"
)

// TestCalibrationCoverage: truths drawn from what is known before, flown, and read
// with the noise of the gauges; intervals of 90 % around what is found hold them
// in nine of ten trials. Prior and noise being true, this would be so exactly if
// the model were linear. Of 400 trials 85 to 95 % do but one time in a thousand
// (binomial); of 24, as in a short run, all five numbers together are held to it.
// Seeds make it the same each time.
func TestCalibrationCoverage(t *testing.T) {
	const z90 = 1.6449
	trials, long := 24, os.Getenv("HOTCLIMB_LONG") != ""
	if long {
		trials = 400
	}
	sc := withDoubts(t, highwing, fourDoubts...)
	p := short
	p.coolantDoubt = 3
	record := blank(t, sc, p)
	type trial struct{ inside [5]bool }
	all := make([]trial, trials)
	var group errgroup.Group
	group.SetLimit(runtime.GOMAXPROCS(0))
	for i := range all {
		group.Go(func() error {
			rng := rand.New(rand.NewPCG(uint64(i), 7))
			made := truth{}
			for _, path := range fourPaths {
				n, err := sc.Compile(path)
				if err != nil {
					return err
				}
				prior, _ := n.Get(sc)
				made[path] = prior.Value + prior.Doubt*rng.NormFloat64()
			}
			start := [2]float64{p.startCoolant + p.coolantDoubt*rng.NormFloat64(), p.startOil}
			r := made.read(t, record, start, rng.NormFloat64)
			found, err := (&Calibration{Scenario: sc, Records: []*Record{r}, Paths: fourPaths}).Find(t.Context())
			if err != nil {
				return err
			}
			for k, n := range found.Numbers {
				all[i].inside[k] = within90(made[n.Param.Path]-n.After, n.Left*z90)
			}
			s := found.Records[0].Start[0]
			all[i].inside[4] = within90(start[0]-s.Value, s.Doubt*z90)
			return nil
		})
	}
	if err := group.Wait(); err != nil {
		t.Fatal(err)
	}
	total := 0.0
	for k, name := range append(append([]string{}, fourPaths...), "start of the coolant") {
		held := 0
		for i := range all {
			if all[i].inside[k] {
				held++
			}
		}
		share := float64(held) / float64(trials)
		t.Logf("%s: %.1f %% of %d intervals hold the truth", name, 100*share, trials)
		if long && (share < 0.85 || share > 0.95) {
			t.Errorf("%s: intervals of 90 %% hold the truth in %.1f %% of trials", name, 100*share)
		}
		total += share / 5
	}
	if total < 0.85 || total > 0.95 {
		t.Errorf("intervals of 90 %% hold the truth in %.1f %% of trials", 100*total)
	}
}

func within90(off, reach float64) bool { return off >= -reach && off <= reach }
