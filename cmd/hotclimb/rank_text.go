package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// lineWidth is that of sentences.
const lineWidth = 80

// writeText writes the ranking for people, as a screen can show it.
func (k *ranking) writeText(w io.Writer, s *screen) error {
	p := &rankPage{&page{screen: s, units: k.shown}, k}
	p.line("%s", p.paint(bold, k.scenario.Title))
	p.asItIs()
	p.changes()
	p.pairs()
	p.tenths()
	p.verdict()
	p.line("")
	p.cautions(k.spray())
	_, err := w.Write(p.Bytes())
	return err
}

// rankPage is a ranking in the making.
type rankPage struct {
	*page
	*ranking
}

// spray says that water is sprayed or suggested.
func (k *ranking) spray() bool {
	for i := range k.Base.Flown {
		if k.Base.Flown[i].WaterUsed > 0 {
			return true
		}
	}
	for i := range k.Changes {
		for path := range k.Changes[i].Change.Set {
			if strings.HasPrefix(path, "spray.") {
				return true
			}
		}
	}
	return false
}

// asItIs adds the table of the cases as they are.
func (p *rankPage) asItIs() {
	var rows []table.Row
	d := difference.in(p.units)
	for i, name := range p.Cases {
		f := &p.Base.Flown[i]
		after := "not reached"
		if t := f.TimeToLimit(); !math.IsInf(t, 1) {
			after = clock(t)
		}
		status := string(f.Status)
		if f.Status == sim.OverLimit {
			status = p.paint(red, status)
		}
		if f.Incomplete != "" {
			status += ", incomplete"
		}
		rows = append(rows, table.Row{name, status, d.number(f.Circuits[sweep.Coolant].Margin), d.number(f.Circuits[sweep.Oil].Margin),
			after, force.in(p.units).number(f.Climb.Drag), power.in(p.units).number(f.Climb.DragPower), climbRate.in(p.units).number(f.Climb.Rate)})
	}
	p.line("")
	p.table(2, table.Row{"as it is", "", "coolant " + d.name, "oil " + d.name, "limit after",
		"drag " + force.in(p.units).name, "drag " + power.in(p.units).name, "climb " + climbRate.in(p.units).name}, rows)
	p.note("coolant and oil are margins to the limits; drag is cooling drag and climb the rate of climb, both means over the climb")
}

// changes adds the tables of the changes alone.
func (p *rankPage) changes() {
	p.line("")
	if len(p.Changes) == 0 {
		p.line("The scenario has no section changes, so there are only numbers to move.")
		return
	}
	p.line("Each change alone, the best first; gains of margin at the worst case of each:")
	d, t := difference.in(p.units), table.Row{}
	var rows, prices []table.Row
	for i := range p.Changes {
		s := &p.Changes[i]
		if s.Err != nil {
			continue
		}
		rows = append(rows, append(append(table.Row{s.Change.Name}, p.effect(&s.Effect)...), p.price(s.Price)...))
		prices = append(prices, p.bought(s))
	}
	t = append(t, "change", "coolant "+d.name, "oil", "least", "to limit", "drag "+power.in(p.units).name,
		"climb "+climbRate.in(p.units).name, mass.in(p.units).name, "cost", "hours")
	p.table(1, t, rows)
	p.note(fmt.Sprintf("least: the lesser margin of both; to limit: time gained; drag and climb: in the climb of %s", p.Cases[p.Base.Worst()]))
	for i := range p.Changes {
		if s := &p.Changes[i]; s.Err != nil {
			p.note(s.Change.Name + ": failed, " + oneLine(s.Err))
		} else if !s.Applied {
			p.note(s.Change.Name + ": sets nothing in the cases flown")
		}
	}
	p.line("")
	p.line("What a degree takes: %s of the least margin for each", d.name)
	p.table(1, table.Row{"change", mass.in(p.units).name, "cost", "hour", "drag " + power.in(p.units).name,
		"moment " + moment.in(p.units).name, "coolant worst in", "oil worst in"}, prices)
}

// effect are the cells of what something does.
func (p *rankPage) effect(e *sweep.Effect) table.Row {
	return table.Row{
		p.signed(difference, e.Gain[sweep.Coolant]), p.signed(difference, e.Gain[sweep.Oil]), p.signed(difference, e.LeastGain),
		timeGained(e.TimeGain(&p.Base), e.LimitTime), p.signed(power, e.DragPower), p.signed(climbRate, e.Climb),
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
	sign := "+"
	if gain < 0 {
		sign = "-"
	}
	return sign + clock(math.Abs(gain))
}

// price are the cells of what a change takes.
func (p *rankPage) price(c sweep.Price) table.Row {
	return table.Row{mass.in(p.units).number(c.Weight), bare(c.Cost), bare(c.Hours)}
}

// bare prints a number without a unit, with what decimals it has.
func bare(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// bought are the cells of what a degree takes.
func (p *rankPage) bought(s *sweep.Single) table.Row {
	d := difference.in(p.units).factor
	per := func(x float64) string {
		if math.IsNaN(x) {
			return "-"
		}
		return strconv.FormatFloat(x, 'f', 2, 64)
	}
	return table.Row{
		s.Change.Name,
		per(sweep.Per(s.LeastGain, s.Weight) * d / mass.in(p.units).factor),
		per(sweep.Per(s.LeastGain, s.Cost) * d), per(sweep.Per(s.LeastGain, s.Hours) * d),
		per(s.PerDragPower() * d / power.in(p.units).factor),
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
			row = append(row, p.signed(difference, q.Sum[c]), p.signed(difference, q.Gain[c]), q.Together[c].String())
		}
		rows = append(rows, append(row, p.signed(difference, q.LeastGain)))
	}
	d := difference.in(p.units).name
	p.table(1, table.Row{"pair", "coolant " + d, "pair", "they", "oil", "pair", "they", "least"}, rows)
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
	p.line("Every number that is made, a tenth up (+) and down (-), whole pieces at least one:")
	var rows []table.Row
	for i := range p.Tenths {
		t := &p.Tenths[i]
		row := table.Row{t.Param.Path, p.step(t)}
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
		cell(&t.Up, power, t.Up.DragPower)
		cell(&t.Up, climbRate, t.Up.Climb)
		rows = append(rows, row)
	}
	p.table(1, table.Row{"number", "step", "coolant +", "-", "oil +", "-", "drag " + power.in(p.units).name + " +", "climb +"}, rows)
	for i := range p.Tenths {
		t := &p.Tenths[i]
		for _, e := range []*sweep.Effect{&t.Up, &t.Down} {
			if e.Err != nil {
				p.note(t.Param.Path + ": failed, " + oneLine(e.Err))
			}
		}
	}
}

// step prints by how much a number is moved, in its unit.
func (p *rankPage) step(t *sweep.Tenth) string {
	return scenarios.Number{Value: t.Step, Unit: t.Param.Unit, Known: true}.Format(t.Param.Dimension)
}

// note adds a sentence, indented and broken to the width of a line.
func (p *page) note(sentence string) {
	for line := range strings.Lines(text.WrapSoft(sentence, lineWidth-4)) {
		p.line("    %s", strings.TrimRight(line, "\n"))
	}
}

// moment is weight times arm: 1 lb = 0.45359237 kg and 1 in = 0.0254 m, exact.
var moment = measure{unit{"lb in", 1 / (0.45359237 * 0.0254), 0, 0}, unit{"kg m", 1, 0, 2}}
