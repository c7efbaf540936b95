package main

import (
	"fmt"

	"hotclimb/plots"
)

// writeFiles writes the outcome into a folder: the card, the table, the scenario
// as it was run, and, last, the result.
func (o *limitsOutcome) writeFiles(dir string) error {
	card, err := o.card()
	if err != nil {
		return err
	}
	return writeAll(dir, append(logsOf(o.scenario),
		outFile{"limits.svg", card.WriteSVG}, outFile{"limits.pdf", card.WritePDF}, outFile{"limits.csv", o.writeCSV},
		asRun(o.scenario), outFile{"limits.json", o.writeJSON},
	))
}

// card is the page for the pilot.
func (o *limitsOutcome) card() (*plots.Figure, error) {
	card, err := plots.LimitsCard(o.table, o.units, o.caption(o.table.Title, o.table.Case))
	if err != nil {
		return nil, fmt.Errorf("the card cannot be drawn: %w", err)
	}
	return card, nil
}
