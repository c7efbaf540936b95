package scenarios

import "fmt"

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
