package main

import (
	"fmt"
	"math"
	"strconv"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// What rank shows besides.
var (
	// moment is weight times arm.
	moment = measure{US: unit{Name: "lb in", Factor: poundInches}, SI: unit{Name: "kg m", Factor: 1, Decimals: 2}}
	// What is divided by comes in sizes that leave numbers easy to read.
	climbBought  = measure{US: unit{Name: "100 ft/min", Factor: 60 / 0.3048 / 100}, SI: unit{Name: "m/s", Factor: 1}}
	momentBought = measure{US: unit{Name: "100 lb in", Factor: poundInches / 100}, SI: unit{Name: "kg m", Factor: 1}}
	counts       = measure{US: unit{Factor: 1}, SI: unit{Factor: 1}}
)

// poundInches are those in a kilogram metre: 1 lb = 0.45359237 kg, 1 in =
// 0.0254 m, both exact.
const poundInches = 1 / (0.45359237 * 0.0254)

// changes adds the tables of the changes alone.
func (p *rankPage) changes() {
	p.line("")
	if len(p.Changes) == 0 {
		p.line("The scenario has no section changes, so there are only numbers to move.")
		return
	}
	p.heads("Each change alone, the best first; gains of margin at the worst case of each:")
	var gains, bought []table.Row
	for i := range p.Changes {
		if s := &p.Changes[i]; s.Err == nil {
			gains = append(gains, append(p.effect(s), p.price(s.Price)...))
			bought = append(bought, p.bought(s))
		}
	}
	d := difference.In(p.units).Name
	p.table(1, table.Row{
		"change", "coolant\n" + d, "oil\n" + d, "least\n" + d, "to limit\nmin:s", "drag\n" + finePower.In(p.units).Name,
		"climb\n" + climbRate.In(p.units).Name, "weight\n" + mass.In(p.units).Name, "moment\n" + moment.In(p.units).Name, "cost", "hours",
	}, gains)
	p.note(fmt.Sprintf("least: the lesser margin of both; to limit: time gained; drag and climb: what they change in %s", p.Cases[p.Base.Worst()]))
	p.changeNotes()
	p.line("")
	p.heads("What each of these buys: %s of the least margin for one of it", d)
	p.table(1, table.Row{
		"change", "weight\n" + mass.In(p.units).Name, "cost", "work\nhour", "drag\n" + finePower.In(p.units).Name,
		"climb\n" + climbBought.In(p.units).Name, "moment\n" + momentBought.In(p.units).Name, "coolant\nworst in", "oil\nworst in",
	}, bought)
}

// changeNotes adds what failed and what has no effect.
func (p *rankPage) changeNotes() {
	for i := range p.Changes {
		if s := &p.Changes[i]; s.Err != nil {
			p.note(s.Change.Name + ": failed, " + oneLine(s.Err))
		} else if !s.Applied {
			p.note(s.Change.Name + ": sets nothing in the cases flown")
		}
	}
}

// effect are the cells of what a change does.
func (p *rankPage) effect(s *sweep.Single) table.Row {
	return table.Row{
		s.Change.Name,
		p.signed(difference, s.Gain[sweep.Coolant]), p.signed(difference, s.Gain[sweep.Oil]), p.signed(difference, s.LeastGain),
		timeGained(s.TimeGain(&p.Base), s.LimitTime), p.signed(finePower, s.DragPower), p.signed(climbRate, s.Climb),
	}
}

// signed prints a difference with its sign, without its unit.
func (p *rankPage) signed(m measure, x float64) string { return m.In(p.units).Signed(x) }

// timeGained prints how much later the earliest limit comes.
func timeGained(gain, limit float64) string {
	switch limitWord(gain) {
	case "not reached":
		return "-"
	case "no longer reached":
		return "no longer"
	case "reached now":
		return "now " + plots.Clock(limit)
	}
	text := plots.Clock(math.Abs(gain))
	switch {
	case text == plots.Clock(0):
		return text
	case gain < 0:
		return "-" + text
	}
	return "+" + text
}

// price are the cells of what a change takes.
func (p *rankPage) price(c sweep.Price) table.Row {
	return table.Row{mass.In(p.units).Number(c.Weight), moment.In(p.units).Number(c.Moment), bare(c.Cost), bare(c.Hours)}
}

// bare prints a number without a unit, with what decimals it has.
func bare(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// digits prints a number with three digits, more before the point, or two behind
// zeros.
func digits(x float64) string {
	size := math.Abs(x)
	if size > 0 && size < 0.1 {
		return strconv.FormatFloat(x, 'f', 1-int(math.Floor(math.Log10(size))), 64)
	}
	whole := len(strconv.Itoa(int(size)))
	return strconv.FormatFloat(x, 'f', max(0, 3-whole), 64)
}

// bought are the cells of what one of each thing that a change takes buys.
func (p *rankPage) bought(s *sweep.Single) table.Row {
	per := func(gain float64, m measure) string {
		if math.IsNaN(gain) {
			return "-"
		}
		return digits(gain * difference.In(p.units).Factor / m.In(p.units).Factor)
	}
	return table.Row{
		s.Change.Name,
		per(sweep.Per(s.LeastGain, s.Weight), mass),
		per(sweep.Per(s.LeastGain, s.Cost), counts), per(sweep.Per(s.LeastGain, s.Hours), counts),
		per(s.PerDragPower(), finePower), per(s.PerClimb(), climbBought),
		per(sweep.Per(s.LeastGain, math.Abs(s.Moment)), momentBought),
		p.Cases[s.Case[sweep.Coolant]], p.Cases[s.Case[sweep.Oil]],
	}
}

// pairs adds the table of the pairs.
func (p *rankPage) pairs() {
	if len(p.Pairs) == 0 {
		return
	}
	p.line("")
	p.heads("Pairs: the sum of what both gain alone, and what they gain together:")
	var rows []table.Row
	for i := range p.Pairs {
		q := &p.Pairs[i]
		if q.Err != nil {
			continue
		}
		row := table.Row{p.pairName(q)}
		for c := range q.Sum {
			row = append(row, p.signed(difference, q.Sum[c]), p.signed(difference, q.Joint[c]), q.Together[c].String())
		}
		rows = append(rows, append(row, p.signed(difference, q.LeastGain)))
	}
	if d := difference.In(p.units).Name; len(rows) > 0 {
		p.table(1, table.Row{"pair", "coolant\nsum " + d, "\npair", "\nthey", "oil\nsum " + d, "\npair", "\nthey", "least\n" + d}, rows)
		p.note(fmt.Sprintf("coolant in %s and oil in %s, their worst cases as it is; least: of both over all cases",
			p.Cases[p.Base.Case[sweep.Coolant]], p.Cases[p.Base.Case[sweep.Oil]]))
	}
	for i := range p.Pairs {
		if q := &p.Pairs[i]; q.Err != nil {
			p.note(p.pairName(q) + ": not together, " + oneLine(q.Err))
		}
	}
}

// tenths adds the table of the numbers moved.
func (p *rankPage) tenths() {
	if len(p.Tenths) == 0 {
		return
	}
	p.line("")
	p.heads("Every number that a builder makes, moved by a tenth (pieces: one at least):")
	var rows []table.Row
	for i := range p.Tenths {
		t := &p.Tenths[i]
		row := table.Row{t.Param.Path, shownStep(t)}
		cell := func(e *sweep.Effect, m measure, x float64) {
			if e.Err != nil {
				row = append(row, "failed")
				return
			}
			row = append(row, p.signed(m, x))
		}
		for c := range circuitNames {
			cell(&t.Up, difference, t.Up.Gain[c])
			cell(&t.Down, difference, t.Down.Gain[c])
		}
		cell(&t.Up, finePower, t.Up.DragPower)
		rows = append(rows, row)
	}
	d := difference.In(p.units).Name
	p.table(1, table.Row{"number", "step", "coolant\nup " + d, "\ndown", "oil\nup " + d, "\ndown", "drag " + finePower.In(p.units).Name + "\nup"}, rows)
	for i := range p.Tenths {
		t := &p.Tenths[i]
		for _, e := range []*sweep.Effect{&t.Up, &t.Down} {
			if e.Err != nil {
				p.note(t.Param.Path + ": failed, " + oneLine(e.Err))
			}
		}
	}
}

// shownStep is by how much a number is moved, in its unit.
func shownStep(t *sweep.Tenth) string {
	return plots.Pretty(scenarios.Number{Value: t.Step, Unit: t.Unit, Known: true}.Format(t.Param.Dimension))
}
