package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
	"hotclimb/plots"
	"hotclimb/sim"
)

// table adds a table without borders. The first columns hold words and stand
// left, the others numbers and stand right.
func (p *page) table(words int, header table.Row, rows []table.Row) {
	if p.told != nil {
		p.told.table(words, header, rows)
		return
	}
	t := table.NewWriter()
	t.SetStyle(table.Style{
		Box:    table.BoxStyle{PaddingLeft: "  "},
		Format: table.FormatOptions{Header: text.FormatDefault},
	})
	t.AppendHeader(header)
	t.AppendRows(rows)
	configs := make([]table.ColumnConfig, len(header))
	for i := range configs {
		configs[i] = table.ColumnConfig{Number: i + 1, Align: text.AlignRight, AlignHeader: text.AlignRight}
		if i < words {
			configs[i] = table.ColumnConfig{Number: i + 1, Align: text.AlignLeft, AlignHeader: text.AlignLeft}
		}
	}
	t.SetColumnConfigs(configs)
	for line := range strings.Lines(t.Render()) {
		p.line("%s", strings.TrimRight(line, " \n"))
	}
}

// peaks adds the table of both temperatures.
func (p *page) peaks(r *sim.Result) {
	t, d := temperature.In(p.units), difference.In(p.units)
	var rows []table.Row
	for _, k := range r.Peaks {
		toLimit := "not reached"
		if k.Exceeded {
			toLimit = plots.Clock(k.TimeToLimit)
		}
		margin := d.Number(k.Margin)
		if k.Exceeded {
			margin = p.paint(red, margin)
		}
		rows = append(rows, table.Row{
			channelName(k.Channel), t.Number(k.Value), plots.Clock(k.Time), height.In(p.units).Number(k.Altitude),
			t.Number(k.Caution), t.Number(k.Limit), margin, toLimit,
		})
	}
	p.titled("Both temperatures at their sensors")
	p.table(1, table.Row{
		"", "peak " + t.Name, "at min:s", "at " + height.In(p.units).Name,
		"caution", "limit", "margin " + d.Name, "limit after",
	}, rows)
}

// channelName is the name of a channel in words.
func channelName(channel string) string { return strings.ReplaceAll(channel, "_", " ") }

// exchangers adds the table of what every exchanger does at the least margin.
func (p *page) exchangers(f *flown) {
	air, q := airFlow.In(p.units), heat.In(p.units)
	var rows []table.Row
	for _, x := range f.result.Exchangers {
		direction, flow := "", air.Number(x.AirFlow)
		if x.Reversed {
			direction = p.paint(red, "reversed")
		}
		if f.inCoolant(x.Name) {
			flow = "-"
		}
		rows = append(rows, table.Row{x.Name, x.Serves, flow, q.Number(x.Heat), direction})
	}
	p.titled("What every exchanger does at the least margin")
	p.table(2, table.Row{"at least margin", "serves", "air " + air.Name, "heat " + q.Name, ""}, rows)
}

// inCoolant says that an exchanger is a plate exchanger, without air.
func (f *flown) inCoolant(name string) bool {
	return slices.ContainsFunc(f.plant.Exchangers, func(x sim.Exchanger) bool { return x.Name == name && x.Branch == sim.NoBranch })
}

// mostEvents is how many kinds of event are listed.
const mostEvents = 12

// events adds what happened, each kind of event once, at its first time.
func (p *page) events(events []sim.Event) {
	if len(events) == 0 {
		return
	}
	count := map[string]int{}
	last := map[string]float64{}
	var first []sim.Event
	for _, e := range events {
		key := e.Leg + "\x00" + e.What
		if count[key] == 0 {
			first = append(first, e)
		}
		count[key]++
		last[key] = e.Time
	}
	p.line("")
	p.line("  Events:")
	for i, e := range first {
		if i == mostEvents {
			p.item("%6s  %s", "", counted(len(first)-mostEvents, "other"))
			return
		}
		what, key := e.What, e.Leg+"\x00"+e.What
		if n := count[key]; n > 1 {
			what += fmt.Sprintf(" (%d times, to %s)", n, plots.Clock(last[key]))
		}
		p.item("%6s  %8s  %s: %s", plots.Clock(e.Time), height.Show(p.units, e.Altitude), e.Leg, what)
	}
}
