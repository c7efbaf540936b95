package main

import (
	"fmt"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/jedib0t/go-pretty/v6/text"
	"hotclimb/sim"
)

// table adds a table without borders. The first columns hold words and stand
// left, the others numbers and stand right.
func (p *page) table(words int, header table.Row, rows []table.Row) {
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
	t, d := temperature.in(p.units), difference.in(p.units)
	var rows []table.Row
	for _, k := range r.Peaks {
		toLimit := "not reached"
		if k.Exceeded {
			toLimit = clock(k.TimeToLimit)
		}
		margin := d.number(k.Margin)
		if k.Exceeded {
			margin = p.paint(red, margin)
		}
		rows = append(rows, table.Row{
			channelName(k.Channel), t.number(k.Value), clock(k.Time), height.in(p.units).number(k.Altitude),
			t.number(k.Caution), t.number(k.Limit), margin, toLimit,
		})
	}
	p.table(1, table.Row{
		"", "peak " + t.name, "at min:s", "at " + height.in(p.units).name,
		"caution", "limit", "margin " + d.name, "limit after",
	}, rows)
}

// channelName is the name of a channel in words.
func channelName(channel string) string { return strings.ReplaceAll(channel, "_", " ") }

// exchangers adds the table of what every exchanger does at the least margin.
func (p *page) exchangers(f *flown) {
	air, q := airFlow.in(p.units), heat.in(p.units)
	var rows []table.Row
	for _, x := range f.result.Exchangers {
		direction, flow := "", air.number(x.AirFlow)
		if x.Reversed {
			direction = p.paint(red, "reversed")
		}
		if f.inCoolant(x.Name) {
			flow = "-"
		}
		rows = append(rows, table.Row{x.Name, x.Serves, flow, q.number(x.Heat), direction})
	}
	p.table(2, table.Row{"at least margin", "serves", "air " + air.name, "heat " + q.name, ""}, rows)
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
			p.line("  %6s  %s", "", counted(len(first)-mostEvents, "other"))
			return
		}
		what, key := e.What, e.Leg+"\x00"+e.What
		if n := count[key]; n > 1 {
			what += fmt.Sprintf(" (%d times, to %s)", n, clock(last[key]))
		}
		p.line("  %6s  %8s  %s: %s", clock(e.Time), height.show(p.units, e.Altitude), e.Leg, what)
	}
}
