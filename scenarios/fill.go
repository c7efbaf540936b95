package scenarios

// Refill forgets every default and fills it in again, for what kinds and
// presets fill depends on the words and numbers given. It is needed after
// Param.Set and Param.SetText; With and Load do it themselves.
func (sc *Scenario) Refill() {
	sc.visit(func(s spot) {
		if n := s.number(); n != nil && !n.Written || sc.filled[s.path] {
			s.clear()
		}
	})
	sc.fill()
}

// fill fills what is not given: first from the tags, then by kind and preset.
func (sc *Scenario) fill() {
	var open []spot // words not given
	sc.visit(func(s spot) {
		if s.present() || s.field.shape != shapeNumber && s.field.shape != shapeText {
			return
		}
		if s.field.shape == shapeText {
			open = append(open, s)
			s.value.SetString(s.field.standard)
		} else if s.field.standard != "" {
			*s.number() = s.field.preset
		}
	})
	sc.fillKinds()
	sc.filled = map[string]bool{}
	for _, s := range open {
		if s.present() {
			sc.filled[s.path] = true
		}
	}
}

// Default is a value in use that the file does not give.
type Default struct {
	Path   string
	Text   string // the value with its doubt, or the word
	Source string // where it comes from; "" for words
}

// Defaults are the values in use that the file does not give, in the order of
// the sections.
func (sc *Scenario) Defaults() []Default {
	var list []Default
	sc.visit(func(s spot) {
		if n := s.number(); n != nil && n.Known && !n.Written {
			list = append(list, Default{s.path, n.Format(s.field.dim), n.Source})
		} else if sc.filled[s.path] {
			list = append(list, Default{s.path, s.value.String(), s.field.source})
		}
	})
	return list
}
