package main

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep"
	"hotclimb/sweep/optimum"
)

// sizePage is a result of size in the making.
type sizePage struct {
	*page
	*sized
}

// writeText writes the result for people, as a screen can show it.
func (z *sized) writeText(w io.Writer, s *screen) error {
	p := &sizePage{&page{screen: s, units: z.units}, z}
	p.line("%s", p.paint(bold, z.scenario.Title))
	p.line("")
	p.answers()
	p.front()
	p.searched()
	p.line("")
	p.cautions(z.sprays())
	_, err := w.Write(p.Bytes())
	return err
}

// answers adds what was found and what decides it.
func (p *sizePage) answers() {
	p.verdict()
	p.sizes()
	p.line("")
	p.margins()
	p.chances()
	if p.Fits {
		p.prices()
		p.confirmed()
	} else {
		p.broken()
		p.cures()
	}
}

// sprays says that water is sprayed, or that this is a cure.
func (z *sized) sprays() bool {
	for i := range z.Cures {
		if z.Cures[i].Kind == optimum.SprayCure && z.Cures[i].Found {
			return true
		}
	}
	for i := range z.Best.Flights {
		if z.Best.Flights[i].WaterUsed > 0 {
			return true
		}
	}
	return false
}

// minimised are the things made small in words.
var minimised = map[string]string{
	optimum.OpeningArea: "least opening area",
	optimum.CoolingDrag: "least cooling drag",
	optimum.Weighted:    "least mix of opening area and cooling drag",
}

// verdict says what was found in one sentence.
func (p *sizePage) verdict() {
	cases := strings.Join(caseNames(p.Cases), ", ")
	if p.Fits {
		p.line("%s in: %s", p.paint(green, "Within limits with the "+minimised[p.Minimise]), cases)
	} else {
		p.line("%s; the least bad sizes for: %s", p.paint(red, "NOTHING FITS within the bounds"), cases)
	}
}

func caseNames(cases []scenarios.CaseScenario) []string {
	names := make([]string, len(cases))
	for i, k := range cases {
		names[i] = k.Name
	}
	return names
}

// sizes adds the table of the factors, the area and the drag.
func (p *sizePage) sizes() {
	header := table.Row{"", "as filed", p.found()}
	b := p.Sized.Build
	if b != nil {
		header = append(header, "to build")
	}
	var rows []table.Row
	for i := range p.Factors {
		f := &p.Factors[i]
		row := table.Row{f.Param.Path + " " + plots.Pretty(p.unit(i))}
		for _, d := range p.designs() {
			row = append(row, p.bare(i, d.X[i]))
		}
		rows = append(rows, append(row, p.bare(i, f.Lo)+" to "+p.bare(i, f.Hi)))
	}
	area := table.Row{"opening area " + openingArea.In(p.units).Name}
	drag := table.Row{"cooling drag " + power.In(p.units).Name}
	for _, d := range p.designs() {
		area = append(area, openingArea.In(p.units).Number(d.Area))
		drag = append(drag, power.In(p.units).Number(d.Drag))
	}
	p.titled("Sizes")
	p.table(1, append(header, "bounds"), append(rows, area, drag))
	p.item("area: of %s; drag: times airspeed, mean over the climb, then over the cases that fly", p.countedArea())
	for _, n := range p.ownNumbers() {
		p.item("%s; one size serves all", n)
	}
	if b != nil {
		p.pieces(b)
	}
}

// found is the heading of the answer.
func (p *sizePage) found() string {
	if p.Fits {
		return "least"
	}
	return "least bad"
}

// ownNumbers says which cases have other numbers as filed than the rest.
func (z *sized) ownNumbers() []string {
	var list []string
	for i := range z.Factors {
		q := z.Factors[i].Param
		for _, k := range z.Cases {
			if n, ok := q.Get(k.Scenario); ok && n.Value != z.Start.X[i] {
				list = append(list, fmt.Sprintf("%s: as filed it is %s in %s", q.Path, z.value(i, n.Value), k.Name))
			}
		}
	}
	return list
}

// pieces says what to cut, and how the sizes were chosen.
func (p *sizePage) pieces(b *optimum.Build) {
	flown := "flown again: within limits"
	if !b.Fits {
		flown = p.paint(red, "flown again: NOT within limits")
	}
	p.line("")
	p.line("To build (%s; %s):", b.How, flown)
	for i := range b.Pieces {
		p.item("%s: %s", p.Factors[i].Param.Path, p.piece(i))
	}
}

// countedArea says which openings the area counts.
func (p *sizePage) countedArea() string {
	for i := range p.Factors {
		if p.Factors[i].Param.Made == "opening" {
			return "the openings that vary"
		}
	}
	return "all openings"
}

// designs are those of the tables.
func (p *sizePage) designs() []*optimum.Design {
	list := []*optimum.Design{&p.Start, &p.Best}
	if b := p.Sized.Build; b != nil {
		list = append(list, &b.Design)
	}
	return list
}

// margins adds the table of what every case keeps.
func (p *sizePage) margins() {
	d := difference.In(p.units)
	last, name := &p.Best, p.found()
	if b := p.Sized.Build; b != nil {
		last, name = &b.Design, "built"
	}
	var rows []table.Row
	for k := range p.Cases {
		was, is := &p.Start.Flights[k], &last.Flights[k]
		row := table.Row{p.Cases[k].Name}
		for _, c := range []int{sweep.Coolant, sweep.Oil} {
			row = append(row, d.Number(was.Circuits[c].Margin), d.Number(is.Circuits[c].Margin), d.Number(p.needs(k, c)))
		}
		rows = append(rows, append(row, boiling(d, is.BoilMargin), strings.Join(reversedUnderPower(is), ", ")))
	}
	p.titled("What every case keeps")
	p.table(1, table.Row{"margins " + d.Name, "coolant filed", name, "needs", "oil filed", name, "needs", "boiling", ""}, rows)
	if p.Doubt > 0 {
		p.item("needs: with %s on top of what is asked for, by %s", deviations(p.Doubt), p.DoubtFrom)
	}
}

// deviations is a number of standard deviations in words.
func deviations(k float64) string {
	if k == 1 {
		return "1 standard deviation"
	}
	return strconv.FormatFloat(k, 'g', 4, 64) + " standard deviations"
}

// needs is the margin that a circuit needs in a case.
func (p *sizePage) needs(k, circuit int) float64 {
	kind := [2]string{sweep.Coolant: optimum.CoolantLimit, sweep.Oil: optimum.OilLimit}[circuit]
	for i := range p.Limits {
		if l := &p.Limits[i]; l.Case == k && l.Kind == kind {
			return l.Needs
		}
	}
	return math.NaN()
}

func boiling(u unit, margin float64) string {
	if math.IsInf(margin, 0) {
		return "-"
	}
	return u.Number(margin)
}

// reversedUnderPower names the cores that air goes through backwards while the
// engine runs.
func reversedUnderPower(f *optimum.Flight) []string {
	if !f.Powered {
		return nil
	}
	var list []string
	for _, name := range f.Reversed() {
		list = append(list, name+" reversed")
	}
	return list
}
