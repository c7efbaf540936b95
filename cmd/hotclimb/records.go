package main

import (
	"context"
	"maps"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// recordFlags are the flags of the commands on flight records.
type recordFlags struct {
	tests   []string
	logs    []string
	columns []string
	decimal choice
}

// add adds them to a command.
func (f *recordFlags) add(cmd *cobra.Command) {
	s := cmd.Flags()
	s.StringArrayVar(&f.tests, "test", nil, "only the flight record of this `NAME` (repeatable)")
	s.StringArrayVar(&f.logs, "log", nil, "a log that the scenario does not have, in the CSV `FILE` (repeatable)")
	s.StringArrayVar(&f.columns, "columns", nil, "what a column of a log holds, as `QUANTITY=HEADER [UNIT]` (repeatable)")
	f.decimal = choice{"", []string{"point", "comma"}}
	s.Var(&f.decimal, "decimal", "numbers in logs have a decimal `SIGN`: point or comma")
}

// recordSet are flight records, read, and the scenario that they belong to.
type recordSet struct {
	scenario *scenarios.Scenario // as it was run, for originOf and asRun
	cases    []scenarios.CaseScenario
	records  []*calibrate.Record // those asked for, in the order of the file
}

// records reads a scenario and flight records of it: those that the flags name,
// or all of the file. What is wrong with any of them is in the error.
func (c *common) records(ctx context.Context, file string, f *recordFlags) (*recordSet, error) {
	columns, err := f.columnMap()
	if err != nil {
		return nil, err
	}
	settings, err := c.settings()
	if err != nil {
		return nil, err
	}
	sc, cases, err := c.load(file)
	if err != nil {
		return nil, err
	}
	tests, err := f.choose(sc, file, columns)
	if err != nil {
		return nil, err
	}
	r := &logReader{ctx: ctx, scenario: sc, settings: settings, decimal: f.sign()}
	set := &recordSet{scenario: sc, cases: cases}
	for _, t := range tests {
		if record := r.record(t); record != nil {
			set.records = append(set.records, record)
		}
	}
	if err := r.err(); err != nil {
		return nil, err
	}
	set.scenario, err = withTests(sc, tests, settings)
	return set, err
}

// choose are the tests that are read: those of --test and those of --log, or all
// that the file has. Logs of --log, and of tests whose columns the file does not
// say, have the columns of --columns.
func (f *recordFlags) choose(sc *scenarios.Scenario, file string, columns calibrate.ColumnMap) ([]*scenarios.Test, error) {
	for _, name := range f.tests {
		if known := sc.TestNames(); !slices.Contains(known, name) {
			if len(known) == 0 {
				return nil, badInputf("--test %s: %s has no flight records; give --log, or add a section tests", name, file)
			}
			return nil, badInputf("--test %s: there is no such flight record (%s)", name, didYouMean(name, known))
		}
	}
	tests := slices.DeleteFunc(slices.Clone(sc.Tests), func(t *scenarios.Test) bool {
		return len(f.tests)+len(f.logs) > 0 && !slices.Contains(f.tests, t.Name)
	})
	added, err := f.added(sc)
	if err != nil {
		return nil, err
	}
	tests = append(tests, added...)
	if len(tests) == 0 {
		return nil, badInputf("%s has no flight records; give --log, or add a section tests", file)
	}
	unused := len(columns) > 0
	for i, t := range tests {
		if t.Log != "" && len(calibrate.ColumnsOf(t.Columns)) == 0 {
			own := *t
			own.Columns = columns.Texts()
			tests[i], unused = &own, false
		}
	}
	if unused {
		return nil, badInputf("--columns: the scenario says what the columns of every log hold; correct it there")
	}
	return tests, nil
}

// added are the tests of --log, by the names of their files.
func (f *recordFlags) added(sc *scenarios.Scenario) ([]*scenarios.Test, error) {
	var tests []*scenarios.Test
	taken := sc.TestNames()
	for _, log := range f.logs {
		if log == "" {
			return nil, badInputf("--log: name a CSV file")
		}
		t := &scenarios.Test{Name: recordName(log), Log: log}
		if slices.Contains(taken, t.Name) {
			return nil, badInputf("--log %s: there is a flight record called %s already; give the file another name", log, t.Name)
		}
		taken = append(taken, t.Name)
		tests = append(tests, t)
	}
	return tests, nil
}

// recordName is the name of a file without its end, made one that tests may have.
func recordName(path string) string {
	base := filepath.Base(path)
	base = strings.ToLower(strings.TrimSuffix(base, filepath.Ext(base)))
	name := strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		return '_'
	}, base)
	if name == "" || name[0] < 'a' {
		name = "log_" + strings.TrimLeft(name, "_")
	}
	return name
}

// columnMap reads --columns.
func (f *recordFlags) columnMap() (calibrate.ColumnMap, error) {
	m := calibrate.ColumnMap{}
	for _, text := range f.columns {
		key, column, ok := strings.Cut(text, "=")
		q := calibrate.Quantity(strings.TrimSpace(key))
		switch _, twice := m[q]; {
		case !ok || strings.TrimSpace(column) == "":
			return nil, badInputf("--columns %q: write QUANTITY=HEADER [UNIT], as in \"coolant=CLT [degF]\"", text)
		case q.Dimension() == nil:
			var known []string
			for _, k := range calibrate.Quantities() {
				known = append(known, string(k))
			}
			return nil, badInputf("--columns %q: %s is no quantity of a record (%s)", text, q, didYouMean(string(q), known))
		case twice:
			return nil, badInputf("--columns %q: %s is given twice", text, q)
		}
		m[q] = calibrate.ParseColumn(column)
	}
	return m, nil
}

// sign is the decimal sign of --decimal, 0 when it is not given.
func (f *recordFlags) sign() rune {
	return map[string]rune{"point": '.', "comma": ','}[f.decimal.word]
}

// withTests is the scenario as it was run on some tests: what --set changed is
// written into these, where the next run finds it, and those of --log are added.
func withTests(sc *scenarios.Scenario, tests []*scenarios.Test, settings []scenarios.Setting) (*scenarios.Scenario, error) {
	c := sc.Clone()
	aircraft, err := sc.AsFlown(&scenarios.Test{}, nil)
	if err != nil {
		return nil, badInput{err}
	}
	for _, t := range tests {
		own := *t
		own.Set = map[string]string{}
		for _, s := range settings {
			if _, err := aircraft.Compile(s.Path); err == nil {
				own.Set[s.Path] = s.Text
			}
		}
		maps.Copy(own.Set, t.Set)
		if len(own.Set) == 0 {
			own.Set = nil
		}
		if i := slices.Index(sc.TestNames(), t.Name); i >= 0 {
			c.Tests[i] = &own
		} else {
			c.Tests = append(c.Tests, &own)
		}
	}
	return c, nil
}
