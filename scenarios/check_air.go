package scenarios

import (
	"fmt"
	"maps"
	"slices"
)

// bayHeat tells shares of the heat of the engine bay that are more than all of it.
func (c *checker) bayHeat() {
	sum := 0.0
	for _, p := range sorted(c.sc.Compartments) {
		sum += p.BayHeatShare.Value
	}
	if sum > 1+1e-9 {
		c.tell("compartments", fmt.Sprintf("their bay_heat_share together is %s", Format(sum, "%", ratio)), "all of them together at most 100 %")
	}
}

// leaks tells leaks that lead nowhere.
func (c *checker) leaks() {
	for name, l := range sorted(c.sc.Leaks) {
		if l.From == l.Into && l.From != "" {
			c.torn = true
			c.tell(join("leaks", join(name, "into")), fmt.Sprintf("the leak leaves %s and enters it", l.From), "name another place")
		}
	}
}

// openings tells inlets and exits that have no size.
func (c *checker) openings() {
	for name, i := range sorted(c.sc.Inlets) {
		at := join("inlets", name)
		if !i.Area.Known && !i.Diameter.Known {
			c.rectangle(at, i.Width.Known, i.Height.Known, "has no opening", "give area, diameter, or width and height")
		}
	}
	blown := c.blownInto()
	for name, e := range sorted(c.sc.Exits) {
		at := join("exits", name)
		if !e.Area.Known {
			c.rectangle(at, e.Width.Known, e.Height.Known, "has no opening", "give area, or count, width and height")
		}
		switch core := blown[name]; {
		case e.From == "" && core == "":
			c.torn = true
			c.tell(join(at, "from"), "is missing", "the compartment it empties")
		case e.From != "" && core != "":
			c.tell(join(at, "from"), fmt.Sprintf("empties %s, but exchangers.%s blows straight into it", e.From, core), "remove from here, or let the exchanger blow into "+e.From)
		}
	}
}

// rectangle tells a size that is given by half or not at all.
func (c *checker) rectangle(path string, width, height bool, message, hint string) {
	switch {
	case width && !height:
		c.tell(path, "has a width but no height", "give both")
	case height && !width:
		c.tell(path, "has a height but no width", "give both")
	case !width:
		c.tell(path, message, hint)
	}
}

// blownInto says for each exit which exchanger blows straight into it.
func (c *checker) blownInto() map[string]string {
	blown := map[string]string{}
	for name, x := range sorted(c.sc.Exchangers) {
		if _, ok := c.sc.Exits[x.Into]; ok {
			blown[x.Into] = name
		}
	}
	return blown
}

// air tells what the air cannot flow through: every compartment must have a
// way from an inlet and a way out.
func (c *checker) air() {
	if c.ring() {
		return
	}
	flow, back := c.airways()
	fed := flow.reach(slices.Collect(maps.Keys(c.sc.Inlets)))
	emptied := back.reach([]string{outside})
	for name := range sorted(c.sc.Inlets) {
		if len(flow[name]) == 0 {
			c.tell(join("inlets", name), "feeds nothing", "name it in from of an exchanger or a leak")
		}
	}
	for name := range sorted(c.sc.Compartments) {
		if !emptied[name] {
			c.tell(join("compartments", name), "has no way out", "give it an exit, or a leak into outside")
		}
	}
	for name, e := range sorted(c.sc.Exits) {
		if _, ok := c.sc.Compartments[e.From]; ok && !fed[e.From] {
			c.tell(join("exits", name), fmt.Sprintf("empties %s, which nothing feeds", e.From), "let an exchanger or a leak blow into that compartment")
		}
	}
}

// airways are the ways the air takes from each place to the next, and the same
// backwards.
func (c *checker) airways() (flow, back ways) {
	flow, back = ways{}, ways{}
	add := func(from, into string) {
		if from != "" && into != "" {
			flow[from] = append(flow[from], into)
			back[into] = append(back[into], from)
		}
	}
	for name, x := range sorted(c.sc.Exchangers) {
		if x.CooledBy == "air" {
			add(x.From, name)
			add(name, x.Into)
		}
	}
	for name, e := range sorted(c.sc.Exits) {
		add(e.From, name)
		add(name, outside)
	}
	for _, l := range sorted(c.sc.Leaks) {
		add(l.From, l.Into)
	}
	return flow, back
}

// ways are the next places from each place.
type ways map[string][]string

// reach is everything that can be reached from some places.
func (w ways) reach(from []string) map[string]bool {
	seen := map[string]bool{}
	for todo := slices.Clone(from); len(todo) > 0; {
		place := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if !seen[place] {
			seen[place] = true
			todo = append(todo, w[place]...)
		}
	}
	return seen
}

// ring tells exchangers that take their air from each other in a ring.
func (c *checker) ring() (found bool) {
	for name, x := range sorted(c.sc.Exchangers) {
		at := x.From
		for range c.sc.Exchangers {
			if at == name {
				found = true
				c.tell(join("exchangers", join(name, "from")), "takes its air from itself, by way of "+x.From, "")
				break
			}
			next, ok := c.sc.Exchangers[at]
			if !ok {
				break
			}
			at = next.From
		}
	}
	return found
}

// sortedKeys are the keys of a map, sorted.
func sortedKeys[T any](m map[string]T) []string {
	keys := make([]string, 0, len(m))
	for key := range m {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

// sorted goes through a map by name.
func sorted[T any](m map[string]*T) func(yield func(string, *T) bool) {
	return func(yield func(string, *T) bool) {
		for _, name := range sortedKeys(m) {
			if !yield(name, m[name]) {
				return
			}
		}
	}
}
