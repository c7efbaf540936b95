package scenarios

import "reflect"

// Refill forgets every default and fills it in again: first from the tags, then
// by kind and preset, which depend on the words and numbers given. It is needed
// after Param.Set and Param.SetText; Load and With do it themselves.
func (sc *Scenario) Refill() {
	var open []spot // words not given
	sc.visit(func(s spot) {
		if s.field.shape == shapeText && (!s.present() || sc.filled[s.path()]) {
			open = append(open, s)
			s.value.SetString(s.field.standard)
		}
	})
	sc.refillNumbers(&everything)
	sc.filled = make(map[string]bool, len(open))
	for _, s := range open {
		if s.present() {
			sc.filled[s.path()] = true
		}
	}
}

// refillNumbers is Refill for some sections, of which no word has changed: no
// default of a word follows from a number, and none of a number from another
// section, but for words in it.
func (sc *Scenario) refillNumbers(in *sections) {
	owner := reflect.ValueOf(sc).Elem()
	for _, f := range root().list {
		if in.any(f.key) {
			f.forget(owner.Field(f.index))
		}
	}
	sc.fillKinds(in)
}

// forget takes numbers that are not given for the defaults of their tags.
func (f *field) forget(v reflect.Value) {
	switch f.shape {
	case shapeNumber:
		if n := numberIn(v); !n.Written {
			*n = f.preset
		}
	case shapeSection, shapeNamed, shapeItems:
		if !f.fixed {
			f.eachSection(v, forgetAll)
		}
	}
}

// forgetAll forgets in all fields of a section.
func forgetAll(section reflect.Value, fs *fields) {
	for _, f := range fs.list {
		f.forget(section.Field(f.index))
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
			list = append(list, Default{s.path(), sc.defaultText(n, s.field.dim), n.Source})
		} else if sc.filled[s.path()] {
			list = append(list, Default{s.path(), s.value.String(), s.field.source})
		}
	})
	return list
}
