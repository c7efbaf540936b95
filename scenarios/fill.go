package scenarios

// Refill forgets every default and fills it in again: first from the tags, then
// by kind and preset, which depend on the words and numbers given. It is needed
// after Param.Set and Param.SetText; Load and With do it themselves.
func (sc *Scenario) Refill() {
	var open []spot // words not given
	sc.visit(func(s spot) {
		switch s.field.shape {
		case shapeNumber:
			if n := s.number(); !n.Written {
				*n = s.field.preset
			}
		case shapeText:
			if !s.present() || sc.filled[s.path] {
				open = append(open, s)
				s.value.SetString(s.field.standard)
			}
		}
	})
	sc.fillKinds()
	sc.filled = make(map[string]bool, len(open))
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

// defaultText prints a default, one without a unit in that of the results.
func (sc *Scenario) defaultText(n *Number, d *Dimension) string {
	shown := *n
	if shown.Unit == "" {
		shown.Unit = DisplayUnit(d, sc.Display)
	}
	return shown.Format(d)
}

// Defaults are the values in use that the file does not give, in the order of
// the sections.
func (sc *Scenario) Defaults() []Default {
	var list []Default
	sc.visit(func(s spot) {
		if n := s.number(); n != nil && n.Known && !n.Written {
			list = append(list, Default{s.path, sc.defaultText(n, s.field.dim), n.Source})
		} else if sc.filled[s.path] {
			list = append(list, Default{s.path, s.value.String(), s.field.source})
		}
	})
	return list
}
