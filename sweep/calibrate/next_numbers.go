package calibrate

import (
	"errors"

	"gonum.org/v1/gonum/mat"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// ErrNoDoubts is that of a scenario in which everything is known: no flight can
// teach anything.
var ErrNoDoubts = errors.New("no number carries a doubt: write what is not known exactly as in 0.60 ± 0.10")

// openNumber is a number that is not known exactly.
type openNumber struct {
	param       scenarios.Param
	mean, sigma float64 // the deviation is what its range leaves of its doubt
	gauge       bool    // it moves what a gauge shows, not the flight
	circuit     int     // of the gauge
	lag         bool    // it is the lag of the gauge, not its bias
}

// gaugePaths are the numbers that move what gauges show.
var gaugePaths = []openNumber{
	{param: scenarios.Param{Path: "gauges.coolant.bias"}, circuit: sweep.Coolant},
	{param: scenarios.Param{Path: "gauges.coolant.lag"}, circuit: sweep.Coolant, lag: true},
	{param: scenarios.Param{Path: "gauges.oil.bias"}, circuit: sweep.Oil},
	{param: scenarios.Param{Path: "gauges.oil.lag"}, circuit: sweep.Oil, lag: true},
}

// openNumbersOf are the doubtful numbers of an effective scenario: those of the
// doubts, in their order, and those of its gauges.
func openNumbersOf(sc *scenarios.Scenario, doubts *sweep.Doubts) ([]openNumber, error) {
	var list []openNumber
	spreads := doubts.Spreads() // as in the slopes of the target
	for k, p := range doubts.Params {
		list = append(list, openNumber{param: p, mean: doubts.Mean[k], sigma: spreads[k]})
	}
	for _, u := range gaugePaths {
		p, err := sc.Compile(u.param.Path)
		if err != nil {
			return nil, err
		}
		if n, ok := p.Get(sc); ok && n.Doubt > 0 {
			u.param, u.mean, u.sigma, u.gauge = p, n.Value, n.Doubt, true
			list = append(list, u)
		}
	}
	return list, nil
}

// correlationsOf are those of numbers that are not known.
func correlationsOf(sc *scenarios.Scenario, list []openNumber) *mat.SymDense {
	place := map[string]int{}
	r := mat.NewSymDense(len(list), nil)
	for k := range list {
		place[list[k].param.Path] = k
		r.SetSym(k, k, 1)
	}
	for _, c := range sc.Correlations {
		j, a := place[c.Of]
		k, b := place[c.With]
		if a && b {
			r.SetSym(j, k, c.Value.Value)
		}
	}
	return r
}
