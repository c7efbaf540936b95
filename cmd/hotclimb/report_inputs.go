package main

import (
	"strings"

	"hotclimb/plots"
	"hotclimb/plots/report"
	"hotclimb/scenarios"
)

// inputs are the numbers and words of a scenario: as given, as set by its cases and
// studies, by default, and as a file.
func inputs(sc *scenarios.Scenario) ([]report.Block, error) {
	given, err := writtenInputs(sc)
	if err != nil {
		return nil, err
	}
	var file strings.Builder
	if err := asRun(sc).write(&file); err != nil {
		return nil, err
	}
	blocks := []report.Block{report.Listing(given)}
	if own := setInputs(sc); len(own.Rows) > 0 {
		blocks = append(blocks, report.Listing(own))
	}
	defaults := defaultInputs(sc)
	return append(blocks, report.Folded(defaults.Caption, report.Numbers(defaults)),
		report.Folded("The whole scenario as it was run, as a file", report.Verbatim(file.String()))), nil
}

// withDoubt heads values.
const withDoubt = "value ± one standard deviation"

// writtenInputs are the numbers and words that are given, as they are written.
func writtenInputs(sc *scenarios.Scenario) (plots.Table, error) {
	n := plots.Table{Caption: "As written", Words: 3, Header: []string{"path", withDoubt, "what it is"}}
	byDefault := map[string]bool{}
	for _, d := range sc.Defaults() {
		byDefault[d.Path] = true
	}
	for _, path := range sc.Paths() {
		q, err := sc.Compile(path)
		if err != nil {
			return n, err
		}
		text := q.Text(sc)
		if x, ok := q.Get(sc); ok && x.Text != "" {
			text = x.Text
		}
		if text != "" && !byDefault[path] {
			n.Rows = append(n.Rows, []string{path, plots.Pretty(text), q.Doc})
		}
	}
	return n, nil
}

// defaultInputs are the values in use that are not given.
func defaultInputs(sc *scenarios.Scenario) plots.Table {
	n := plots.Table{Caption: "In use without being written", Words: 3, Header: []string{"path", withDoubt, "where it comes from"}}
	for _, d := range sc.Defaults() {
		n.Rows = append(n.Rows, []string{d.Path, plots.Pretty(d.Text), d.Source})
	}
	return n
}

// setInputs are the settings of cases, changes and flights, and the ranges of
// studies.
func setInputs(sc *scenarios.Scenario) plots.Table {
	n := plots.Table{Caption: "Set by cases, changes and flights, and ranges of studies", Words: 3, Header: []string{"by", "path", withDoubt}}
	add := func(by string, set map[string]string) {
		for _, s := range scenarios.Settings(set) {
			n.Rows = append(n.Rows, []string{by, s.Path, plots.Pretty(s.Text)})
		}
	}
	for _, k := range sc.Cases {
		add("case "+k.Name, k.Set)
	}
	for _, c := range sc.Changes {
		add("change "+c.Name, c.Set)
	}
	if sc.Sweep != nil {
		add("sweep", sc.Sweep.Vary)
	}
	if sc.Size != nil {
		add("size", sc.Size.Vary)
	}
	for _, t := range sc.Tests {
		add("test "+t.Name, t.Set)
	}
	for _, f := range sc.Next {
		add("next "+f.Name, f.Set)
	}
	return n
}
