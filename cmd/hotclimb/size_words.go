package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/scenarios"
	"hotclimb/sweep/optimum"
)

// limitName names a limit and its case.
func (z *sized) limitName(i int) string {
	l := &z.Limits[i]
	what := l.Kind
	if l.Kind == optimum.AirLimit {
		what = "air forwards through " + l.Core
	}
	return what + " in " + z.Cases[l.Case].Name
}

// prices adds what one more degree costs at each limit that decides.
func (p *sizePage) prices() {
	p.line("")
	switch {
	case len(p.Prices) > 0:
	case len(p.AtBound) > 0:
		p.line("No margin decides: the bounds do.")
	default:
		p.line("Neither a margin nor a bound decides: other sizes are no better, or cannot be flown to the end.")
	}
	for i := range p.Prices {
		p.price(&p.Prices[i])
	}
	p.atBounds("beyond it less would do")
}

// atBounds adds the factors at a bound.
func (p *sizePage) atBounds(so string) {
	for _, h := range p.AtBound {
		end := "lower"
		if h.High {
			end = "upper"
		}
		p.line("%s stands at its %s bound, %s; %s.", p.Factors[h.Factor].Param.Path, end, p.value(h.Factor, p.Best.X[h.Factor]), so)
	}
}

// price adds what one more degree costs at one limit.
func (p *sizePage) price(c *optimum.Price) {
	l := &p.Limits[c.Limit]
	step := "One more " + difference.in(p.units).name + " of " + l.Kind + " margin in " + p.Cases[l.Case].Name
	if l.Kind == optimum.AirLimit {
		p.line("Air through %s in %s decides.", l.Core, p.Cases[l.Case].Name)
		return
	}
	if !c.Fits {
		p.line("%s does not fit within the bounds.", step)
		return
	}
	p.line("%s costs %s and %s", step, openingArea.change(p.units, c.Design.Area-p.Best.Area), finePower.change(p.units, c.Design.Drag-p.Best.Drag))
	p.line("(searched again; the slopes at the answer say %s):", p.bySlopes(c))
	for i, x := range c.Design.X {
		p.line("  %s %s", p.Factors[i].Param.Path, p.sized.change(i, x-p.Best.X[i]))
	}
}

// bySlopes is the price that the multiplier foretells.
func (p *sizePage) bySlopes(c *optimum.Price) string {
	share := c.Multiplier * c.Step
	switch p.Minimise {
	case optimum.OpeningArea:
		return openingArea.change(p.units, share*p.Start.Area)
	case optimum.CoolingDrag:
		return finePower.change(p.units, share*p.Start.Drag)
	}
	return fmt.Sprintf("%+.2f %% of the mix", 100*share)
}

// change prints a change of factor i with its sign and unit.
func (z *sized) change(i int, dx float64) string {
	unit, d := z.unit(i), z.Factors[i].Param.Dimension
	one, err := scenarios.Convert(1, unit, d)
	zero, _ := scenarios.Convert(0, unit, d)
	if err != nil {
		one, zero, unit = 1, 0, d.SI
	}
	return strings.TrimSpace(fmt.Sprintf("%+.3f %s", dx*(one-zero), pretty(unit)))
}

// confirmed adds what the other method found.
func (p *sizePage) confirmed() {
	c := p.Confirmation
	if c == nil {
		return
	}
	p.line("")
	by := fmt.Sprintf("Nelder-Mead from %s", counted(c.Starts, "other start"))
	switch {
	case !c.Fits:
		p.line("Not confirmed: %s finds nothing that fits.", by)
	case c.Difference > 1e-3:
		p.line("Confirmed in part: %s comes only to %.2f %% above this.", by, 100*c.Difference)
	default:
		p.line("Confirmed: %s comes to the same within %.3f %%.", by, math.Abs(100*c.Difference))
	}
	if c.Improved {
		p.line("  It had found less at first, and the search started again from there.")
	}
}

