package main

import (
	"io"
	"math"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// writeText writes the ranking for people, as a screen can show it.
func (k *ranking) writeText(w io.Writer, s *screen) error {
	p := &rankPage{&page{screen: s, units: k.units}, k}
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
	d := difference.In(p.units)
	for i, name := range p.Cases {
		f := &p.Base.Flown[i]
		after := "not reached"
		if t := f.TimeToLimit(); !math.IsInf(t, 1) {
			after = plots.Clock(t)
		}
		status := string(f.Status)
		if f.Status == sim.OverLimit {
			status = p.paint(red, status)
		}
		if f.Incomplete != "" {
			status += ", incomplete"
		}
		rows = append(rows, table.Row{name, status, d.Number(f.Circuits[sweep.Coolant].Margin), d.Number(f.Circuits[sweep.Oil].Margin),
			after, force.In(p.units).Number(f.Climb.Drag), finePower.In(p.units).Number(f.Climb.DragPower), climbRate.In(p.units).Number(f.Climb.Rate)})
	}
	p.line("")
	p.titled("The cases as they are")
	p.table(2, table.Row{"as it is", "", "coolant\n" + d.Name, "oil\n" + d.Name, "limit after\nmin:s",
		"drag\n" + force.In(p.units).Name, "drag\n" + finePower.In(p.units).Name, "climb\n" + climbRate.In(p.units).Name}, rows)
	p.note("coolant and oil are margins to the limits; drag is cooling drag, then the same times airspeed; climb is the rate of climb; all are means over the climb, or over the time in the air without one")
}
