package bench

import (
	"html/template"
	"slices"
	"strings"

	"hotclimb/plots"
	"hotclimb/sim"
)

// Result is what the templates summary and result show of a state: the same
// for the page as it is first served and for every move.
type Result struct {
	Case, Title string // of the case that is shown; the title may be empty
	Compared    bool   // changes against the pinned state stand in the cells

	Failed     string     // why there is no result; then what follows is empty
	Status     sim.Status // within limits, caution or over limit
	Incomplete string     // the leg that did not reach its end, "" when all did
	Peaks      Grid       // of coolant and oil
	Facts      []Fact     // what does not fit into tables: boil margin, drag, climb, water, vents
	Exchangers Grid       // what each does at the least margin
	Warnings   []string

	Cases    Grid // status and both margins of every case
	Command  string
	Say      string        // one sentence for who hears the page
	Cowl     template.HTML // the drawing of the air, "" for none
	Cautions []string      // sentences; among them those of spray where water is sprayed
}

// Grid is a table of cells. Row headers are words.
type Grid struct {
	Caption string
	Header  []string // the first is that of the row headers
	Rows    []Row
}

// Row is one row of a grid.
type Row struct {
	Name  string // its header
	Shown bool   // the row of the case that is shown
	Cells []Cell
}

// Cell is a number or a word as people read it.
type Cell struct {
	Text   string
	Change string // from the pinned state: "+1.9", "0.0", "was coolant"; "" for none
	Word   bool   // it stands left
	Alarm  bool   // it is bad: over a limit, reversed, failed
}

// Fact is one labelled line.
type Fact struct {
	Label, Text, Change string
}

// result makes what is shown of a state, beside the pinned one when that is not nil.
func (s *server) result(now, pinned *flownState, shown int) *Result {
	k := now.cases[shown]
	r := &Result{
		Case: k.Name, Title: k.Title, Compared: pinned != nil,
		Cases: caseGrid(now, pinned, shown), Command: s.command(now.state, k),
		Cautions: slices.Clone(s.Cautions),
	}
	if spraying(now, pinned) {
		r.Cautions = append(r.Cautions, s.SprayCautions...)
	}
	f := now.flown[shown]
	if f.err != nil {
		r.Failed = f.err.Error()
		r.Say = k.Name + " could not be flown: " + r.Failed
		return r
	}
	p := &pair{units: now.units, plant: k.plant, now: f.result}
	if pinned != nil {
		p.before = pinned.flown[shown].result
	}
	r.Status, r.Incomplete, r.Warnings = f.result.Status, f.result.Incomplete, f.result.Warnings
	r.Peaks, r.Facts, r.Exchangers = p.peaks(), p.facts(), p.exchangers()
	r.Say = say(now, p, shown)
	r.Cowl = now.cowl
	return r
}

// spraying says that water is sprayed in a case.
func spraying(states ...*flownState) bool {
	for _, f := range states {
		if f == nil {
			continue
		}
		for _, k := range f.cases {
			if k.plant.Spray != nil && k.plant.Spray.Rate > 0 {
				return true
			}
		}
	}
	return false
}

// pair is what came of a case, and of the same case in the pinned state: nil when
// there is none or it failed.
type pair struct {
	units       plots.Units
	plant       *sim.Plant
	now, before *sim.Result
}

// cell is a number in a column of one unit.
func (p *pair) cell(m plots.Measure, of func(*sim.Result) float64) Cell {
	c := Cell{Text: m.In(p.units).Number(of(p.now))}
	if p.before != nil {
		c.Change = change(m, p.units, of(p.now)-of(p.before))
	}
	return c
}

// change is a difference with its sign and without its unit.
func change(m plots.Measure, u plots.Units, dx float64) string { return ofChanges(m).In(u).Signed(dx) }

// ofChanges is the measure of differences of what m measures.
func ofChanges(m plots.Measure) plots.Measure {
	if m == plots.Temperature {
		return plots.Warmth
	}
	return m
}

// words are the words of a name.
func words(name string) string { return strings.ReplaceAll(name, "_", " ") }
