package main

import (
	"io"
	"path/filepath"

	"hotclimb/scenarios"
)

// writeFiles writes the ranking into a folder: the scenario as it was run, the
// table and the result.
func (k *ranking) writeFiles(dir string) error {
	files := []struct {
		name  string
		write func(io.Writer) error
	}{
		{writtenScenario, func(w io.Writer) error { return scenarios.Write(w, k.scenario) }},
		{"rank.csv", k.writeCSV},
		{"rank.json", k.writeJSON},
	}
	for _, f := range files {
		if err := writeWhole(filepath.Join(dir, f.name), f.write); err != nil {
			return err
		}
	}
	return nil
}
