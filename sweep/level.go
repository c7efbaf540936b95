package sweep

import "hotclimb/scenarios"

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
	return sc.Edit(func(c *scenarios.Scenario) error {
		for i, f := range factors {
			var err error
			switch {
			case !f.Param.In(c):
			case f.Param.IsNumber():
				err = f.Param.Set(c, levels[i].Number)
			default:
				err = f.Param.SetText(c, levels[i].Word)
			}
			if err != nil {
				return err
			}
		}
		return nil
	})
}