// broken adds the limits that nothing keeps.
func (p *sizePage) broken() {
	p.line("")
	p.line("Still broken:")
	for _, i := range p.Broken {
		l := &p.Limits[i]
		if l.Kind == optimum.AirLimit {
			p.line("  %s", p.limitName(i))
			continue
		}
		p.line("  %s: %s short of the %s it needs", p.limitName(i), difference.show(p.units, -p.Slack(&p.Best, i)), difference.show(p.units, l.Needs))
	}
	p.atBounds("wider bounds may do")
}

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
		p.line("  %-18s not with %s anywhere from %s to %s", what+":", first.Param.Path, show(first.From), show(first.To))
		return
	}
	p.line("  %-18s %s", what+":", p.remedy(c, show))
	if c.Kind == optimum.CoreCure {
		p.cores(c.Moves)
	}
	if len(c.Rest) > 0 {
		var rest []string
		for _, i := range c.Rest {
			rest = append(rest, p.limitName(i))
		}
		p.line("  %-18s then still broken: %s", "", strings.Join(rest, ", "))
	}
	if hazard := hazards[c.Kind]; hazard != "" && p.inTheAir(c) {
		p.line("  %-18s %s", "", hazard)
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
		p.line("  %-18s exchangers.%s: %s", "", name, strings.Join(sizes[name], ", "))
	}
}

// inTheAir says that the leg that a cure changes is flown, not taxied.
func (z *sized) inTheAir(c *optimum.Cure) bool {
	return slices.ContainsFunc(z.Cases[c.Case].Scenario.Flight.Legs, func(leg *scenarios.Leg) bool {
		return strings.HasPrefix(c.Moves[0].Param.Path, "flight.legs."+leg.Name+".") && slices.Contains([]string{"climb", "level"}, leg.Kind)
	})
}

// inFile prints a value of a number in the unit that the file gives it.
func (z *sized) inFile(q scenarios.Param, x float64) string {
	unit := q.Unit
	for _, k := range z.Cases {
		if n, ok := q.Get(k.Scenario); ok && n.Unit != "" {
			unit = n.Unit
		}
	}
	return pretty(scenarios.Format(x, unit, q.Dimension))
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
			first.Param.Path, show(first.To), instead(c, show(first.From)), mass.show(p.units, c.Water), p.carried(c))
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
		return ", of " + mass.show(p.units, c.Tank) + " carried"
	}
	return ", more than is carried, " + mass.show(p.units, c.Tank)
}

// front adds the table of least drag for every margin.
func (p *sizePage) front() {
	if !p.traded {
		return
	}
	p.line("")
	if len(p.trade) == 0 {
		p.line("There is no trade: within the bounds not even less margin than the file has can be kept.")
		return
	}
	p.line("Least cooling drag for every margin of both circuits in every case:")
	header := table.Row{"margin " + difference.in(p.units).name, "drag " + power.in(p.units).name, "area " + openingArea.in(p.units).name}
	for i := range p.Factors {
		header = append(header, p.Factors[i].Param.Path+" "+pretty(p.unit(i)))
	}
	var rows []table.Row
	for i := range p.trade {
		t := &p.trade[i]
		row := table.Row{difference.in(p.units).number(t.Margin), finePower.in(p.units).number(t.Design.Drag), openingArea.in(p.units).number(t.Design.Area)}
		for j, x := range t.Design.X {
			row = append(row, p.bare(j, x))
		}
		rows = append(rows, row)
	}
	p.table(0, header, rows)
}

// searched adds how the answer was found.
func (p *sizePage) searched() {
	p.line("")
	rounds := ""
	if p.Doubt > 0 {
		rounds = fmt.Sprintf(", %s for the margins with doubt", counted(p.Rounds, "round"))
	}
	p.line("Searched from %s in %s%s; %s.", p.From, counted(p.Iterations, "linear program"), rounds, counted(p.Flights(), "flight"))
}
