package scenarios

import (
	"fmt"
	"maps"
	"slices"
	"strings"
)

// checker checks a decoded scenario as a whole: what one key cannot show.
type checker struct {
	sc     *Scenario
	bad    badPaths
	torn   bool // a connection of the cowl is missing or leads nowhere
	faults Faults
}

// tell adds a fault, unless it follows from one already known.
func (c *checker) tell(path, message, hint string) {
	if c.bad.hides(path) {
		return
	}
	c.faults = append(c.faults, c.sc.where.fault(path, message, hint))
}

// check tells every fault of a scenario whose single values are in order,
// apart from its studies. Where bad paths leave the cowl in pieces, the ways of
// the air are not followed.
func (sc *Scenario) check(bad badPaths) Faults {
	c := &checker{sc: sc, bad: bad}
	c.fields()
	c.airspeeds()
	c.heat()
	c.liquids()
	c.flight()
	c.openings()
	c.bayHeat()
	c.leaks()
	c.exchangers()
	c.spray()
	c.names()
	if !c.torn && !bad.touches("inlets", "exchangers", "compartments", "exits", "leaks") {
		c.air()
	}
	return c.faults
}

// fields tells what must be given and is not, and words that name something
// which does not exist. A section that is missing as a whole is one fault.
func (c *checker) fields() {
	c.sc.visit(c.field())
}

// field returns a check of one field after the other.
func (c *checker) field() func(spot) {
	missing := "#" // the section told last
	return func(s spot) {
		switch {
		case s.field.required && !inside(s.path, missing) && c.missing(s):
			missing = s.path
			c.tell(s.path, "is missing", s.field.wanted())
		case s.field.refers != nil && s.field.shape == shapeText && s.present():
			c.reference(s.field, s.path, s.value.String())
		case s.field.refers != nil && s.field.shape == shapeTexts:
			for _, name := range s.value.Interface().([]string) {
				c.reference(s.field, join(s.path, name), name)
			}
		}
	}
}

// wanted says what belongs into a field.
func (f *field) wanted() string {
	if f.words == nil {
		return f.doc
	}
	return f.doc + ": one of " + strings.Join(f.words, ", ")
}

// missing says that a spot is not given. A section that is no pointer is always
// there: whether the file has it is known from its place.
func (c *checker) missing(s spot) bool {
	if s.field.shape == shapeSection {
		_, written := c.sc.where[s.path]
		return !written
	}
	return !s.present()
}

func (c *checker) reference(f *field, path, name string) {
	known := c.sc.namesIn(f.refers)
	if slices.Contains(known, name) || c.faulty(f.refers, name) {
		return
	}
	c.torn = true
	c.tell(path, fmt.Sprintf("%q is the name of nothing in %s", name, orList(f.refers)), didYouMean(name, known))
}

// faulty says that a name stands in the file, though a fault kept its section
// from being read.
func (c *checker) faulty(sections []string, name string) bool {
	for _, section := range sections {
		if _, ok := c.sc.where[join(section, name)]; ok || c.bad[section] {
			return true
		}
		for bad := range c.bad {
			if strings.EqualFold(bad, join(section, name)) {
				return true
			}
		}
	}
	return false
}

// namesIn are the names in sections, sorted within each.
func (sc *Scenario) namesIn(sections []string) []string {
	var names []string
	for _, section := range sections {
		switch section {
		case "inlets":
			names = append(names, slices.Sorted(maps.Keys(sc.Inlets))...)
		case "compartments":
			names = append(names, slices.Sorted(maps.Keys(sc.Compartments))...)
		case "exits":
			names = append(names, slices.Sorted(maps.Keys(sc.Exits))...)
		case "exchangers":
			names = append(names, slices.Sorted(maps.Keys(sc.Exchangers))...)
		case "leaks":
			names = append(names, slices.Sorted(maps.Keys(sc.Leaks))...)
		case "cases":
			names = append(names, sc.CaseNames()...)
		case "tests":
			for _, t := range sc.Tests {
				names = append(names, t.Name)
			}
		default: // a word that stands for itself
			names = append(names, section)
		}
	}
	return names
}

func orList(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
