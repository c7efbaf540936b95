package main

import (
	"fmt"
	"math"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
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
	step := "One more " + difference.In(p.units).Name + " of " + l.Kind + " margin in " + p.Cases[l.Case].Name
	if l.Kind == optimum.AirLimit {
		p.line("Air through %s in %s decides.", l.Core, p.Cases[l.Case].Name)
		return
	}
	if !c.Fits {
		p.line("%s does not fit within the bounds.", step)
		return
	}
	p.line("%s costs %s and %s", step, openingArea.Change(p.units, c.Design.Area-p.Best.Area), finePower.Change(p.units, c.Design.Drag-p.Best.Drag))
	p.line("(searched again; the slopes at the answer say %s):", p.bySlopes(c))
	for i, x := range c.Design.X {
		p.item("%s %s", p.Factors[i].Param.Path, p.sized.change(i, x-p.Best.X[i]))
	}
}

// bySlopes is the price that the multiplier foretells.
func (p *sizePage) bySlopes(c *optimum.Price) string {
	share := c.Multiplier * c.Step
	switch p.Minimise {
	case optimum.OpeningArea:
		return openingArea.Change(p.units, share*p.Start.Area)
	case optimum.CoolingDrag:
		return finePower.Change(p.units, share*p.Start.Drag)
	}
	return fmt.Sprintf("%+.2f %% of the mix", 100*share)
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
			p.item("%s", p.limitName(i))
			continue
		}
		p.item("%s: %s short of the %s it needs", p.limitName(i), difference.Show(p.units, -p.Slack(&p.Best, i)), difference.Show(p.units, l.Needs))
	}
	p.atBounds("wider bounds may do")
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
	p.heads("Least cooling drag for every margin of both circuits in every case:")
	header := table.Row{"margin " + difference.In(p.units).Name, "drag " + power.In(p.units).Name, "area " + openingArea.In(p.units).Name}
	for i := range p.Factors {
		header = append(header, p.Factors[i].Param.Path+" "+plots.Pretty(p.unit(i)))
	}
	var rows []table.Row
	for i := range p.trade {
		t := &p.trade[i]
		row := table.Row{difference.In(p.units).Number(t.Margin), finePower.In(p.units).Number(t.Design.Drag), openingArea.In(p.units).Number(t.Design.Area)}
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
	p.line("Searched from %s in %s%s; %s.", p.From, counted(p.Iterations, "linear program"), p.rounds(), counted(p.allFlights(), "flight"))
}

// rounds tells of the search for margins with doubt.
func (p *sizePage) rounds() string {
	if p.Doubt == 0 {
		return ""
	}
	text := fmt.Sprintf(", %s for the margins with doubt", counted(p.Rounds, "round"))
	if !p.Settled() {
		text += ", which still moved by " + difference.Show(p.units, p.Moved)
	}
	return text
}
