package main

import (
	"fmt"

	"hotclimb/plots"
)

// writeFiles writes the outcome into a folder: the card, the table, the scenario
// as it was run, and, last, the result.
func (o *limitsOutcome) writeFiles(dir string) error {
	card, err := plots.LimitsCard(o.table, o.units.charts(), o.caption(o.table.Title, o.table.Case))
	if err != nil {
		return fmt.Errorf("the card cannot be drawn: %w", err)
	}
	return writeAll(dir, []outFile{
		{"limits.svg", card.WriteSVG}, {"limits.pdf", card.WritePDF}, {"limits.csv", o.writeCSV},
		asRun(o.scenario), {"limits.json", o.writeJSON},
	})
}
