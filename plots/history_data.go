package plots

import (
	"cmp"
	"slices"
)

// channelColumn is a channel in a table.
type channelColumn struct {
	name, channel string
	measure       Measure
}

// columns lists what the history shows over time, the channels that are there.
func (b *historian) columns() []channelColumn {
	var list []channelColumn
	for i := range b.res.Peaks {
		name := b.res.Peaks[i].Channel
		list = append(list, channelColumn{spaced(name), name + "_degC", Temperature})
	}
	list = append(list, channelColumn{"altitude", "altitude_m", Height}, channelColumn{"outside air", "outside_degC", Temperature})
	for _, e := range b.res.Exchangers {
		list = append(list, channelColumn{"air through " + spaced(e.Name), e.Name + "_air_kg_s", AirFlow})
	}
	return slices.DeleteFunc(list, func(c channelColumn) bool { return b.res.Trajectory.Find(c.channel) == nil })
}

// data is the history in numbers.
func (b *historian) data() []Table {
	tables := []Table{b.peakTable(), b.timeTable()}
	for i := range b.bands {
		tables = append(tables, b.bandTable(&b.bands[i]))
	}
	return append(tables, b.momentTable())
}

func (b *historian) peakTable() Table {
	temperature, warmth, height := Temperature.In(b.units), Warmth.In(b.units), Height.In(b.units)
	t := Table{Caption: "Peaks of coolant and oil, and their limits", Words: 1, Header: []string{
		"temperature", "peak " + temperature.Name, "at min:s", "at " + height.Name, "caution " + temperature.Name, "limit " + temperature.Name,
		"margin " + warmth.Name, "limit after min:s",
	}}
	for _, p := range b.res.Peaks {
		passed := "not reached"
		if p.Exceeded {
			passed = Clock(p.TimeToLimit)
		}
		t.Rows = append(t.Rows, []string{
			spaced(p.Channel), temperature.Number(p.Value), Clock(p.Time), height.Number(p.Altitude), temperature.Number(p.Caution),
			temperature.Number(p.Limit), warmth.Number(p.Margin), passed,
		})
	}
	return t
}

// timeTable is the run over time, with the moments of the peaks.
func (b *historian) timeTable() Table {
	columns, clock := b.columns(), b.res.Trajectory.Find("time_s").Values
	var peaks []int
	for i := range b.res.Peaks {
		peaks = append(peaks, highest(b.res.Trajectory.Find(b.res.Peaks[i].Channel+"_degC").Values))
	}
	at := picked(len(clock), mostRows-len(peaks), peaks...)
	t := Table{Caption: "The run over time" + some(len(at), len(clock), "samples, the hottest among them"), Header: []string{"time min:s"}}
	for _, c := range columns {
		t.Header = append(t.Header, c.name+" "+c.measure.In(b.units).Name)
	}
	for _, k := range at {
		cells := []string{Clock(clock[k])}
		for _, c := range columns {
			cells = append(cells, c.measure.In(b.units).Number(b.res.Trajectory.Find(c.channel).Values[k]))
		}
		t.Rows = append(t.Rows, cells)
	}
	return t
}

// bandTable is where the doubt lets one temperature be over time.
func (b *historian) bandTable(d *Band) Table {
	unit := Temperature.In(b.units)
	at := picked(len(d.Time), mostRows-1, highest(d.Median))
	t := Table{
		Caption: "Where the doubt of the numbers lets " + spaced(d.Channel) + " be" + some(len(at), len(d.Time), "moments"),
		Header:  []string{"time min:s", "5 % point " + unit.Name, "median " + unit.Name, "95 % point " + unit.Name},
	}
	if d.Chance != "" {
		t.Caption += "; " + d.Chance
	}
	for _, k := range at {
		t.Rows = append(t.Rows, row([]string{Clock(d.Time[k])}, unit.numbers(d.Low[k], d.Median[k], d.High[k])))
	}
	return t
}

// momentTable lists when legs begin, and what the spray and the thermostats do.
func (b *historian) momentTable() Table {
	list := b.events()
	for _, l := range b.res.Legs {
		list = append(list, moment{minutes().of(l.Start), "leg " + l.Name})
	}
	slices.SortStableFunc(list, func(a, b moment) int { return cmp.Compare(a.time, b.time) })
	at := picked(len(list), mostRows)
	t := Table{Caption: "Legs and events" + some(len(at), len(list), "moments"), Words: 1, Header: []string{"what", "at min:s"}}
	for _, i := range at {
		t.Rows = append(t.Rows, []string{list[i].name, Clock(list[i].time / minutes().factor)})
	}
	return t
}
