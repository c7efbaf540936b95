package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
)

func (p *program) checkCommand() *cobra.Command {
	var c common
	var defaults bool
	cmd := &cobra.Command{
		Use:   "check FILE",
		Short: "list every fault of a scenario, with its place and a hint",
		Long: `Reads a scenario as run does, builds every case, and lists everything that is
wrong with it, a fault a line: file:line:column: path: what is wrong (hint). The
exit status is 2 when there is any.`,
		Example: examples(
			`hotclimb check tug`,
			`hotclimb check tug --defaults`,
			`hotclimb check tug --set "day.temperature=104 degF"`,
		),
		Args: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return badInputf("%s needs a FILE or the name of a built-in scenario (%s)",
					cmd.CommandPath(), strings.Join(scenarios.BuiltinNames(), ", "))
			}
			return atMost(1)(cmd, args)
		},
		RunE: func(_ *cobra.Command, args []string) error { return p.check(args[0], &c, defaults) },
	}
	c.scenarioFlags(cmd)
	cmd.Flags().BoolVar(&defaults, "defaults", false, "also list the values that are defaults, and their sources")
	return cmd
}

// check lists the faults of a scenario, or says that it has none.
func (p *program) check(file string, c *common, withDefaults bool) error {
	sc, cases, err := c.load(file)
	if err == nil {
		_, err = build(cases)
	}
	var faults scenarios.Faults
	if err != nil && !errors.As(err, &faults) {
		return err
	}
	v := verdict{Faults: []faultRecord{}, Cases: []string{}, withDefaults: withDefaults}
	for _, f := range faults {
		v.Faults = append(v.Faults, faultRecord{f.File, f.Line, f.Column, f.Path, f.Message, f.Hint, f.Error()})
	}
	if err == nil {
		if err := v.accept(sc, cases, c); err != nil {
			return err
		}
	}
	if err := v.write(p.out, c.format.word, file); err != nil {
		return fmt.Errorf("cannot write the result: %w", reason(err))
	}
	if len(faults) > 0 {
		return badInputf("%s: %s", file, counted(len(faults), "fault"))
	}
	return nil
}

// verdict is the result of check.
type verdict struct {
	Faults   []faultRecord   `json:"faults"`
	Cases    []string        `json:"cases"`
	Defaults []defaultRecord `json:"defaults"`

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
func (v *verdict) accept(sc *scenarios.Scenario, cases []scenarios.CaseScenario, c *common) error {
	settings, err := c.settings()
	if err != nil {
		return err
	}
	if sc, err = asRun(sc, cases, settings); err != nil {
		return err
	}
	for _, k := range cases {
		v.Cases = append(v.Cases, k.Name)
	}
	v.Defaults = []defaultRecord{}
	for _, d := range sc.Defaults() {
		v.Defaults = append(v.Defaults, defaultRecord{d.Path, d.Text, d.Source})
	}
	return nil
}

// write writes the verdict in a format.
func (v *verdict) write(w io.Writer, format, file string) error {
	switch {
	case format == "json":
		text, err := indented(v)
		if err == nil {
			_, err = w.Write(text)
		}
		return err
	case format == "csv":
		return csv.NewWriter(w).WriteAll(v.rows())
	}
	var b strings.Builder
	for _, f := range v.Faults {
		fmt.Fprintln(&b, f.text)
	}
	if len(v.Faults) == 0 {
		fmt.Fprintf(&b, "%s has no faults: %s (%s), %s not given and defaults.\n", file,
			counted(len(v.Cases), "case"), strings.Join(v.Cases, ", "), counted(len(v.Defaults), "value"))
		if v.withDefaults {
			v.listDefaults(&b)
		}
	}
	_, err := io.WriteString(w, b.String())
	return err
}

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
