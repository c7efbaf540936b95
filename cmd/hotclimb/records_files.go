package main

import (
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"hotclimb/scenarios"
)

// logsOf are the logs that a scenario names, to lie beside it as it was run. One
// that is not there is left out.
func logsOf(sc *scenarios.Scenario) []outFile {
	var files []outFile
	for _, t := range sc.Tests {
		if t.Log == "" {
			continue
		}
		in, err := sc.OpenLog(t)
		if err != nil {
			continue
		}
		_ = in.Close() // nothing was read
		name := copyName(sc, t)
		if !slices.ContainsFunc(files, func(f outFile) bool { return f.name == name }) {
			files = append(files, outFile{name, func(w io.Writer) error { return copyLog(w, sc, t) }})
		}
	}
	return files
}

// withCopies is a scenario that names its logs as logsOf does.
func withCopies(sc *scenarios.Scenario) *scenarios.Scenario {
	c := sc.Clone()
	for i, t := range sc.Tests {
		if t.Log != "" {
			c.Tests[i].Log = copyName(sc, t)
		}
	}
	return c
}

// copyName is what the copy of a log is called: as the log, unless that lies in
// another folder than its scenario or some other file has the name.
func copyName(sc *scenarios.Scenario, t *scenarios.Test) string {
	own, found := strings.CutSuffix(t.Log, ".csv")
	results := []string{"sweep", "rank", "size", "limits", "correct", "compare", "fit", "next", "faults"}
	if found && filepath.Base(t.Log) == t.Log && !slices.Contains(slices.Concat(results, sc.CaseNames()), own) {
		return t.Log
	}
	return "log_" + t.Name + ".csv"
}

// copyLog copies the log of a test.
func copyLog(w io.Writer, sc *scenarios.Scenario, t *scenarios.Test) error {
	in, err := sc.OpenLog(t)
	if err != nil {
		return fmt.Errorf("the log of test %s: %w", t.Name, reason(err))
	}
	defer func() { _ = in.Close() }() // it was only read
	_, err = io.Copy(w, in)
	return err
}
