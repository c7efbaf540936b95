package sweep

import (
	"errors"
	"fmt"

	"hotclimb/scenarios"
)

// FactorOf reads what a path takes. The path must exist in one case at least. It
// is displayed in the unit in which that case has it.
func FactorOf(cases []scenarios.CaseScenario, s scenarios.Setting) (Factor, error) {
	p, k, err := Compile(cases, s.Path)
	if err != nil {
		return Factor{}, err
	}
	if n, ok := p.Get(k.Scenario); ok && n.Unit != "" {
		p.Unit = n.Unit
	}
	f, err := scenarios.ParseVary(s.Text, p)
	if err != nil {
		return Factor{}, fmt.Errorf("%s: %w", s.Path, err)
	}
	return f, nil
}

// Compile finds a path in the first case that has it. The error is that of the
// first case of all.
func Compile(cases []scenarios.CaseScenario, path string) (scenarios.Param, scenarios.CaseScenario, error) {
	var first error
	for _, k := range cases {
		p, err := k.Scenario.Compile(path)
		if err == nil {
			return p, k, nil
		}
		if first == nil {
			first = err
		}
	}
	return scenarios.Param{}, scenarios.CaseScenario{}, first
}

// Filed is the value of a number in the first case that has one, in SI. An area
// that is given by width and height, or by a diameter, counts as well.
func Filed(cases []scenarios.CaseScenario, p scenarios.Param) (float64, bool) {
	for _, k := range cases {
		if n, ok := p.Get(k.Scenario); ok {
			return n.Value, true
		}
		for _, o := range k.Scenario.Openings() {
			if p.Path == o.Path+".area" {
				return o.Area, true
			}
		}
	}
	return 0, false
}

// CheckFactors is the error of factors that cannot be set together: a path that
// comes twice, or one that another clears, as an area and a height do.
func CheckFactors(cases []scenarios.CaseScenario, factors []Factor) error {
	for i, f := range factors {
		for _, g := range factors[:i] {
			if f.Param.Path == g.Param.Path {
				return fmt.Errorf("%s: is given twice; keep one", f.Param.Path)
			}
			if excludes(cases, g, f) {
				return fmt.Errorf("%s: excludes %s, which varies as well; keep one", f.Param.Path, g.Param.Path)
			}
		}
	}
	return nil
}

// excludes says that in some case setting b clears a.
func excludes(cases []scenarios.CaseScenario, a, b Factor) bool {
	for _, k := range cases {
		c := k.Scenario.Clone()
		if setFirst(c, a) == nil && setFirst(c, b) == nil && a.Param.Text(c) == "" {
			return true
		}
	}
	return false
}

// setFirst sets a factor to the first thing it takes.
func setFirst(sc *scenarios.Scenario, f Factor) error {
	switch {
	case f.Param.IsNumber():
		return f.Param.Set(sc, f.Lo)
	case len(f.Words) > 0:
		return f.Param.SetText(sc, f.Words[0])
	}
	return errors.New("takes nothing")
}
