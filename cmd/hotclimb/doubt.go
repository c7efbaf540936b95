package main

import (
	"fmt"
	"math"
	"math/bits"

	"github.com/spf13/cobra"
	"hotclimb/sweep"
	"hotclimb/sweep/uncertainty"
)

// doubtFlags are the flags of a command that draws the doubtful numbers of a
// scenario.
type doubtFlags struct {
	doubt    bool
	draws    int
	sampling choice

	drawsGiven, samplingGiven bool
}

// Draws of one flight: fewer do not tell 5 % from 95 %, and more tell nothing
// that the model could mean.
const (
	leastDraws = 16
	mostDraws  = 1 << 16
)

// add adds the flags; what names what is drawn, in how many draws when
// nothing is said.
func (d *doubtFlags) add(cmd *cobra.Command, what string, draws int) {
	d.sampling = choice{sweep.SobolDesign, []string{sweep.SobolDesign, sweep.LatinDesign}}
	f := cmd.Flags()
	f.BoolVar(&d.doubt, "doubt", false, "also fly "+what+" with its doubtful numbers drawn")
	f.IntVar(&d.draws, "draws", draws, "draw `N` times, a power of two unless --sampling says otherwise")
	f.Var(&d.sampling, "sampling", "draw by `WORD`: sobol or latin_hypercube")
}

// given notes which flags are on the command line.
func (d *doubtFlags) given(cmd *cobra.Command) {
	d.drawsGiven, d.samplingGiven = cmd.Flags().Changed("draws"), cmd.Flags().Changed("sampling")
}

// check tells values of the flags that no flag reader refuses.
func (d *doubtFlags) check() error {
	switch {
	case d.drawsGiven && !d.doubt:
		return badInputf("--draws %d: nothing is drawn; add --doubt", d.draws)
	case d.samplingGiven && !d.doubt:
		return badInputf("--sampling %s: nothing is drawn; add --doubt", d.sampling.word)
	case d.draws < leastDraws || d.draws > mostDraws:
		return badInputf("--draws %d: take %d to %d", d.draws, leastDraws, mostDraws)
	case sweep.PointFault(d.sampling.word, d.draws) != nil:
		below := 1 << (bits.Len(uint(d.draws)) - 1)
		return badInputf("--draws %d: Sobol points come in powers of two; take %d or %d, or add --sampling %s",
			d.draws, below, 2*below, sweep.LatinDesign)
	}
	return nil
}

// drawing says how flights are drawn.
func (d *doubtFlags) drawing(seed uint64) uncertainty.FlightSettings {
	return uncertainty.FlightSettings{Draws: d.draws, Sampling: d.sampling.word, Seed: seed}
}

// percent prints a share, and does not round what may happen to never or always.
// An estimate may lie a little outside of 0 to 1; it is printed as the end.
func percent(share float64) string {
	share = min(max(share, 0), 1)
	switch {
	case share > 0 && share <= 0.005:
		return "<1 %"
	case share < 1 && share >= 0.995:
		return ">99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*share)
}

// chance prints a probability with its interval.
func chance(e uncertainty.Estimate) string {
	return fmt.Sprintf("%s (%.0f to %.0f)", percent(e.Value), math.Floor(100*max(e.Lo, 0)), math.Ceil(100*min(e.Hi, 1)))
}
