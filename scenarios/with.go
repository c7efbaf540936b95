package scenarios

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// Setting is a path and the text of its value, as in inlets.left.area and
// 13 in^2.
type Setting struct {
	Path string
	Text string
}

// ParseSetting reads PATH=VALUE.
func ParseSetting(text string) (Setting, error) {
	path, value, ok := strings.Cut(text, "=")
	path, value = strings.TrimSpace(path), strings.TrimSpace(value)
	if !ok || path == "" || value == "" {
		return Setting{}, fmt.Errorf("%q is no setting; write PATH=VALUE, as in day.temperature=35degC", text)
	}
	return Setting{path, value}, nil
}

// Settings are the settings of a case, a change or a test, sorted by path.
func Settings(set map[string]string) []Setting {
	list := make([]Setting, 0, len(set))
	for _, path := range sortedKeys(set) {
		list = append(list, Setting{path, set[path]})
	}
	return list
}

// With returns a deep copy with settings applied, defaults filled anew and the
// whole checked, but for its cases and studies. sc stays as it is and may serve
// several goroutines at once. The error is a Faults.
func (sc *Scenario) With(settings []Setting) (*Scenario, error) {
	c := sc.Clone()
	if err := c.apply(settings).err(); err != nil {
		return nil, err
	}
	c.Refill()
	if err := c.checkSet(settings).err(); err != nil {
		return nil, err
	}
	return c, nil
}

// checkSet checks the whole after settings. Faults of what was set have no
// place in a file.
func (sc *Scenario) checkSet(settings []Setting) Faults {
	faults := sc.check(nil)
	for i, f := range faults {
		if slices.ContainsFunc(settings, func(s Setting) bool { return s.Path == f.Path }) {
			faults[i] = Fault{Path: f.Path, Message: f.Message, Hint: f.Hint}
		}
	}
	return faults
}

// apply sets paths one after the other. Two of them may not exclude each other.
func (sc *Scenario) apply(settings []Setting) Faults {
	var faults Faults
	given := map[string]Setting{} // group of alternatives: the first of them set
	member := map[string]string{}
	for _, s := range settings {
		p, err := sc.Compile(s.Path)
		if err == nil {
			group, m := p.alternative()
			if first, ok := given[group]; ok && group != "" && member[group] != m {
				faults = append(faults, Fault{Path: s.Path, Message: "excludes " + first.Path + ", which is set as well", Hint: "keep one"})
				continue
			}
			given[group], member[group] = s, m
			err = p.SetText(sc, s.Text)
		}
		if err != nil {
			faults = append(faults, asFault(s.Path, err))
		}
	}
	return faults
}

// asFault makes an error a fault of a path.
func asFault(path string, err error) Fault {
	var f Fault
	var unknown *UnknownPath
	switch {
	case errors.As(err, &f):
		return f
	case errors.As(err, &unknown):
		return unknown.fault()
	}
	return Fault{Path: path, Message: err.Error()}
}
