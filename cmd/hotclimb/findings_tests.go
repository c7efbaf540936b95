package main

import (
	"context"
	"fmt"

	"hotclimb/plots/report"
	"hotclimb/sweep/calibrate"
)

// correctFinding is what test flights come to on a hot day.
type correctFinding struct {
	of    *correction
	asked *calibrate.CorrectSettings
}

func newCorrectFinding(ctx context.Context, c *common, file string) (*correctFinding, error) {
	flags := &correctFlags{common: *c, rule: choice{word: usualRule}, draws: calibrate.DefaultDraws}
	asked, err := flags.settingsOf()
	if err != nil {
		return nil, err
	}
	set, err := c.records(ctx, file, &flags.recordFlags)
	if err != nil {
		return nil, err
	}
	return &correctFinding{&correction{origin: originOf(set.scenario, set.cases), set: set, rule: asked.Rule}, asked}, nil
}

func (f *correctFinding) warnings() []warning { return f.of.set.warnings() }

func (f *correctFinding) flights() int { return len(f.of.set.records) * f.asked.Parts() }

func (f *correctFinding) sprays() bool {
	for _, c := range f.of.records {
		if sprayed(c) {
			return true
		}
	}
	return false
}

func (f *correctFinding) find(ctx context.Context, step func()) error {
	f.asked.Done = step
	return f.of.find(ctx, f.asked)
}

func (f *correctFinding) blocks() ([]report.Block, error) {
	figure, err := f.of.chart()
	if err != nil {
		return nil, err
	}
	p := tellingPage(f.of.units)
	p.told.add(report.Drawing(figure))
	for _, c := range f.of.records {
		p.corrected(c)
	}
	p.hotDayMeans(f.of.rule)
	return p.blocks(), nil
}

// compareFinding is whether what was changed between test flights made a
// difference.
type compareFinding struct {
	of    *comparison
	asked *calibrate.CompareSettings
}

func newCompareFinding(ctx context.Context, c *common, file string) (*compareFinding, error) {
	flags := &compareFlags{common: *c, level: usualLevel}
	asked, err := flags.settingsOf()
	if err != nil {
		return nil, err
	}
	set, err := c.records(ctx, file, &flags.recordFlags)
	if err != nil {
		return nil, err
	}
	list, err := flags.configurations(set)
	if err != nil {
		return nil, err
	}
	return &compareFinding{set.comparison(list), asked}, nil
}

func (f *compareFinding) flights() int { return f.of.parts() }
func (f *compareFinding) sprays() bool { return false }

func (f *compareFinding) find(ctx context.Context, step func()) (err error) {
	f.asked.Done = step
	f.of.Comparison, err = calibrate.Compare(ctx, f.of.list, *f.asked)
	return err
}

func (f *compareFinding) blocks() ([]report.Block, error) {
	figure, err := f.of.chart()
	if err != nil {
		return nil, fmt.Errorf("the chart cannot be drawn: %w", err)
	}
	p := &comparePage{tellingPage(f.of.units), f.of}
	p.answers()
	p.told.add(report.Drawing(figure))
	p.brought()
	p.foundations()
	return p.page.blocks(), nil
}

// fitFinding is what test flights teach about doubtful numbers.
type fitFinding struct {
	of      *fitted
	asked   *calibrate.Calibration
	workers int
}

func newFitFinding(ctx context.Context, c *common, file string) (*fitFinding, error) {
	z, asked, err := new(fitFlags).prepare(ctx, file, c)
	return &fitFinding{z, asked, c.workers}, err
}

func (f *fitFinding) flights() int { return flightsOfFit(f.asked) }
func (f *fitFinding) sprays() bool { return false }

func (f *fitFinding) warnings() []warning { return f.of.warnings() }

func (f *fitFinding) find(ctx context.Context, step func()) (err error) {
	f.asked.Flown = step
	if f.of.Calibrated, err = f.asked.Find(ctx); err == nil {
		err = f.of.advise(ctx, f.workers)
	}
	return asInput(ctx, err)
}

func (f *fitFinding) blocks() ([]report.Block, error) {
	charts, err := f.of.charts()
	if err != nil {
		return nil, err
	}
	p := &fitPage{tellingPage(f.of.units), f.of}
	p.told.blocks = drawings(charts)
	p.numbers()
	p.moved()
	p.together()
	p.blind()
	p.residuals()
	p.hazards()
	return p.page.blocks(), nil
}
