package main

import (
	"cmp"
	"fmt"
	"io"
	"path/filepath"

	"hotclimb/plots"
	"hotclimb/scenarios"
)

// writeFiles writes the outcome into a folder: for each case its time history
// and its chart, the scenario as it was run, and the result.
func (o *outcome) writeFiles(dir string) error {
	for _, f := range o.cases {
		if err := o.writeCase(dir, f); err != nil {
			return err
		}
	}
	err := writeWhole(filepath.Join(dir, "scenario.yaml"), func(w io.Writer) error {
		return scenarios.Write(w, o.scenario)
	})
	if err != nil {
		return err
	}
	return writeWhole(filepath.Join(dir, "result.json"), o.writeJSON)
}

// writeCase writes CASE.csv, CASE.svg and CASE.png.
func (o *outcome) writeCase(dir string, f *flown) error {
	figure, err := plots.History(f.result, o.units.charts(), plots.Caption{
		Title: cmp.Or(f.title, f.name), Case: f.name, Scenario: o.scenario.Title, Hash: o.hash, Version: version,
	})
	if err != nil {
		return fmt.Errorf("case %s: the chart cannot be drawn: %w", f.name, err)
	}
	files := []struct {
		ending string
		write  func(io.Writer) error
	}{
		{".csv", func(w io.Writer) error { return plots.CSV(w, f.result.Trajectory) }},
		{".svg", figure.WriteSVG},
		{".png", figure.WritePNG},
	}
	for _, file := range files {
		if err := writeWhole(filepath.Join(dir, f.name+file.ending), file.write); err != nil {
			return err
		}
	}
	return nil
}
