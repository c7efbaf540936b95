package main

import (
	"fmt"

	"hotclimb/scenarios"
	"hotclimb/sweep"
	"hotclimb/sweep/optimum"
)

// override writes what flags say into the section size of a scenario.
func (f *sizeFlags) override(sc *scenarios.Scenario, cases []scenarios.CaseScenario, file string) error {
	if sc.Size == nil && len(f.vary) == 0 {
		return badInputf("%s: %w", file, errNoSize)
	}
	if sc.Size == nil {
		sc.Size = &scenarios.Size{}
		sc.Refill()
	}
	if len(f.vary) > 0 {
		sc.Size.Vary = map[string]string{}
	}
	for _, text := range f.vary {
		s, err := scenarios.ParseSetting(text)
		if err != nil {
			return badInputf("--vary: %q is no range; write PATH=LOW..HIGH, as in exits.belly.height=4in..12in", text)
		}
		if _, twice := sc.Size.Vary[s.Path]; twice {
			return badInputf("--vary: %s is given twice", s.Path)
		}
		if _, err := factorOf(cases, s); err != nil {
			return badInputf("--vary: %w", err)
		}
		sc.Size.Vary[s.Path] = s.Text
	}
	for _, s := range f.settings() {
		q, err := sc.Compile("size." + s.Path)
		if err != nil {
			return err
		}
		if message, hint := q.Wrong(sc, s.Text); message != "" {
			return badInputf("--%s: %s%s", flagOf(s.Path), message, inBrackets(hint))
		}
		if err := q.SetText(sc, s.Text); err != nil {
			return badInput{err}
		}
	}
	return f.idle(sc.Size)
}

// idle returns the flag that would have no effect beside the others.
func (f *sizeFlags) idle(z *scenarios.Size) error {
	if f.areaShare != "" && z.Minimise != optimum.Weighted {
		return badInputf("--area-share: the area has a share only when weighted; add --minimise %s", optimum.Weighted)
	}
	if f.doubtFrom != "" && z.Doubt.Value == 0 {
		return badInputf("--doubt-from: nothing is kept for doubt; add --doubt K, the number of standard deviations")
	}
	return nil
}

// flagOf is the flag that stands for a key of the section size.
func flagOf(key string) string {
	flag := []byte(key)
	for i := range flag {
		if flag[i] == '_' {
			flag[i] = '-'
		}
	}
	return string(flag)
}

// inBrackets is a hint behind a message, nothing without one.
func inBrackets(hint string) string {
	if hint == "" {
		return ""
	}
	return " (" + hint + ")"
}

// factorOf reads the bounds of one path.
func factorOf(cases []scenarios.CaseScenario, s scenarios.Setting) (sweep.Factor, error) {
	q, _, err := sweep.Compile(cases, s.Path)
	if err != nil {
		return sweep.Factor{}, err
	}
	if !q.IsNumber() {
		return sweep.Factor{}, fmt.Errorf("%s: is a word, and only a number can be sized", s.Path)
	}
	f, err := sweep.FactorOf(cases, s)
	if err == nil && f.Values != nil {
		err = fmt.Errorf("%s: %q gives no bounds; write LOW..HIGH", s.Path, s.Text)
	}
	return f, err
}

// sizingOf is the sizing that the section size of a scenario stands for.
func sizingOf(sc *scenarios.Scenario, cases []scenarios.CaseScenario) (optimum.Sizing, error) {
	z := sc.Size
	s := optimum.Sizing{
		Cases: cases, Minimise: z.Minimise, AreaShare: z.AreaShare.Value,
		CoolantMargin: z.CoolantMargin.Value, OilMargin: z.OilMargin.Value, BoilMargin: z.BoilMargin.Value,
		Doubt: z.Doubt.Value, DoubtFrom: z.DoubtFrom,
	}
	for _, set := range scenarios.Settings(z.Vary) {
		f, err := factorOf(cases, set)
		if err != nil {
			return s, badInputf("size.vary: %w", err)
		}
		s.Factors = append(s.Factors, f)
	}
	if err := sweep.CheckFactors(cases, s.Factors); err != nil {
		return s, badInputf("size.vary: %w", err)
	}
	return s, nil
}
