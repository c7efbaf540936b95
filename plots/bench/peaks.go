package bench

import (
	"slices"
	"strings"

	"hotclimb/plots"
	"hotclimb/sim"
)

// notReached is what stands for the time until a limit that is not reached.
const notReached = "not reached"

// peaks is the table of both temperatures, that of the command run.
func (p *pair) peaks() Grid {
	t, d := plots.Temperature.In(p.units), plots.Warmth.In(p.units)
	g := Grid{
		Caption: "Peaks and limits",
		Header: []string{
			"", "peak " + t.Name, "at min:s", "at " + plots.Height.In(p.units).Name,
			"caution " + t.Name, "limit " + t.Name, "margin " + d.Name, "limit after",
		},
	}
	for i := range p.now.Peaks {
		of := func(f func(*sim.Peak) float64) func(*sim.Result) float64 {
			return func(r *sim.Result) float64 { return f(&r.Peaks[i]) }
		}
		margin := p.cell(plots.Warmth, of(func(k *sim.Peak) float64 { return k.Margin }))
		margin.Alarm = p.now.Peaks[i].Exceeded
		g.Rows = append(g.Rows, Row{Name: words(p.now.Peaks[i].Channel), Cells: []Cell{
			p.cell(plots.Temperature, of(func(k *sim.Peak) float64 { return k.Value })),
			p.clock(of(func(k *sim.Peak) float64 { return k.Time })),
			p.cell(plots.Height, of(func(k *sim.Peak) float64 { return k.Altitude })),
			p.cell(plots.Temperature, of(func(k *sim.Peak) float64 { return k.Caution })),
			p.cell(plots.Temperature, of(func(k *sim.Peak) float64 { return k.Limit })),
			margin,
			p.limitAfter(func(r *sim.Result) *sim.Peak { return &r.Peaks[i] }),
		}})
	}
	return g
}

// clock is a time as minutes and seconds.
func (p *pair) clock(of func(*sim.Result) float64) Cell {
	c := Cell{Text: plots.Clock(of(p.now))}
	if p.before != nil {
		c.Change = clockChange(of(p.now), of(p.before))
	}
	return c
}

// clockChange is the difference of two times as they are printed.
func clockChange(now, before float64) string {
	whole := func(t float64) int { return int(t + 0.5) }
	switch d := whole(now) - whole(before); {
	case d < 0:
		return "-" + plots.Clock(float64(-d))
	case d > 0:
		return "+" + plots.Clock(float64(d))
	}
	return "0:00"
}

// limitAfter is the time until the limit that a result has.
func (p *pair) limitAfter(of func(*sim.Result) *sim.Peak) Cell {
	now := of(p.now)
	c := Cell{Text: limitTime(now), Alarm: now.Exceeded}
	if p.before == nil {
		return c
	}
	switch before := of(p.before); {
	case now.Exceeded && before.Exceeded:
		c.Change = clockChange(now.TimeToLimit, before.TimeToLimit)
	case now.Exceeded != before.Exceeded:
		c.Change = "was " + limitTime(before)
	}
	return c
}

func limitTime(k *sim.Peak) string {
	if k.Exceeded {
		return plots.Clock(k.TimeToLimit)
	}
	return notReached
}

// exchangers is the table of what every exchanger does at the least margin.
func (p *pair) exchangers() Grid {
	g := Grid{
		Caption: "Exchangers at the least margin",
		Header:  []string{"", "serves", "air " + plots.AirFlow.In(p.units).Name, "heat " + plots.Heat.In(p.units).Name, "direction"},
	}
	for i := range p.now.Exchangers {
		x := &p.now.Exchangers[i]
		serves := Cell{Text: x.Serves, Word: true}
		air, heat := Cell{Text: plots.AirFlow.In(p.units).Number(x.AirFlow)}, Cell{Text: plots.Heat.In(p.units).Number(x.Heat)}
		if b := p.exchangerBefore(x.Name); b != nil {
			if b.Serves != x.Serves {
				serves.Change = "was " + b.Serves
			}
			air.Change = change(plots.AirFlow, p.units, x.AirFlow-b.AirFlow)
			heat.Change = change(plots.Heat, p.units, x.Heat-b.Heat)
		}
		if p.inCoolant(x.Name) {
			air = Cell{Text: "-"}
		}
		direction := Cell{Word: true, Alarm: x.Reversed}
		if x.Reversed {
			direction.Text = "reversed"
		}
		g.Rows = append(g.Rows, Row{Name: x.Name, Cells: []Cell{serves, air, heat, direction}})
	}
	return g
}

// exchangerBefore is an exchanger in the pinned state, nil for none.
func (p *pair) exchangerBefore(name string) *sim.ExchangerState {
	if p.before == nil {
		return nil
	}
	i := slices.IndexFunc(p.before.Exchangers, func(x sim.ExchangerState) bool { return x.Name == name })
	if i < 0 {
		return nil
	}
	return &p.before.Exchangers[i]
}

// inCoolant says that an exchanger is a plate exchanger, without air.
func (p *pair) inCoolant(name string) bool {
	return slices.ContainsFunc(p.plant.Exchangers, func(x sim.Exchanger) bool { return x.Name == name && x.Branch == sim.NoBranch })
}

// caseGrid is the table of all cases.
func caseGrid(now, pinned *flownState, shown int) Grid {
	d := plots.Warmth.In(now.units).Name
	g := Grid{
		Caption: "All cases",
		Header:  []string{"", "status", "coolant margin " + d, "oil margin " + d, "limit after"},
	}
	for i, k := range now.cases {
		row := Row{Name: k.Name, Shown: i == shown}
		f := now.flown[i]
		if f.err != nil {
			row.Cells = []Cell{{Text: "failed: " + f.err.Error(), Word: true, Alarm: true}, {}, {}, {}}
			g.Rows = append(g.Rows, row)
			continue
		}
		p := &pair{units: now.units, plant: k.plant, now: f.result}
		if pinned != nil {
			p.before = pinned.flown[i].result
		}
		row.Cells = append([]Cell{p.status()}, p.margin(0), p.margin(1), p.limitAfter(earliest))
		g.Rows = append(g.Rows, row)
	}
	return g
}

// status is how a case stands to its limits.
func (p *pair) status() Cell {
	text := func(r *sim.Result) string {
		if r.Incomplete != "" {
			return string(r.Status) + ", incomplete"
		}
		return string(r.Status)
	}
	c := Cell{Text: text(p.now), Word: true, Alarm: p.now.Status == sim.OverLimit}
	if p.before != nil && text(p.before) != c.Text {
		c.Change = "was " + text(p.before)
	}
	return c
}

func (p *pair) margin(i int) Cell {
	c := p.cell(plots.Warmth, func(r *sim.Result) float64 { return r.Peaks[i].Margin })
	c.Alarm = p.now.Peaks[i].Exceeded
	return c
}

// earliest is the peak that reaches its limit first.
func earliest(r *sim.Result) *sim.Peak {
	coolant, oil := &r.Peaks[0], &r.Peaks[1]
	if oil.Exceeded && (!coolant.Exceeded || oil.TimeToLimit < coolant.TimeToLimit) {
		return oil
	}
	return coolant
}

// costs joins what the cooling costs.
func costs(parts ...string) string { return strings.Join(parts, ", ") }
