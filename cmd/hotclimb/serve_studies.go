package main

import (
	"context"
	"sync/atomic"

	"hotclimb/plots/bench"
	"hotclimb/plots/report"
	"hotclimb/scenarios"
)

// studies are those of a scenario that the served page can start. What each says
// is what the section of it in a report says.
func (p *program) studies(sc *scenarios.Scenario, file string, workers int) []bench.Study {
	of := func(job bench.Job) *common {
		return &common{inHand: job.Scenario, workers: workers, seed: usualSeed}
	}
	shows := func(prepare func(*common, string) (finding, error)) func(context.Context, bench.Job) error {
		return func(ctx context.Context, job bench.Job) error {
			f, err := prepare(of(job), file)
			return runStudy(ctx, job, f, err)
		}
	}
	return []bench.Study{{
		Name: "rank", Label: "Which change buys most",
		About: "Flies every change that the scenario lists, pairs of the best, and every number that a builder makes a tenth up and down.",
		Run:   shows(func(c *common, file string) (finding, error) { return newRankFinding(c, file) }),
	}, {
		Name: "size", Label: "How large the openings must be",
		About:   "Finds the smallest openings that keep both temperatures within limits in every case.",
		Missing: noSection(sc.Size == nil, "size", "there is nothing to size"),
		Run:     shows(func(c *common, file string) (finding, error) { return newSizeFinding(c, file) }),
	}, {
		Name: "limits", Label: "What the pilot must know",
		About:   "Finds how hot a day the climb stands, how slow and how long, as a card.",
		Missing: noClimb(sc),
		Run:     shows(func(c *common, file string) (finding, error) { return newLimitsFinding(c, file) }),
	}, {
		Name: "sweep", Label: "Over ranges of numbers",
		About:   "Flies the ranges that the section sweep of the scenario gives.",
		Missing: noSection(sc.Sweep == nil, "sweep", "nothing says what to vary"),
		Run:     shows(func(c *common, file string) (finding, error) { return newSweepFinding(c, file) }),
	}, {
		Name: "report", Label: "Report to print", File: reportName,
		About: "Does all studies of the scenario and puts them on one page to keep and to print.",
		Run: func(ctx context.Context, job bench.Job) error {
			return writeJob(ctx, job, file, of(job))
		},
	}}
}

// noClimb says why there are no limits of a climb, "" when there can be.
func noClimb(sc *scenarios.Scenario) string {
	cases, err := sc.EffectiveCases(nil, nil)
	if err == nil {
		_, _, err = climbCase(cases)
	}
	if err != nil {
		return oneLine(err)
	}
	return ""
}

// runStudy does a study that is prepared, and writes what it says with its
// cautions.
func runStudy(ctx context.Context, job bench.Job, f finding, err error) error {
	if err != nil {
		return err
	}
	if err := f.find(ctx, stepsOf(job, f.flights())); err != nil {
		return err
	}
	blocks, err := f.blocks()
	if err != nil {
		return err
	}
	if list := told(warningsOf(f)); len(list) > 0 {
		blocks = append(blocks, report.Heading("Warnings"), report.List(list...))
	}
	blocks = append(blocks, report.Heading("Cautions"), report.List(cautionsFor(f.sprays(), false)...))
	return report.WriteBlocks(job.Out, blocks...)
}

// stepsOf counts steps for the progress of a job.
func stepsOf(job bench.Job, total int) func() {
	var done atomic.Int64
	return func() { job.Progress(min(int(done.Add(1)), total), total) }
}

// writeJob writes the report on the scenario of a job.
func writeJob(ctx context.Context, job bench.Job, file string, c *common) error {
	r, err := (&reportFlags{common: *c}).prepareReport(ctx, file)
	if err != nil {
		return err
	}
	if err := r.find(ctx, stepsOf(job, r.steps())); err != nil {
		return err
	}
	page, err := r.page()
	if err != nil {
		return err
	}
	return page.WriteHTML(job.Out)
}
