package calibrate

import (
	"math"
	"os"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// factsOf are the flight records of an overlay.
func factsOf(t testing.TB, sc *scenarios.Scenario) map[string]*Record {
	t.Helper()
	records := map[string]*Record{}
	for _, test := range sc.Tests {
		flown, err := sc.AsFlown(test, nil)
		if err != nil {
			t.Fatal(err)
		}
		if records[test.Name], err = NewRecord(flown, test, nil); err != nil {
			t.Fatal(err)
		}
	}
	return records
}

// top is the coolant at the end of a record as the model has it, with one number
// moved.
func top(t testing.TB, r *Record, sc *scenarios.Scenario, p *scenarios.Param, to float64) float64 {
	t.Helper()
	if p != nil {
		var err error
		if sc, err = sc.Edit(func(c *scenarios.Scenario) error { return p.Set(c, to) }); err != nil {
			t.Fatal(err)
		}
	}
	trace, err := r.Fly(t.Context(), sc, Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	return trace.Of(Reading{Circuit: sweep.Coolant, From: r.End, To: r.End})
}

// difference is by how much a record ends cooler than another [K], and its doubt
// by slopes, with the numbers and correlations that both scenarios carry. A
// number of the one that is another in the other moves there alone.
func difference(t testing.TB, base, fact *Record, without, with *scenarios.Scenario) (value, doubt float64) {
	t.Helper()
	here := top(t, base, without, nil, 0)
	value = here - top(t, fact, with, nil, 0)
	d, err := sweep.DoubtsOf(with)
	if err != nil {
		t.Fatal(err)
	}
	slope := make([]float64, len(d.Params))
	for k := range d.Params {
		p := &d.Params[k]
		own, ok := p.Get(without)
		shared := ok && own.Value == d.Mean[k]
		move := func(to float64) float64 {
			if there := top(t, fact, with, p, to); shared {
				return top(t, base, without, p, to) - there
			} else {
				return here - there
			}
		}
		to := d.Mean[k] + d.Deviation[k]/2
		if to > p.Hi {
			to = d.Mean[k] - d.Deviation[k]/2
		}
		slope[k] = (move(to) - value) / (to - d.Mean[k]) * d.Deviation[k]
	}
	for j := range slope {
		for k := range slope {
			rho := 0.0
			switch {
			case j == k:
				rho = 1
			case d.Correlation != nil:
				rho = d.Correlation.At(j, k)
			}
			doubt += slope[j] * rho * slope[k]
		}
	}
	return value, math.Sqrt(doubt)
}

// TestTradeFacts: what builders tell of three small changes, each with a doubt of
// 2 °F, entered as flight records. The numbers are fitted to two of them; then the
// model predicts the third within its interval of 90 %, in which the doubt of the
// fact counts too. A short run leaves out the largest alone.
func TestTradeFacts(t *testing.T) {
	const z90, factDoubt, inF = 1.6449, 2.0, 1.8
	facts := []struct {
		name   string
		cooler float64 // than taped [°F]
	}{{"small", 5}, {"deeper", 12}, {"gradual", 10}}
	sc, err := scenarios.LoadFile(highwing, []string{"../../testdata/scenarios/highwing_facts.over.yaml"})
	if err != nil {
		t.Fatal(err)
	}
	records := factsOf(t, sc)
	base := records["taped"]
	for _, out := range facts {
		if out.name != "deeper" && os.Getenv("HOTCLIMB_LONG") == "" {
			continue
		}
		used := []*Record{base}
		for _, f := range facts {
			if f.name != out.name {
				used = append(used, records[f.name])
			}
		}
		found := find(t, &Calibration{Scenario: sc, Records: used, Paths: sc.Fit.Paths, Workers: 2})
		without, err := found.Posterior(base.Scenario)
		if err != nil {
			t.Fatal(err)
		}
		with, err := found.Posterior(records[out.name].Scenario)
		if err != nil {
			t.Fatal(err)
		}
		before := top(t, base, base.Scenario, nil, 0) - top(t, records[out.name], records[out.name].Scenario, nil, 0)
		after, left := difference(t, base, records[out.name], without, with)
		reach := z90 * math.Hypot(left*inF, factDoubt)
		t.Logf("%s: told %+.0f °F cooler; left out of the fit it is predicted as %+.1f, 90 %% %+.1f to %+.1f (± %.1f by the model alone; %+.1f before the fit)",
			out.name, out.cooler, after*inF, after*inF-reach, after*inF+reach, left*inF, before*inF)
		if math.Abs(after*inF-out.cooler) > reach {
			t.Errorf("%s is %+.1f °F cooler by the model, within %.1f at 90 %%, and %+.0f °F as told", out.name, after*inF, reach, out.cooler)
		}
	}
}
