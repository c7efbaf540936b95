package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// writeText writes what the rows come to for people.
func (t *tally) writeText(w io.Writer, s *screen) error {
	p := &page{screen: s, units: t.units}
	p.line("%s", p.paint(bold, t.scenario.Title))
	p.swept(t)
	p.sweptTables(t)
	p.sweptEnd(t)
	p.line("")
	p.cautions(t.sprayed)
	_, err := w.Write(p.Bytes())
	return err
}

// sweptTables adds what the rows come to: all of them, or the best and the worst.
func (p *page) sweptTables(t *tally) {
	if t.listed != nil {
		p.sweptRows(t)
	} else {
		p.sweptMarks(t)
	}
	p.sweptEffects(t)
}

// letter stands for a factor in tables.
func letter(factor int) string {
	text := string(rune('a' + factor%26))
	if factor >= 26 {
		text += strconv.Itoa(factor / 26)
	}
	return text
}

// swept says what was flown and what its letters stand for.
func (p *page) swept(t *tally) {
	m := &t.manifest
	design := map[string]string{sweep.GridDesign: "a grid", sweep.LatinDesign: "a Latin hypercube", sweep.SobolDesign: "Sobol points"}[m.Design]
	part := ""
	if m.Shard != nil {
		part = fmt.Sprintf(" of %d, shard %d/%d", m.Rows, m.Shard.Index, m.Shard.Of)
	}
	p.line("%s%s: %s in %s", counted(m.Len(), "flight"), part, design, strings.Join(m.Cases, ", "))
	p.line("")
	for i, f := range t.study.Factors {
		p.item("%-2s %s: %s", letter(i), f.Param.Path, taken(f))
	}
	p.line("")
	var parts []string
	colours := map[string]colour{string(sim.WithinLimits): green, string(sim.Caution): yellow, string(sim.OverLimit): red, sweep.Failed: red}
	for _, s := range statuses {
		if n := t.status[s]; n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", n, p.paint(colours[s], s)))
		}
	}
	p.item("%s", strings.Join(parts, ", "))
	if t.reversed > 0 {
		p.item("%d with air flowing backwards through a core at the least margin", t.reversed)
	}
	if t.broken > 0 {
		p.item("%d did not reach the end of a leg", t.broken)
	}
	p.line("")
}

// taken says what a factor takes.
func taken(f sweep.Factor) string {
	if !f.Param.IsNumber() {
		return strings.Join(f.Words, ", ")
	}
	switch n := len(f.Values); {
	case n == 0:
		return fmt.Sprintf("%s to %s", levelText(f, f.Lo), levelText(f, f.Hi))
	case n <= 3:
		values := make([]string, n)
		for i, v := range f.Values {
			values[i] = levelText(f, v)
		}
		return strings.Join(values, ", ")
	default:
		return fmt.Sprintf("%s to %s, %d values", levelText(f, f.Lo), levelText(f, f.Hi), n)
	}
}

// levelText is a value of a factor with its unit.
func levelText(f sweep.Factor, value float64) string {
	return plots.Pretty(scenarios.Format(value, f.Param.Unit, f.Param.Dimension))
}

// levels are the cells of the factors, without units.
func (t *tally) levels(cells []string) table.Row {
	var row table.Row
	for i, f := range t.study.Factors {
		cell := cells[1+i]
		if x, err := strconv.ParseFloat(cell, 64); f.Param.IsNumber() && err == nil {
			cell = strings.TrimSuffix(levelText(f, x), " "+plots.Pretty(f.Param.Unit))
		}
		row = append(row, cell)
	}
	return row
}

// levelNames are the headers of the factors: their letters and units.
func (t *tally) levelNames() table.Row {
	var row table.Row
	for i, f := range t.study.Factors {
		row = append(row, strings.TrimSpace(letter(i)+" "+plots.Pretty(f.Param.Unit)))
	}
	return row
}

// sweptRows lists all rows.
func (p *page) sweptRows(t *tally) {
	d, w, c := difference.In(p.units), power.In(p.units), climbRate.In(p.units)
	words := t.beside("status", "case")
	header := slices.Concat(words, table.Row{"row"}, t.levelNames())
	columns := []rowColumn{
		{"coolant " + d.Name, "coolant_margin_K", d}, {"oil " + d.Name, "oil_margin_K", d},
		{"drag " + w.Name, "cooling_drag_W", w}, {"climb " + c.Name, "rate_of_climb_m_s", c},
	}
	if t.manifest.Draws != nil {
		sigma := unit{Factor: d.Factor, Decimals: d.Decimals}
		columns = []rowColumn{
			columns[0], {"±", "coolant_margin_sigma_K", sigma}, columns[1], {"±", "oil_margin_sigma_K", sigma},
			{"over %", "any_over_probability", perCent}, columns[2], columns[3],
		}
	}
	for _, k := range columns {
		header = append(header, k.name)
	}
	var rows []table.Row
	var notes []string
	for _, cells := range t.listed {
		row := slices.Concat(t.beside(cells[t.at["status"]], cells[t.at["case"]]), table.Row{cells[0]}, t.levels(cells))
		for _, k := range columns {
			row = append(row, t.cell(cells, k.column, k.unit))
		}
		rows = append(rows, row)
		notes = append(notes, t.notes(cells)...)
	}
	p.heads("  Margins to the limits, cooling drag and climb at the least margin:")
	p.sweptDraws(t)
	p.table(len(words), header, rows)
	for _, note := range notes {
		p.item("%s", note)
	}
}

