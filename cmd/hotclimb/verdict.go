package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"
	"strings"

	"hotclimb/scenarios"
)

// verdict is the result of check.
type verdict struct {
	Faults   []faultRecord   `json:"faults"`
	Cases    []string        `json:"cases"`
	Defaults []defaultRecord `json:"defaults"`

	file         string
	withDefaults bool
}

type faultRecord struct {
	File    string `json:"file"`
	Line    int    `json:"line"`
	Column  int    `json:"column"`
	Path    string `json:"path"`
	Message string `json:"message"`
	Hint    string `json:"hint"`
	text    string // on one line
}

type defaultRecord struct {
	Path   string `json:"path"`
	Value  string `json:"value"`
	Source string `json:"source"`
}

// accept fills in what is said of a scenario without faults.
func (v *verdict) accept(sc *scenarios.Scenario, cases []scenarios.CaseScenario) {
	for _, k := range cases {
		v.Cases = append(v.Cases, k.Name)
	}
	for _, d := range sc.Defaults() {
		v.Defaults = append(v.Defaults, defaultRecord{d.Path, d.Text, d.Source})
	}
}

// writeText writes the verdict for people.
func (v *verdict) writeText(w io.Writer, _ *screen) error {
	hint := " (--defaults lists them)"
	if v.withDefaults {
		hint = ":"
	}
	var b strings.Builder
	for _, f := range v.Faults {
		fmt.Fprintln(&b, f.text)
	}
	if len(v.Faults) == 0 {
		fmt.Fprintf(&b, "%s has no faults; %s: %s; %s%s\n", v.file, counted(len(v.Cases), "case"),
			strings.Join(v.Cases, ", "), counted(len(v.Defaults), "value")+" by default", hint)
		if v.withDefaults {
			v.listDefaults(&b)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// writeJSON writes the verdict as one JSON object.
func (v *verdict) writeJSON(w io.Writer) error { return writeIndented(w, v) }

// writeCSV writes the faults, or the defaults when they are asked for, as a table.
func (v *verdict) writeCSV(w io.Writer) error { return csv.NewWriter(w).WriteAll(v.rows()) }

// listDefaults prints the defaults, each with its source.
func (v *verdict) listDefaults(w io.Writer) {
	for _, d := range v.Defaults {
		source := ""
		if d.Source != "" {
			source = " (" + d.Source + ")"
		}
		fmt.Fprintf(w, "  %s: %s%s\n", d.Path, d.Value, source)
	}
}

// rows are the faults, or the defaults when they are asked for, as a table.
func (v *verdict) rows() [][]string {
	if v.withDefaults && len(v.Faults) == 0 {
		rows := [][]string{{"path", "value", "source"}}
		for _, d := range v.Defaults {
			rows = append(rows, []string{d.Path, d.Value, d.Source})
		}
		return rows
	}
	rows := [][]string{{"file", "line", "column", "path", "message", "hint"}}
	for _, f := range v.Faults {
		rows = append(rows, []string{f.File, strconv.Itoa(f.Line), strconv.Itoa(f.Column), f.Path, f.Message, f.Hint})
	}
	return rows
}
