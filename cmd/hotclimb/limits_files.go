package main

import (
	"fmt"
	"io"
	"path/filepath"

	"hotclimb/plots"
	"hotclimb/scenarios"
)

// writeFiles writes the outcome into a folder: the card, the table, the scenario
// as it was run, and, last, the result.
func (o *limitsOutcome) writeFiles(dir string) error {
	card, err := plots.LimitsCard(o.table, o.units.charts(), plots.Caption{
		Title: o.table.Title, Case: o.table.Case, Scenario: o.scenario.Title, Hash: o.hash, Version: version,
	})
	if err != nil {
		return fmt.Errorf("the card cannot be drawn: %w", err)
	}
	files := []struct {
		name  string
		write func(io.Writer) error
	}{
		{"limits.svg", card.WriteSVG},
		{"limits.pdf", card.WritePDF},
		{"limits.csv", o.writeCSV},
		{writtenScenario, func(w io.Writer) error { return scenarios.Write(w, o.scenario) }},
		{"limits.json", o.writeJSON},
	}
	for _, f := range files {
		if err := writeWhole(filepath.Join(dir, f.name), f.write); err != nil {
			return err
		}
	}
	return nil
}
