package scenarios

// CaseSetting is a setting of every case in which its path exists, or of one.
type CaseSetting struct {
	Case string // its name; "" for every case
	Setting
}

// WithCaseSettings is the scenario with settings written into it: its cases are
// those of EffectiveCases with them. Of two that set the same, the later holds.
// The error is a Faults.
func (sc *Scenario) WithCaseSettings(list []CaseSetting) (*Scenario, error) {
	settings := latest(list)
	cases, err := sc.EffectiveCases(nil, settings[""])
	if err != nil {
		return nil, err
	}
	written, err := sc.AsRun(cases, settings[""])
	if err != nil {
		return nil, err
	}
	delete(settings, "")
	for name, own := range settings {
		if cases, err = written.EffectiveCases([]string{name}, own); err != nil {
			return nil, err
		}
		if written, err = written.AsRun(cases, own); err != nil {
			return nil, err
		}
	}
	return written, nil
}

// latest are the settings by their case, of each path the last one.
func latest(list []CaseSetting) map[string][]Setting {
	settings := map[string][]Setting{}
	for i, s := range list {
		again := false
		for _, t := range list[i+1:] {
			again = again || t.Case == s.Case && t.Path == s.Path
		}
		if !again {
			settings[s.Case] = append(settings[s.Case], s.Setting)
		}
	}
	return settings
}
