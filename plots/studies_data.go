package plots

import (
	"math"
	"strconv"
)

// sensitivityTables has a table for each curve.
func sensitivityTables(curves []SensitivityCurve, u Units) []Table {
	tables := make([]Table, len(curves))
	for i := range curves {
		tables[i] = curves[i].table(Warmth.In(u))
	}
	return tables
}

// table has a row for each value, of many for some.
func (s *SensitivityCurve) table(warmth Unit) Table {
	path := axisText(s.Label, s.Unit)
	t := Table{Caption: "Least margins over " + path, Header: []string{path, "coolant " + warmth.Name, "oil " + warmth.Name}}
	var also []int
	if !math.IsNaN(s.Present) {
		t.Caption += "; present value " + plain(figures(s.Present))
		also = []int{nearestTo(s.Values, s.Present)}
	}
	columns := [][]float64{s.Coolant, s.Oil}
	for k, band := range []*MarginBand{s.CoolantBand, s.OilBand} {
		if band != nil {
			columns = append(columns, band.Low, band.High)
			t.Header = append(t.Header, circuitNames[k]+" 5 % "+warmth.Name, circuitNames[k]+" 95 % "+warmth.Name)
		}
	}
	at, names := picked(len(s.Values), mostRows-len(also), also...), s.texts()
	t.Caption += some(len(at), len(s.Values), "values")
	for _, k := range at {
		cells := []string{names[k]}
		for _, column := range columns {
			cells = append(cells, warmth.numbers(column[k])...)
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// tables has a grid for the lesser margin and for that of each circuit, and the
// places that are marked.
func (d *ContourData) tables(u Units) []Table {
	unit, beyond := ", "+Warmth.In(u).Name, ""
	if d.NeedCoolant != 0 || d.NeedOil != 0 {
		beyond = ", beyond the required " + Warmth.Show(u, d.NeedCoolant) + " (coolant) and " + Warmth.Show(u, d.NeedOil) + " (oil)"
	}
	tables := []Table{
		d.grid("Lesser margin of coolant and oil"+unit+beyond, u, func(j, i int) float64 {
			return math.Min(d.Coolant[j][i]-d.NeedCoolant, d.Oil[j][i]-d.NeedOil)
		}),
		d.grid("Margin of coolant"+unit, u, func(j, i int) float64 { return d.Coolant[j][i] }),
		d.grid("Margin of oil"+unit, u, func(j, i int) float64 { return d.Oil[j][i] }),
	}
	marked := Table{Caption: "Designs marked", Words: 1, Header: []string{"design", axisText(d.X.Label, d.X.Unit), axisText(d.Y.Label, d.Y.Unit)}}
	for _, p := range (&contour{ContourData: d}).places() {
		marked.Rows = append(marked.Rows, []string{p.name, plain(figures(p.at[0])), plain(figures(p.at[1]))})
	}
	if len(marked.Rows) > 0 {
		tables = append(tables, marked)
	}
	return tables
}

// grid has a row for each value of y and a column for each of x, of many some.
func (d *ContourData) grid(caption string, u Units, value func(j, i int) float64) Table {
	warmth, x, y := Warmth.In(u), d.X.texts(), d.Y.texts()
	columns, rows := d.nodes(d.X, 0, mostColumns), d.nodes(d.Y, 1, mostRows)
	t := Table{Caption: caption + some(len(columns)*len(rows), len(x)*len(y), "designs"), Header: []string{axisText(d.Y.Label, d.Y.Unit) + "; across: " + axisText(d.X.Label, d.X.Unit)}}
	for _, i := range columns {
		t.Header = append(t.Header, x[i])
	}
	for _, j := range rows {
		cells := []string{y[j]}
		for _, i := range columns {
			cells = append(cells, warmth.numbers(value(j, i))...)
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// nodes picks values of an axis, those next to the marked places among them.
func (d *ContourData) nodes(a Axis, coordinate, most int) []int {
	var also []int
	for _, p := range []*[2]float64{d.Present, d.Optimum} {
		if p != nil {
			also = append(also, nearestTo(a.Values, p[coordinate]))
		}
	}
	return picked(len(a.Values), most-len(also), also...)
}

func (l *tornado) tables(u Units) []Table {
	warmth := Warmth.In(u)
	t := Table{Caption: "Gain of the least margin, the greatest first", Words: 1, Header: []string{"change", "coolant " + warmth.Name, "oil " + warmth.Name}}
	for i := range l.rows {
		g := &l.rows[i].Gain
		t.Rows = append(t.Rows, []string{noted(g.Name, g.Note), warmth.Signed(g.Coolant), warmth.Signed(g.Oil)})
	}
	return []Table{t}
}

func (l *front) tables() []Table {
	margin, drag, area := Warmth.In(l.units), FinePower.In(l.units), Opening.In(l.units)
	at := picked(len(l.points), mostRows)
	t := Table{
		Caption: "Least drag for each margin" + some(len(at), len(l.points), "designs"), Words: 1,
		Header: []string{"design", "least margin " + margin.Name, "cooling drag " + drag.Name, "all openings " + area.Name},
	}
	add := func(name string, p FrontPoint) {
		t.Rows = append(t.Rows, []string{name, margin.Number(p.Margin), drag.Number(p.DragPower), area.Number(p.Area)})
	}
	for _, i := range at {
		add("design "+strconv.Itoa(i+1), l.points[i])
	}
	if l.present != nil {
		add("present", *l.present)
	}
	return []Table{t}
}
