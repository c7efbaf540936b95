package scenarios

import (
	"fmt"
	"slices"
	"strings"

	"hotclimb/sim/fluid"
)

// checker checks a decoded scenario as a whole: what one key cannot show.
type checker struct {
	sc     *Scenario
	bad    badPaths
	torn   bool // a connection of the cowl is missing or leads nowhere
	faults Faults

	coolant, oil *fluid.Liquid // for the ratings of exchangers; nil while one is not known
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
	sc.visit(c.field())
	c.numbers(&everything)
	c.names()
	if !c.torn && !bad.touches("inlets", "exchangers", "compartments", "exits", "leaks") {
		c.air()
	}
	return c.faults
}

// checkNumbers is check for a scenario without faults, of which numbers in some
// sections have changed since. Names and the ways of the air are words, and a
// number that must be there cannot be taken away.
func (sc *Scenario) checkNumbers(in *sections) Faults {
	c := &checker{sc: sc}
	c.numbers(in)
	return c.faults
}

// numbers tells every fault that numbers in some sections may have.
func (c *checker) numbers(in *sections) {
	for _, k := range []struct {
		check func(*checker)
		reads []string
	}{
		{(*checker).airspeeds, []string{"aircraft"}},
		{(*checker).heat, []string{"engine"}},
		{(*checker).liquids, []string{"coolant", "oil"}},
		{(*checker).flight, []string{"flight"}},
		{(*checker).openings, []string{"inlets", "exits"}},
		{(*checker).bayHeat, []string{"compartments"}},
		{(*checker).leaks, []string{"leaks"}},
		{(*checker).exchangers, []string{"exchangers", "coolant", "oil"}},
		{(*checker).spray, []string{"spray"}},
	} {
		if in.any(k.reads...) {
			k.check(c)
		}
	}
}

// field returns a check of one field after the other: what must be given and is
// not, and words that name something which does not exist. A section that is
// missing as a whole is one fault.
func (c *checker) field() func(spot) {
	missing := "#" // the section told last
	return func(s spot) {
		switch {
		case s.field.required && c.missing(s) && !inside(s.path(), missing):
			missing = s.path()
			c.tell(missing, "is missing", s.field.wanted())
		case s.field.refers != nil && s.field.shape == shapeText && s.present():
			c.reference(s.field, s.path(), s.value.String())
		case s.field.refers != nil && s.field.shape == shapeTexts:
			for _, name := range s.value.Interface().([]string) {
				c.reference(s.field, join(s.path(), name), name)
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
		_, written := c.sc.where[s.path()]
		return !written
	}
	return !s.present()
}

func (c *checker) reference(f *field, path, name string) {
	if slices.ContainsFunc(f.refers, func(section string) bool { return c.sc.hasNamed(section, name) }) || c.faulty(f.refers, name) {
		return
	}
	c.torn = true
	c.tell(path, fmt.Sprintf("%q is the name of nothing in %s", name, orList(f.refers)), didYouMean(name, c.sc.namesIn(f.refers)))
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

// hasNamed says that a name is one of those in a section.
func (sc *Scenario) hasNamed(section, name string) (there bool) {
	switch section {
	case "inlets":
		_, there = sc.Inlets[name]
	case "compartments":
		_, there = sc.Compartments[name]
	case "exits":
		_, there = sc.Exits[name]
	case "exchangers":
		_, there = sc.Exchangers[name]
	case "leaks":
		_, there = sc.Leaks[name]
	default:
		there = slices.Contains(sc.namesIn([]string{section}), name)
	}
	return there
}

// namesIn are the names in sections, sorted within each.
func (sc *Scenario) namesIn(sections []string) []string {
	var names []string
	for _, section := range sections {
		switch section {
		case "inlets":
			names = append(names, sortedKeys(sc.Inlets)...)
		case "compartments":
			names = append(names, sortedKeys(sc.Compartments)...)
		case "exits":
			names = append(names, sortedKeys(sc.Exits)...)
		case "exchangers":
			names = append(names, sortedKeys(sc.Exchangers)...)
		case "leaks":
			names = append(names, sortedKeys(sc.Leaks)...)
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
