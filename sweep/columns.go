package sweep

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"hotclimb/scenarios"
)

// Kind is what the cells of a column hold.
type Kind string

// Kinds of cells.
const (
	Text   Kind = "text"
	Number Kind = "number" // empty where there is none
	Whole  Kind = "whole"  // a whole number
)

// Column is one column of the table of a sweep. Its name ends in its unit.
type Column struct {
	Name string
	Kind Kind
	cell func(*Row) string
}

// Failed is the status of a row without an outcome.
const Failed = "failed"

// Columns are those of the table: the number of the row, the factors, the case,
// and what became of it.
func (s *Study) Columns() []Column {
	list := []Column{{"row", Whole, func(r *Row) string { return strconv.Itoa(r.Index) }}}
	for i, f := range s.Factors {
		list = append(list, factorColumn(f, i))
	}
	name := func(r *Row) string { return s.Cases[r.Case].Name }
	return append(append(list, Column{"case", Text, name}), columnsOfOutcome(s.Draws)...)
}

// columnsOfOutcome are those of what became of a trial.
func columnsOfOutcome(draws *DrawNote) []Column {
	if draws == nil {
		return outcomeColumns
	}
	return slices.Concat(outcomeColumns, doubtColumns)
}

// factorColumn holds what a factor takes, with all its digits, so that a row
// can be flown again.
func factorColumn(f Factor, i int) Column {
	if !f.Param.IsNumber() {
		return Column{f.Param.Column(), Text, func(r *Row) string { return oneLine(r.Levels[i].Word) }}
	}
	return Column{f.Param.Column(), Number, func(r *Row) string {
		return strconv.FormatFloat(r.Levels[i].Number, 'g', -1, 64)
	}}
}

// outcomeColumns are the columns of every sweep.
var outcomeColumns = []Column{
	{"status", Text, func(r *Row) string {
		if r.Err != nil {
			return Failed
		}
		return string(r.Status)
	}},
	number("coolant_peak_degC", func(o *Outcome) float64 { return o.Circuits[Coolant].Peak }),
	number("oil_peak_degC", func(o *Outcome) float64 { return o.Circuits[Oil].Peak }),
	number("coolant_margin_K", func(o *Outcome) float64 { return o.Circuits[Coolant].Margin }),
	number("oil_margin_K", func(o *Outcome) float64 { return o.Circuits[Oil].Margin }),
	number("boil_margin_K", func(o *Outcome) float64 { return o.BoilMargin }),
	number("coolant_time_to_limit_s", func(o *Outcome) float64 { return o.Circuits[Coolant].TimeToLimit }),
	number("oil_time_to_limit_s", func(o *Outcome) float64 { return o.Circuits[Oil].TimeToLimit }),
	number("cooling_drag_N", func(o *Outcome) float64 { return o.CoolingDrag }),
	number("cooling_drag_W", func(o *Outcome) float64 { return o.DragPower }),
	number("rate_of_climb_m_s", func(o *Outcome) float64 { return o.RateOfClimb }),
	number("water_used_kg", func(o *Outcome) float64 { return o.WaterUsed }),
	{"reversed", Text, func(r *Row) string { return oneLine(strings.Join(r.Reversed(), " ")) }},
	{"incomplete", Text, func(r *Row) string { return oneLine(r.Incomplete) }},
	number("energy_residual", func(o *Outcome) float64 { return o.Residual }),
	{"fault", Text, func(r *Row) string {
		if r.Err == nil {
			return ""
		}
		return oneLine(withoutPlaces(r.Err).Error())
	}},
}

// withoutPlaces leaves out where faults stand in their files, since rows do not
// depend on the names of files.
func withoutPlaces(err error) error {
	var faults scenarios.Faults
	if !errors.As(err, &faults) {
		return err
	}
	bare := make([]error, len(faults))
	for i, f := range faults {
		bare[i] = scenarios.Fault{Path: f.Path, Message: f.Message, Hint: f.Hint}
	}
	return errors.Join(bare...)
}

// number is a column of the outcome: eight significant digits, empty when the
// value is not finite or the row has no outcome.
func number(name string, of func(*Outcome) float64) Column {
	return Column{name, Number, func(r *Row) string {
		x := of(&r.Outcome)
		if r.Err != nil || math.IsNaN(x) || math.IsInf(x, 0) {
			return ""
		}
		return strconv.FormatFloat(x, 'g', 8, 64)
	}}
}

// oneLine is a text without the line breaks that would break a row in two.
func oneLine(text string) string { return strings.Join(strings.Fields(text), " ") }

// Names are the names of columns.
func Names(columns []Column) []string {
	names := make([]string, len(columns))
	for i, c := range columns {
		names[i] = c.Name
	}
	return names
}

// Cells are the cells of a row.
func Cells(columns []Column, r *Row) []string {
	return appendCells(make([]string, 0, len(columns)), columns, r)
}

func appendCells(cells []string, columns []Column, r *Row) []string {
	for _, c := range columns {
		cells = append(cells, c.cell(r))
	}
	return cells
}
