package main

import (
	"fmt"
	"slices"
	"strings"

	"hotclimb/scenarios"
	"hotclimb/sweep/optimum"
)

// cures adds what else would mend the worst broken limit of each circuit.
func (p *sizePage) cures() {
	for i := range p.Cures {
		c := &p.Cures[i]
		if i == 0 || p.Cures[i-1].Limit != c.Limit {
			p.line("")
			p.line("What else would cure %s, at these sizes, each alone:", p.limitName(c.Limit))
		}
		p.cure(c)
	}
}

// cure adds one cure, and its hazards.
func (p *sizePage) cure(c *optimum.Cure) {
	first := c.Moves[0]
	show := func(x float64) string { return p.inFile(first.Param, x) }
	what := map[string]string{
		optimum.SprayCure: "water on the core", optimum.SpeedCure: "a faster climb", optimum.PowerCure: "less power",
		optimum.CoreCure: "bigger cores", optimum.DayCure: "a cooler day",
	}[c.Kind]
	if !c.Found {
		p.labelled(18, what+":", fmt.Sprintf("not with %s anywhere from %s to %s", first.Param.Path, show(first.From), show(first.To)))
		return
	}
	p.labelled(18, what+":", p.remedy(c, show))
	if c.Kind == optimum.CoreCure {
		p.cores(c.Moves)
	}
	if len(c.Rest) > 0 {
		var rest []string
		for _, i := range c.Rest {
			rest = append(rest, p.limitName(i))
		}
		p.labelled(18, "", "then still broken: "+strings.Join(rest, ", "))
	}
	if hazard := hazards[c.Kind]; hazard != "" && p.inTheAir(c) {
		p.labelled(18, "", hazard)
	}
}

// cores adds a line for each core that grows, with all that grows.
func (p *sizePage) cores(moves []optimum.Move) {
	var names []string
	sizes := map[string][]string{}
	for _, m := range moves {
		name, size, _ := strings.Cut(strings.TrimPrefix(m.Param.Path, "exchangers."), ".")
		if sizes[name] == nil {
			names = append(names, name)
		}
		sizes[name] = append(sizes[name], size+" "+p.inFile(m.Param, m.To))
	}
	for _, name := range names {
		p.labelled(18, "", fmt.Sprintf("exchangers.%s: %s", name, strings.Join(sizes[name], ", ")))
	}
}

// inTheAir says that the leg that a cure changes is flown, not taxied.
func (z *sized) inTheAir(c *optimum.Cure) bool {
	return slices.ContainsFunc(z.Cases[c.Case].Scenario.Flight.Legs, func(leg *scenarios.Leg) bool {
		return strings.HasPrefix(c.Moves[0].Param.Path, "flight.legs."+leg.Name+".") && slices.Contains([]string{"climb", "level"}, leg.Kind)
	})
}

// hazards are those of cures that are flown. Those of water stand below.
var hazards = map[string]string{
	optimum.SpeedCure: "(a faster climb is flatter: look at obstacles and at the climb left)",
	optimum.PowerCure: "(less power climbs less: look at obstacles, and take off with all of it)",
}

// remedy says what a cure is in numbers.
func (p *sizePage) remedy(c *optimum.Cure, show func(float64) string) string {
	first := c.Moves[0]
	switch c.Kind {
	case optimum.SprayCure:
		return fmt.Sprintf("%s %s %s; a flight takes %s of water%s",
			first.Param.Path, show(first.To), instead(c, show(first.From)), mass.Show(p.units, c.Water), p.carried(c))
	case optimum.CoreCure:
		return fmt.Sprintf("%.3g times the face, built alike:", first.To/first.From)
	case optimum.DayCure:
		return fmt.Sprintf("%s or less at the field instead of %s", show(first.To), show(first.From))
	}
	return fmt.Sprintf("%s %s instead of %s", first.Param.Path, show(first.To), show(first.From))
}

// instead is what water on a core takes the place of.
func instead(c *optimum.Cure, rate string) string {
	if c.Onto != "" {
		return "on exchangers." + c.Onto + ", where the file has no spray"
	}
	return "instead of " + rate
}

// carried compares the water that spray takes with that of the file.
func (p *sizePage) carried(c *optimum.Cure) string {
	switch {
	case c.Onto != "":
		return ""
	case c.Water <= c.Tank:
		return ", of " + mass.Show(p.units, c.Tank) + " carried"
	}
	return ", more than is carried, " + mass.Show(p.units, c.Tank)
}
