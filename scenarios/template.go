package scenarios

import (
	"reflect"
	"slices"

	"hotclimb/sim"
)

// Template is an effective scenario that is varied many times, as in the rows of
// a study. A variant shares with it all sections in which no number is set: they
// are neither copied, filled, checked nor built again. It may serve several
// goroutines at once, and what one variant sets shows in no other.
type Template struct {
	scenario *Scenario
	plant    *sim.Plant // nil when it has faults, so that all of every variant is checked and built
	layout   *layout
}

// Template returns one that what is done to sc later does not change.
func (sc *Scenario) Template() *Template {
	c := sc.Clone()
	c.Refill()
	t := &Template{scenario: c}
	if c.check(nil) != nil {
		return t
	}
	b := &builder{sc: c, in: &everything, plant: &sim.Plant{}, layout: c.layout()}
	if plant, err := b.build(); err == nil {
		t.plant, t.layout = plant, b.layout
	}
	return t
}

// Variant is a template with some of its numbers and words set anew.
type Variant struct {
	scenario Scenario
	template *Template // nil: all is its own
	own      sections  // not shared with the template
}

// Vary returns a variant that change has set numbers and words of, with defaults
// filled anew and the whole checked, as Scenario.Edit does.
func (t *Template) Vary(change func(*Variant) error) (*Variant, error) {
	v := &Variant{scenario: *t.scenario, template: t}
	if t.plant == nil {
		v.ownAll()
	}
	return v.made(change)
}

// Vary is Template.Vary for a scenario that is varied once.
func (sc *Scenario) Vary(change func(*Variant) error) (*Variant, error) {
	v := &Variant{scenario: *sc.Clone(), own: everything}
	return v.made(change)
}

// made is the variant when change has worked on it.
func (v *Variant) made(change func(*Variant) error) (*Variant, error) {
	if err := change(v); err != nil {
		return nil, err
	}
	if err := v.complete().err(); err != nil {
		return nil, err
	}
	return v, nil
}

// complete fills defaults anew and tells every fault.
func (v *Variant) complete() Faults {
	if v.own.all {
		v.scenario.Refill()
		return v.scenario.check(nil)
	}
	v.scenario.refillNumbers(&v.own)
	return v.scenario.checkNumbers(&v.own)
}

// In is Param.In.
func (v *Variant) In(p Param) bool { return p.In(&v.scenario) }

// Set is Param.Set.
func (v *Variant) Set(p Param, value float64) error {
	v.ownIt(p)
	return p.Set(&v.scenario, value)
}

// SetText is Param.SetText.
func (v *Variant) SetText(p Param, text string) error {
	v.ownIt(p)
	return p.SetText(&v.scenario, text)
}

// ownIt makes what setting a parameter may change the variant's own. Much may
// follow from a word: then that is everything.
func (v *Variant) ownIt(p Param) {
	top := p.steps[0].field
	switch {
	case v.own.all:
	case p.changesWords(&v.scenario):
		v.ownAll()
	case !v.own.any(top.key):
		top.deepen(reflect.ValueOf(&v.scenario).Elem().Field(top.index))
		v.own.keys = append(v.own.keys, top.key)
	}
}

func (v *Variant) ownAll() {
	v.scenario = *v.scenario.Clone()
	v.own = everything
}

// changesWords says that setting the parameter changes a word: its own, or one
// that it excludes.
func (p Param) changesWords(sc *Scenario) bool {
	f := p.leaf()
	if f.shape == shapeText || f.rivals == nil {
		return f.shape == shapeText
	}
	s, err := p.locate(sc)
	return err == nil && slices.ContainsFunc(f.rivals, func(rival *field) bool {
		return rival.shape == shapeText && s.beside(rival).present()
	})
}

// Scenario is the variant as a scenario, to be read only.
func (v *Variant) Scenario() *Scenario { return &v.scenario }

// Build makes the plant of the variant: the same as Scenario.Build.
func (v *Variant) Build() (*sim.Plant, error) {
	if v.own.all {
		return v.scenario.Build()
	}
	plant := *v.template.plant
	b := &builder{sc: &v.scenario, in: &v.own, plant: &plant, layout: v.template.layout}
	if v.own.any("exchangers") { // whose order may have changed
		b.layout = v.scenario.layout()
	}
	return b.build()
}
