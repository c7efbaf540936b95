package main

import (
	"context"

	"hotclimb/plots/report"
	"hotclimb/sweep"
)

// sweepFinding is what the section sweep of a scenario comes to.
type sweepFinding struct {
	of    *swept
	rows  *tally
	cuts  *cutter // nil when there is nothing to draw
	order sweep.InOrder
}

func newSweepFinding(c *common, file string) (*sweepFinding, error) {
	s, err := (&sweepFlags{common: *c}).prepare(file)
	if err != nil {
		return nil, err
	}
	f := &sweepFinding{of: s, rows: newTally(s), cuts: s.cutter()}
	f.order.Pass = f.take
	return f, nil
}

func (f *sweepFinding) flights() int { return f.of.manifest.Len() }
func (f *sweepFinding) sprays() bool { return f.rows.sprayed }

func (f *sweepFinding) take(cells []string) error {
	if f.cuts != nil {
		if err := f.cuts.take(cells); err != nil {
			return err
		}
	}
	return f.rows.take(cells)
}

func (f *sweepFinding) find(ctx context.Context, step func()) error {
	columns := f.of.study.Columns()
	return f.of.study.Run(ctx, f.of.plan, func(r *sweep.Row) error {
		step()
		return f.order.Add(r.Index, sweep.Cells(columns, r))
	})
}

func (f *sweepFinding) blocks() ([]report.Block, error) {
	p := tellingPage(f.of.units)
	p.swept(f.rows)
	if f.cuts != nil {
		charts, err := f.of.charts(f.cuts)
		if err != nil {
			return nil, err
		}
		for _, b := range drawings(charts) {
			p.told.add(b)
		}
	}
	p.sweptTables(f.rows)
	return p.blocks(), nil
}
