package scenarios

import "slices"

// sections are some of the sections of a scenario, by their keys.
type sections struct {
	all  bool
	keys []string
}

// everything is all sections.
var everything = sections{all: true}

// any says that one of some sections is among them.
func (s *sections) any(keys ...string) bool {
	if s.all {
		return true
	}
	for _, key := range keys {
		if slices.Contains(s.keys, key) {
			return true
		}
	}
	return false
}
