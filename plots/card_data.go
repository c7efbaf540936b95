package plots

import "hotclimb/sweep/optimum"

// tables is all of the table of limits, what has no room on the card included,
// rounded as on the card.
func (d *card) tables() []Table {
	slowest := Table{
		Caption: "Slowest climb that keeps the limits, in the air of the day of the file", Words: 2,
		Header: []string{"field, and its air", "slowest climb"},
	}
	for i := range d.table.Slowest {
		s := &d.table.Slowest[i]
		slowest.Rows = append(slowest.Rows, []string{d.slowWhere(s), d.slowSpeed(s)})
	}
	tables := []Table{d.ceilingTable(), slowest}
	if d.table.Spray != nil {
		tables = append(tables, d.sprayTable())
	}
	return tables
}

// ceilingTable is every speed at every elevation, the climb of the file first.
func (d *card) ceilingTable() Table {
	t := Table{
		Caption: "Highest temperature at the field for an unlimited climb, and the minutes of climb to the limit on hotter days." + d.doubtKept(),
		Words:   2, Header: []string{"climb, and elevation of the field", "limited by", "unlimited up to " + d.degrees.unit},
	}
	if d.table.Spray != nil {
		t.Caption += " Without water spray."
	}
	hotter := Warmth.In(d.units)
	for _, step := range d.table.Above {
		t.Header = append(t.Header, "min when "+hotter.Number(step)+" "+hotter.Name+" hotter")
	}
	own := &d.table.Own
	t.Rows = append(t.Rows, d.ceilingRow(own, " (as filed)"))
	for i := range d.table.Rows {
		if r := &d.table.Rows[i]; r.Speed != own.Speed || r.Elevation != own.Elevation {
			t.Rows = append(t.Rows, d.ceilingRow(r, ""))
		}
	}
	return t
}

func (d *card) ceilingRow(r *optimum.LimitRow, note string) []string {
	cells := []string{wholeUnit(d.speed, r.Speed) + " from " + wholeUnit(d.height, r.Elevation) + note, rowLimits(r.By), plain(d.highest(&r.Ceiling))}
	for i := range d.table.Above {
		text := "–"
		if i < len(r.Above) {
			text = minutesDown(r.Above[i].Time)
		}
		cells = append(cells, text)
	}
	return cells
}

// rowLimits says what limits a row.
func rowLimits(by string) string {
	if by == "" {
		return "nothing"
	}
	return limits(by)
}

func (d *card) sprayTable() Table {
	s := d.table.Spray
	t := Table{Caption: "Water spray on " + spaced(s.Onto), Words: 2, Header: []string{"air at the field", "spray"}}
	if s.Rate == 0 {
		t.Rows = [][]string{{"any", "nothing to tell: " + s.Trouble}}
		return t
	}
	t.Rows = [][]string{{"any", plain(d.sprayRule(s))}}
	for i := range s.Needed {
		n := &s.Needed[i]
		time, lack := sprayTime(n)
		t.Rows = append(t.Rows, []string{plain(d.down(n.Temperature)) + " " + d.degrees.unit, time + lack})
	}
	return t
}
