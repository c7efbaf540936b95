package sweep

import (
	"sync"

	"hotclimb/scenarios"
)

// Factor is a path and what it takes in a study.
type Factor = scenarios.VaryRange

// Level is the value of one factor in one trial.
type Level struct {
	Number float64 // SI, °C; of a path that is a number
	Word   string  // of a path that is a word
}

// Set sets paths of an effective scenario to levels and returns the scenario
// that results, checked. A path that this case of the file does not have is
// passed over, as --set does.
func Set(sc *scenarios.Scenario, factors []Factor, levels []Level) (*scenarios.Scenario, error) {
	v, err := sc.Vary(setting(factors, levels))
	if err != nil {
		return nil, err
	}
	return v.Scenario(), nil
}

// Vary is Set for a scenario that is varied many times, in much less time.
func Vary(t *scenarios.Template, factors []Factor, levels []Level) (*scenarios.Variant, error) {
	return t.Vary(setting(factors, levels))
}

// Templates makes one of each case when it is first asked for.
func Templates(cases []scenarios.CaseScenario) []func() *scenarios.Template {
	list := make([]func() *scenarios.Template, len(cases))
	for i, k := range cases {
		list[i] = sync.OnceValue(k.Scenario.Template)
	}
	return list
}

// setting sets paths to levels.
func setting(factors []Factor, levels []Level) func(*scenarios.Variant) error {
	return func(v *scenarios.Variant) (err error) {
		for i, f := range factors {
			switch {
			case !v.In(f.Param):
			case f.Param.IsNumber():
				err = v.Set(f.Param, levels[i].Number)
			default:
				err = v.SetText(f.Param, levels[i].Word)
			}
			if err != nil {
				return err
			}
		}
		return nil
	}
}
