package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// What rank shows besides.
var (
	// dragPower tells differences that power would round away.
	dragPower = measure{of[scenarios.Power]("hp", "hp", 2), of[scenarios.Power]("kW", "kW", 3)}
	// moment is weight times arm: 1 lb = 0.45359237 kg and 1 in = 0.0254 m, exact.
	moment = measure{unit{"lb in", 1 / (0.45359237 * 0.0254), 0, 0}, unit{"kg m", 1, 0, 2}}
)

// changes adds the tables of the changes alone.
func (p *rankPage) changes() {
	p.line("")
	if len(p.Changes) == 0 {
		p.line("The scenario has no section changes, so there are only numbers to move.")
		return
	}
	p.line("Each change alone, the best first; gains of margin at the worst case of each:")
	d := difference.in(p.units)
	var rows, prices []table.Row
	for i := range p.Changes {
		s := &p.Changes[i]
		if s.Err != nil {
			continue
		}
		rows = append(rows, append(append(table.Row{s.Change.Name}, p.effect(&s.Effect)...), p.price(s.Price)...))
		prices = append(prices, p.bought(s))
	}
	p.table(1, table.Row{"change", "coolant\n" + d.name, "oil\n" + d.name, "least\n" + d.name, "to limit\nmin:s", "drag\n" + dragPower.in(p.units).name,
		"climb\n" + climbRate.in(p.units).name, "weight\n" + mass.in(p.units).name, "cost", "hours"}, rows)
	p.note(fmt.Sprintf("least: the lesser margin of both; to limit: time gained; drag and climb: in the climb of %s", p.Cases[p.Base.Worst()]))
	for i := range p.Changes {
		if s := &p.Changes[i]; s.Err != nil {
			p.note(s.Change.Name + ": failed, " + oneLine(s.Err))
		} else if !s.Applied {
			p.note(s.Change.Name + ": sets nothing in the cases flown")
		}
	}
	p.line("")
	p.line("What each of these buys: %s of the least margin for one of it", d.name)
	p.table(1, table.Row{"change", "weight\n" + mass.in(p.units).name, "cost", "work\nhour", "drag\n" + dragPower.in(p.units).name,
		"moment\n" + moment.in(p.units).name, "coolant\nworst in", "oil\nworst in"}, prices)
}

// effect are the cells of what something does.
func (p *rankPage) effect(e *sweep.Effect) table.Row {
	return table.Row{
		p.signed(difference, e.Gain[sweep.Coolant]), p.signed(difference, e.Gain[sweep.Oil]), p.signed(difference, e.LeastGain),
		timeGained(e.TimeGain(&p.Base), e.LimitTime), p.signed(dragPower, e.DragPower), p.signed(climbRate, e.Climb),
	}
}

// signed prints a difference with its sign, without its unit.
func (p *rankPage) signed(m measure, x float64) string {
	number, _, _ := strings.Cut(m.change(p.units, x), " ")
	return number
}

// timeGained prints how much later the earliest limit comes.
func timeGained(gain, limit float64) string {
	switch limitWord(gain) {
	case "not reached":
		return "-"
	case "no longer reached":
		return "no longer"
	case "reached now":
		return "now " + clock(limit)
	}
	text := clock(math.Abs(gain))
	switch {
	case text == clock(0):
		return text
	case gain < 0:
		return "-" + text
	}
	return "+" + text
}

// price are the cells of what a change takes.
func (p *rankPage) price(c sweep.Price) table.Row {
	return table.Row{mass.in(p.units).number(c.Weight), bare(c.Cost), bare(c.Hours)}
}

// bare prints a number without a unit, with what decimals it has.
func bare(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// digits prints a number with three digits, or more before the point.
func digits(x float64) string {
	whole := len(strconv.Itoa(int(math.Abs(x))))
	return strconv.FormatFloat(x, 'f', max(0, 3-whole), 64)
}

// bought are the cells of what a degree takes.
func (p *rankPage) bought(s *sweep.Single) table.Row {
	d := difference.in(p.units).factor
	per := func(x float64) string {
		if math.IsNaN(x) {
			return "-"
		}
		return digits(x)
	}
	return table.Row{
		s.Change.Name,
		per(sweep.Per(s.LeastGain, s.Weight) * d / mass.in(p.units).factor),
		per(sweep.Per(s.LeastGain, s.Cost) * d), per(sweep.Per(s.LeastGain, s.Hours) * d),
		per(s.PerDragPower() * d / dragPower.in(p.units).factor),
		moment.in(p.units).number(s.Moment), p.Cases[s.Case[sweep.Coolant]], p.Cases[s.Case[sweep.Oil]],
	}
}

// pairs adds the table of the pairs.
func (p *rankPage) pairs() {
	if len(p.Pairs) == 0 {
		return
	}
	p.line("")
	p.line("Pairs: the sum of what both gain alone, and what they gain together:")
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
	d := difference.in(p.units).name
	p.table(1, table.Row{"pair", "coolant\nsum " + d, "\npair", "\nthey", "oil\nsum " + d, "\npair", "\nthey", "least\n" + d}, rows)
	p.note(fmt.Sprintf("coolant in %s and oil in %s, their worst cases as it is; least: of both over all cases",
		p.Cases[p.Base.Case[sweep.Coolant]], p.Cases[p.Base.Case[sweep.Oil]]))
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
	p.line("Every number that a builder makes, moved by a tenth (pieces: one at least):")
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
		cell(&t.Up, dragPower, t.Up.DragPower)
		rows = append(rows, row)
	}
	d := difference.in(p.units).name
	p.table(1, table.Row{"number", "step", "coolant\nup " + d, "\ndown", "oil\nup " + d, "\ndown", "drag " + dragPower.in(p.units).name + "\nup"}, rows)
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
	return scenarios.Number{Value: t.Step, Unit: t.Unit, Known: true}.Format(t.Param.Dimension)
}
