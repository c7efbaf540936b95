package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"
)

// reportFlags are the flags of report.
type reportFlags struct {
	common
	without []string
}

func (p *program) reportCommand() *cobra.Command {
	var f reportFlags
	cmd := &cobra.Command{
		Use:   "report [FILE]",
		Short: "write one page to print: the answer, the charts and all the numbers",
		Long: `Runs all studies of a scenario and writes what they found as one HTML file, to be
read in any browser without a network and to be printed: whether the flights keep
their limits and what cures them the cheapest way, both temperatures over time,
where the air and the heat go, what every change is worth, how large the openings
must be, the pilot's card, what test flights showed, and all inputs with their
doubts. Its numbers are those of run, rank, size --trade, limits, correct, compare
and fit with the same flags.

The file is called after the scenario, as ` + demo + reportEnd + `, and lies where the program
runs; an earlier report of that name is overwritten. --out writes it as ` + reportName + `
into a folder, with the scenario as it was run. What a scenario has no section for
is said in the report, and so is a part that fails. --without WORD leaves a part
out: ` + orList(partWords) + `.

The exit status is that of run: 3 when a limit is exceeded.`,
		Example: examples(
			`hotclimb report tug --case cruise --without rank --without size`,
			`hotclimb report seaplane --case hot_climb --without rank --without size --without limits --out seaplane_told`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.report(cmd.Context(), file(args, demo), &f)
		},
	}
	f.changeFlags(cmd)
	f.caseFlag(cmd)
	cmd.Flags().StringArrayVar(&f.without, "without", nil, "leave out the part of this `WORD`: "+orList(partWords)+" (repeatable)")
	f.studyFlags(cmd)
	cmd.Flags().Lookup("out").Usage = "write " + reportName + ", with the scenario, into the folder `DIR`"
	return cmd
}

// check tells values of flags that no flag reader refuses.
func (f *reportFlags) check() error {
	for _, word := range f.without {
		if !slices.Contains(partWords, word) {
			return badInputf("--without %q: must be %s", word, orList(partWords))
		}
	}
	return f.common.check()
}

// Names of reports: in the folder of --out, and behind that of the scenario
// elsewhere.
const (
	reportName = "report.html"
	reportEnd  = "_report.html"
)

// path is the file of the report on a scenario.
func (f *reportFlags) path(file string) string {
	if f.out != "" {
		return filepath.Join(f.out, reportName)
	}
	base := filepath.Base(file)
	return strings.TrimSuffix(base, filepath.Ext(base)) + reportEnd
}

// report runs all studies of a scenario and writes what they found as one page.
func (p *program) report(ctx context.Context, file string, f *reportFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	r, err := f.prepareReport(ctx, file)
	if err != nil {
		return err
	}
	path := f.path(file)
	if err := mayOverwrite(path); err != nil {
		return err
	}
	if err := f.makeFolder(file); err != nil {
		return err
	}
	bar := p.progress("steps", r.steps(), f.noProgress)
	err = r.find(ctx, bar.step)
	bar.end()
	if err != nil {
		return err
	}
	return p.writeReport(r, f.out, path)
}

// writeReport writes the file of a report and says so.
func (p *program) writeReport(r *reporting, dir, path string) error {
	page, err := r.page()
	if err != nil {
		return err
	}
	p.warn(r.warnings())
	var html bytes.Buffer
	if err := page.WriteHTML(&html); err != nil {
		return err
	}
	size := html.Len()
	if dir != "" {
		if err := writeAll(dir, append(logsOf(r.flown.of.scenario), asRun(r.flown.of.scenario))); err != nil {
			return err
		}
	}
	if err := writeWhole(path, func(w io.Writer) error { _, err := html.WriteTo(w); return err }); err != nil {
		return err
	}
	if _, err := fmt.Fprintf(p.out, "%s: %.0f kB\n", path, float64(size)/1000); err != nil {
		return fmt.Errorf("cannot write the result: %w", reason(err))
	}
	return r.flown.of.verdict()
}
