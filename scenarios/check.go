package scenarios

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"hotclimb/sim/engine"
	"hotclimb/sim/fluid"
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
	missing := "#" // the section told last
	c.sc.visit(func(s spot) {
		switch {
		case s.field.required && !inside(s.path, missing) && c.missing(s):
			missing = s.path
			c.tell(s.path, "is missing", s.field.doc)
		case s.field.refers != nil && s.field.shape == shapeText && s.present():
			c.reference(s.field, s.path, s.value.String())
		case s.field.refers != nil && s.field.shape == shapeTexts:
			for _, name := range s.value.Interface().([]string) {
				c.reference(s.field, join(s.path, name), name)
			}
		}
	})
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

// names tells a name used for more than one thing that air flows through: a
// reference to it, or a column of the results, would have two meanings.
func (c *checker) names() {
	owner := map[string]string{outside: "the open air"}
	for _, name := range measured {
		owner[name] = "a temperature of the results"
	}
	for name := range c.sc.Exchangers {
		owner["behind_"+name] = "the air behind exchangers." + name
	}
	for name := range c.sc.Exits {
		owner["before_"+name] = "the air before exits." + name
	}
	for name := range c.sc.Vents {
		owner[name+"_vent"] = "the air of vents." + name
	}
	for _, section := range []string{"inlets", "exchangers", "compartments", "exits", "leaks"} {
		for _, name := range c.sc.namesIn([]string{section}) {
			if first, ok := owner[name]; ok {
				c.tell(join(section, name), fmt.Sprintf("the name %s also stands for %s", name, first), "give one of them another name")
				continue
			}
			owner[name] = join(section, name)
		}
	}
}

// measured are the temperatures of the results that are no air in the cowl.
var measured = []string{"coolant_out", "coolant_in", "oil_sump", "oil_in", "metal", "boil"}

// outside is what a leak to the open air leads into.
const outside = "outside"

// heat tells an engine that gives off more heat and power than its fuel holds.
func (c *checker) heat() {
	e := &c.sc.Engine
	fuel := engine.RatioFromFuel(1, e.FuelConsumption.Value, e.FuelEnergy.Value)
	sum := e.HeatToCoolant.Value + e.HeatToOil.Value + e.HeatToBay.Value
	if e.HeatBasis == "fuel_energy" {
		sum *= fuel
	}
	if share := (1 + sum) / fuel; fuel > 0 && share > 1 {
		c.tell("engine.heat_to_coolant", fmt.Sprintf("coolant, oil, bay and brake power together take %.0f %% of the energy of the fuel", 100*share),
			"lower heat_to_coolant, heat_to_oil or heat_to_bay; see heat_basis")
	}
}

// airspeeds tells two errors of one indicated speed.
func (c *checker) airspeeds() {
	const at = "aircraft.airspeed_error"
	first := map[float64]string{}
	for name, p := range sorted(c.sc.Aircraft.AirspeedError) {
		if other, ok := first[p.Indicated.Value]; ok {
			c.tell(join(at, name), fmt.Sprintf("%s has the same indicated speed, %s", other, p.Indicated), "keep one")
		}
		first[p.Indicated.Value] = name
	}
}

// liquids tells contradictions in the coolant and oil sections.
func (c *checker) liquids() {
	coolant, oil := &c.sc.Coolant, &c.sc.Oil
	if coolant.Constant != nil && c.sc.filled["coolant.mixture"] {
		c.tell("coolant.constant", "is not used: the mixture is "+coolant.Mixture+" by default", "write mixture: constant")
	}
	if oil.Constant != nil && c.sc.filled["oil.grade"] {
		c.tell("oil.constant", "is not used: the grade is "+oil.Grade+" by default", "write grade: constant")
	}
	if coolant.Mixture == "constant" && coolant.Constant == nil {
		c.tell("coolant.mixture", "is constant, but there is no section coolant.constant", "give its density and heat_capacity")
	}
	if oil.Grade == "constant" && oil.Constant == nil {
		c.tell("oil.grade", "is constant, but there is no section oil.constant", "give its density and heat_capacity")
	}
	c.mixture()
	c.below("coolant.caution", coolant.Caution, "coolant.maximum", coolant.Maximum)
	c.below("oil.caution", oil.Caution, "oil.maximum", oil.Maximum)
	c.thermostat("coolant", coolant.Thermostat, coolant.Maximum)
	c.thermostat("oil", oil.Thermostat, oil.Maximum)
}

// mixture tells a share of glycol by volume within the range of shares, which
// by mass has no known properties.
func (c *checker) mixture() {
	coolant := &c.sc.Coolant
	if coolant.StrengthBy != "volume" || !strings.HasSuffix(coolant.Mixture, "_glycol") {
		return
	}
	if _, err := coolant.liquid(); err != nil {
		byMass, _ := fluid.MassFractionOfVolume(coolant.Mixture, coolant.Strength.Value)
		c.tell("coolant.strength", fmt.Sprintf("%s by volume is %.0f %% by mass, beyond the known properties", coolant.Strength, 100*byMass),
			"take less, or write strength_by: mass if it is by mass")
	}
}

func (c *checker) thermostat(circuit string, t *Thermostat, maximum Quantity[Temperature]) {
	if t == nil {
		return
	}
	at := circuit + ".thermostat"
	c.below(at+".opens", t.Opens, at+".full", t.Full)
	if t.Full.Known && maximum.Known && t.Full.Value > maximum.Value {
		c.tell(at+".full", fmt.Sprintf("%s is above %s.maximum, %s", t.Full, circuit, maximum), "the thermostat must be open before the limit is reached")
	}
}

// below tells a temperature that is not below another.
func (c *checker) below(pathA string, a Quantity[Temperature], pathB string, b Quantity[Temperature]) {
	if a.Known && b.Known && a.Value >= b.Value {
		c.tell(pathA, fmt.Sprintf("%s is not below %s, %s", a, pathB, b), "")
	}
}