// rowColumn is a column of the list of rows.
type rowColumn struct {
	name   string
	column string // of the table for programs
	unit   unit
}

// perCent is the unit of chances.
var perCent = unit{Name: "%", Factor: 100}

// sweptDraws says what the columns of doubt are.
func (p *page) sweptDraws(t *tally) {
	if n := t.manifest.Draws; n != nil {
		p.line("  (± is one standard deviation of the margin by the doubtful numbers, over the")
		p.line("  chance to exceed a limit, in %d draws)", n.Draws)
	}
}

// beside puts the name of the case beside a word when there are several cases.
func (t *tally) beside(word, name string) table.Row {
	if len(t.manifest.Cases) == 1 {
		return table.Row{word}
	}
	return table.Row{word, name}
}

// cell is a number of a row in a unit; "-" when there is none.
func (t *tally) cell(cells []string, column string, u unit) string {
	x, ok := t.number(cells, column)
	if !ok {
		return "-"
	}
	return u.Number(x)
}

// notes are what a row has to say besides numbers.
func (t *tally) notes(cells []string) []string {
	var list []string
	for _, k := range []struct{ column, text string }{
		{"fault", "row %s failed: %s"}, {"reversed", "row %s: air flows backwards through %s"},
		{"incomplete", "row %s: leg %s did not reach its end"},
	} {
		if cell := cells[t.at[k.column]]; cell != "" {
			list = append(list, fmt.Sprintf(k.text, cells[0], cell))
		}
	}
	if n, ok := t.number(cells, "failed_draws"); ok && n > 0 {
		list = append(list, fmt.Sprintf("row %s: %.0f of %s failed", cells[0], n, counted(t.manifest.Draws.Draws, "draw")))
	}
	return list
}

// sweptMarks lists the rows with most and least margin.
func (p *page) sweptMarks(t *tally) {
	d := difference.In(p.units)
	words := t.beside("margin", "case")
	header := slices.Concat(words, table.Row{"coolant " + d.Name, "oil " + d.Name})
	if t.manifest.Draws != nil {
		p.sweptDraws(t)
		header = append(header, "over %")
	}
	header = slices.Concat(header, table.Row{"row"}, t.levelNames())
	var rows []table.Row
	for _, m := range t.marks {
		if m.cells == nil {
			continue
		}
		numbers := table.Row{t.cell(m.cells, "coolant_margin_K", d), t.cell(m.cells, "oil_margin_K", d)}
		if t.manifest.Draws != nil {
			numbers = append(numbers, t.cell(m.cells, "any_over_probability", perCent))
		}
		numbers = append(numbers, m.cells[0])
		rows = append(rows, slices.Concat(t.beside(m.what, m.cells[t.at["case"]]), numbers, t.levels(m.cells)))
	}
	if rows != nil {
		p.titled("Rows with most and least margin")
		p.table(len(words), header, rows)
	}
}

// sweptEffects lists the mean margins at the ends of each factor.
func (p *page) sweptEffects(t *tally) {
	d := difference.In(p.units)
	var rows []table.Row
	for _, e := range t.effects {
		if e.n == 0 {
			continue
		}
		row := table.Row{letter(e.factor), e.text(t.study.Factors[e.factor]), e.n}
		for _, sum := range e.sum {
			row = append(row, d.Number(sum/float64(e.n)))
		}
		rows = append(rows, row)
	}
	if rows == nil {
		return
	}
	p.line("")
	p.titled("Mean margins at the ends of what was varied")
	p.table(2, table.Row{"", "mean margin at", "rows", "coolant " + d.Name, "oil " + d.Name}, rows)
}

// text says what an effect stands for.
func (e *effect) text(f sweep.Factor) string {
	switch {
	case e.word != "":
		return e.word
	case e.lo == e.hi:
		return levelText(f, e.lo)
	}
	return levelText(f, e.lo) + " to " + levelText(f, e.hi)
}

// sweptEnd says where the rows are.
func (p *page) sweptEnd(t *tally) {
	switch {
	case t.folder != "":
		p.line("")
		p.line("All rows: %s", filepath.Join(t.folder, sweep.RowsFile))
	case t.listed == nil:
		p.line("")
		p.line("The rows are not kept; --out DIR writes them, with charts.")
	}
}
