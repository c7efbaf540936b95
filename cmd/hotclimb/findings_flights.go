package main

import (
	"context"
	"slices"
	"strings"

	"hotclimb/plots"
	"hotclimb/plots/report"
	"hotclimb/sim"
)

// flightsFinding is what the cases do, flown as they are.
type flightsFinding struct {
	of      *outcome
	workers int
}

func newFlightsFinding(c *common, file string) (*flightsFinding, error) {
	o, err := c.prepare(file)
	return &flightsFinding{o, c.workers}, err
}

func (f *flightsFinding) flights() int { return len(f.of.flights()) }

func (f *flightsFinding) sprays() bool {
	return slices.ContainsFunc(f.of.cases, (*flown).sprays)
}

// sprays says that the plant sprays water.
func (f *flown) sprays() bool { return f.plant.Spray != nil && f.plant.Spray.Rate > 0 }

func (f *flightsFinding) find(ctx context.Context, step func()) error {
	fly(ctx, f.of.flights(), f.workers, step)
	if err := ctx.Err(); err != nil {
		return err
	}
	return f.of.finish()
}

// blocks are the histories of the cases, each with its numbers.
func (f *flightsFinding) blocks() ([]report.Block, error) {
	p := tellingPage(f.of.units)
	for _, k := range f.of.cases {
		figure, err := f.of.history(k)
		if err != nil {
			return nil, err
		}
		p.heading(k)
		p.told.add(report.One(figure))
		p.flownNumbers(k)
	}
	return p.blocks(), nil
}

// cases is the table of all cases.
func (f *flightsFinding) cases() report.Block {
	u := f.of.units
	t, d := temperature.In(u), difference.In(u)
	n := plots.Table{
		Caption: "Peaks and margins of every case", Words: 3,
		Header: []string{"case", "what is flown", "how it goes", "coolant peak " + t.Name, "coolant margin " + d.Name, "oil peak " + t.Name, "oil margin " + d.Name, "limit after min:s"},
	}
	for _, k := range f.of.cases {
		row := []string{k.name, k.title, statusWord(k.result)}
		for _, peak := range k.result.Peaks {
			row = append(row, t.Number(peak.Value), d.Number(peak.Margin))
		}
		n.Rows = append(n.Rows, append(row, limitAfter(k.result)))
	}
	return report.Numbers(n)
}

// statusWord is how a case went.
func statusWord(r *sim.Result) string {
	if r.Incomplete != "" {
		return string(r.Status) + ", incomplete"
	}
	return string(r.Status)
}

// limitAfter is when the first limit of a flight is passed, with its circuit.
func limitAfter(r *sim.Result) string {
	if k := firstLimit(r); k != nil {
		return plots.Clock(k.TimeToLimit)
	}
	return "not reached"
}

// firstLimit is the temperature that passes its limit first, nil for none.
func firstLimit(r *sim.Result) *sim.Peak {
	var first *sim.Peak
	for i := range r.Peaks {
		if k := &r.Peaks[i]; k.Exceeded && (first == nil || k.TimeToLimit < first.TimeToLimit) {
			first = k
		}
	}
	return first
}

// leastPeak is the temperature with the least margin.
func leastPeak(r *sim.Result) *sim.Peak {
	least := &r.Peaks[0]
	for i := range r.Peaks {
		if k := &r.Peaks[i]; k.Margin < least.Margin {
			least = k
		}
	}
	return least
}

// circuitOf is the circuit of a peak: coolant or oil.
func circuitOf(k *sim.Peak) string {
	circuit, _, _ := strings.Cut(k.Channel, "_")
	return circuit
}

// worst is the case with the least margin.
func (f *flightsFinding) worst() *flown {
	return slices.MinFunc(f.of.cases, func(a, b *flown) int {
		switch x, y := leastPeak(a.result).Margin, leastPeak(b.result).Margin; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
}

// cowls draws where air and heat go in each case at its least margin.
func (f *flightsFinding) cowls() ([]report.Block, error) {
	var list []report.Block
	for _, k := range f.of.cases {
		figure, err := f.of.cowl(k)
		if err != nil {
			return nil, err
		}
		list = append(list, report.Heading(k.name+", "+plots.Clock(k.result.Worst.Time)+" into the flight"), report.Drawing(figure))
	}
	return list, nil
}
