package main

import (
	"context"

	"hotclimb/plots/report"
	"hotclimb/sweep"
	"hotclimb/sweep/optimum"
)

// finding is a study of a scenario that is prepared, and what it says as blocks
// of a report.
type finding interface {
	flights() int // about how many steps it takes
	find(ctx context.Context, step func()) error
	blocks() ([]report.Block, error)
	sprays() bool // water is sprayed, or suggested
}

// drawings are charts as blocks.
func drawings(charts []drawn) []report.Block {
	var list []report.Block
	for _, c := range charts {
		list = append(list, report.Drawing(c.Figure))
	}
	return list
}

// rankFinding is what changes are worth.
type rankFinding struct {
	of    *ranking
	asked sweep.Ranking
}

func newRankFinding(c *common, file string) (*rankFinding, error) {
	f := &rankFinding{asked: sweep.Ranking{Pairs: pairedChanges, Tenths: true}}
	var err error
	f.of, err = c.prepareRank(file, &f.asked)
	return f, err
}

func (f *rankFinding) flights() int { return f.asked.Steps() }
func (f *rankFinding) sprays() bool { return f.of.spray() }

func (f *rankFinding) find(ctx context.Context, step func()) (err error) {
	f.of.Ranked, err = sweep.Rank(ctx, f.asked, step)
	return err
}

func (f *rankFinding) blocks() ([]report.Block, error) {
	charts, err := f.of.charts()
	if err != nil {
		return nil, err
	}
	p := &rankPage{tellingPage(f.of.units), f.of}
	p.verdict()
	for _, c := range charts {
		if c.name == rankChanges {
			p.told.add(report.Drawing(c.Figure))
		}
	}
	p.asItIs()
	p.changes()
	p.pairs()
	for _, c := range charts {
		if c.name == rankTenths {
			p.told.add(report.Drawing(c.Figure))
		}
	}
	p.tenths()
	return p.page.blocks(), nil
}

// sizeFinding is the openings to build.
type sizeFinding struct{ of *sized }

func newSizeFinding(c *common, file string) (*sizeFinding, error) {
	z, err := new(sizeFlags).prepare(file, c)
	return &sizeFinding{z}, err
}

func (f *sizeFinding) flights() int { return f.of.flightsExpected() }
func (f *sizeFinding) sprays() bool { return f.of.sprays() }

func (f *sizeFinding) find(ctx context.Context, step func()) error {
	f.of.Flown = step
	return f.of.find(ctx, true, true)
}

func (f *sizeFinding) blocks() ([]report.Block, error) {
	charts, err := f.of.charts()
	if err != nil {
		return nil, err
	}
	p := &sizePage{tellingPage(f.of.units), f.of}
	p.answers()
	for _, name := range sizeCharts {
		if figure := charts[name]; figure != nil {
			p.told.add(report.Drawing(figure))
		}
	}
	p.front()
	p.searched()
	return p.page.blocks(), nil
}

// limitsFinding is what the pilot must know of the climb.
type limitsFinding struct {
	of    *limitsOutcome
	study *optimum.LimitStudy
	flags *limitsFlags
}

func newLimitsFinding(c *common, file string) (*limitsFinding, error) {
	f := &limitsFinding{flags: &limitsFlags{common: *c}}
	var err error
	f.of, f.study, err = f.flags.prepareLimits(file)
	return f, err
}

func (f *limitsFinding) flights() int { return f.study.Parts() }
func (f *limitsFinding) sprays() bool { return f.of.table.Spray != nil }

func (f *limitsFinding) find(ctx context.Context, step func()) (err error) {
	f.study.Done = step
	if f.of.table, err = optimum.Limits(ctx, *f.study); err != nil {
		return err
	}
	return f.of.draw(ctx, f.flags)
}

func (f *limitsFinding) warnings() []warning {
	var list []warning
	for _, text := range f.of.table.Filed.Warnings {
		list = append(list, warning{f.of.table.Case, text})
	}
	return list
}

func (f *limitsFinding) blocks() ([]report.Block, error) {
	card, err := f.of.card()
	if err != nil {
		return nil, err
	}
	p := tellingPage(f.of.units)
	p.climbLimits(f.of)
	p.told.add(report.Drawing(card))
	p.unlimitedMeans()
	return p.blocks(), nil
}
