package main

import (
	"encoding/csv"
	"fmt"
	"io"

	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// result is what a command has to say, in every format.
type result interface {
	writeText(io.Writer, *screen) error
	writeJSON(io.Writer) error
	writeCSV(io.Writer) error
}

// print writes a result to standard output.
func (p *program) print(r result, format string) error {
	write := func(w io.Writer) error { return r.writeText(w, p.out) }
	switch format {
	case "json":
		write = r.writeJSON
	case "csv":
		write = r.writeCSV
	}
	if err := write(p.out); err != nil {
		return fmt.Errorf("cannot write the result: %w", reason(err))
	}
	return nil
}

// origin is where a result comes from.
type origin struct {
	scenario *scenarios.Scenario // as it was run
	hash     string              // of the scenario
	units    plots.Units
}

// originOf is that of a result of some cases of a scenario.
func originOf(sc *scenarios.Scenario, cases []scenarios.CaseScenario) origin {
	return origin{sc, sc.SHA256(), plots.UnitsOf(cases[0].Scenario.Display)}
}

// head is what the result for programs begins with.
func (o *origin) head() headRecord {
	return headRecord{sweep.Tool{Name: name, Version: version}, sweep.Source{Title: o.scenario.Title, SHA256: o.hash}}
}

// caption is that of a chart.
func (o *origin) caption(title string, cases ...string) plots.Caption {
	return plots.Caption{Title: title, Cases: cases, Scenario: o.scenario.Title, Hash: o.hash, Version: version}
}

// column is a column of a table for programs: its name and its cell in a row.
type column[R any] struct {
	name string
	cell func(*R) string
}

// writeTable writes rows as CSV.
func writeTable[R any](w io.Writer, columns []column[R], rows []R) error {
	table := make([][]string, 1+len(rows))
	for _, c := range columns {
		table[0] = append(table[0], c.name)
		for i := range rows {
			table[1+i] = append(table[1+i], c.cell(&rows[i]))
		}
	}
	return csv.NewWriter(w).WriteAll(table)
}
