package main

import (
	"cmp"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"golang.org/x/sync/errgroup"
	"hotclimb/plots"
	"hotclimb/scenarios"
)

// The scenario as it was run, in the folder of --out.
const writtenScenario = "scenario.yaml"

// makeFolder makes the folder of --out. It refuses one in which a scenario that
// is read would be overwritten.
func (c *common) makeFolder(file string) error {
	if c.out == "" {
		return nil
	}
	if err := os.MkdirAll(c.out, 0o755); err != nil {
		return fmt.Errorf("cannot make the folder %s: %w", c.out, reason(err))
	}
	written, err := os.Stat(filepath.Join(c.out, writtenScenario))
	if err != nil {
		return nil // there is nothing to overwrite
	}
	for _, source := range append([]string{file}, c.over...) {
		if read, err := os.Stat(source); err == nil && os.SameFile(read, written) {
			return badInputf("--out %s would overwrite %s; name another folder", c.out, source)
		}
	}
	return nil
}

// outFile is a file in the folder of --out and what writes it.
type outFile struct {
	name  string
	write func(io.Writer) error
}

// writeAll writes files into a folder, one after the other.
func writeAll(dir string, files []outFile) error {
	for _, f := range files {
		if err := writeWhole(filepath.Join(dir, f.name), f.write); err != nil {
			return err
		}
	}
	return nil
}

// asRun is a scenario as it was run. The logs of its flight records lie beside it;
// see logsOf.
func asRun(sc *scenarios.Scenario) outFile {
	return outFile{writtenScenario, func(w io.Writer) error { return scenarios.Write(w, withCopies(sc)) }}
}

// images are NAME.svg and NAME.png.
func images(name string, figure *plots.Figure) []outFile {
	return []outFile{{name + ".svg", figure.WriteSVG}, {name + ".png", figure.WritePNG}}
}

// drawn is a chart and what its files are called.
type drawn struct {
	name string
	*plots.Figure
}

// writeFiles writes the outcome into a folder: for each case its time history
// and its chart, the scenario as it was run, and, last, the result.
func (o *outcome) writeFiles(dir string, workers int) error {
	errs := make([]error, len(o.cases))
	var g errgroup.Group
	g.SetLimit(workers)
	for i, f := range o.cases {
		g.Go(func() error { errs[i] = o.writeCase(dir, f); return nil })
	}
	_ = g.Wait() // their errors are in errs, in the order of the cases
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	if err := o.writeSources(dir); err != nil {
		return err
	}
	return writeAll(dir, append(logsOf(o.scenario), asRun(o.scenario), outFile{"result.json", o.writeJSON}))
}

// history draws a case over time.
func (o *outcome) history(f *flown) (*plots.Figure, error) {
	figure, err := plots.History(f.result, o.units, o.caption(cmp.Or(f.title, o.scenario.Title), f.name), f.bands()...)
	if err != nil {
		return nil, fmt.Errorf("case %s: the chart cannot be drawn: %w", f.name, err)
	}
	return figure, nil
}

// cowl draws where the air and the heat of a case go at its least margin.
func (o *outcome) cowl(f *flown) (*plots.Figure, error) {
	figure, err := plots.Cowl(f.plant, f.result, o.units, o.caption("", f.name))
	if err != nil {
		return nil, fmt.Errorf("case %s: the cowl cannot be drawn: %w", f.name, err)
	}
	return figure, nil
}

// writeCase writes CASE.csv, CASE.svg, CASE.png, the same of the cowl, and, of its
// doubt, CASE.doubt.csv.
func (o *outcome) writeCase(dir string, f *flown) error {
	history, err := o.history(f)
	if err != nil {
		return err
	}
	cowl, err := o.cowl(f)
	if err != nil {
		return err
	}
	table := outFile{f.name + ".csv", func(w io.Writer) error { return plots.CSV(w, f.result.Trajectory) }}
	files := slices.Concat([]outFile{table}, images(f.name, history), images(f.name+".cowl", cowl))
	if f.spread != nil && f.spread.Bands != nil {
		files = append(files, outFile{f.name + ".doubt.csv", f.writeBands})
	}
	return writeAll(dir, files)
}
