package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"

	"hotclimb/plots"
	"hotclimb/sweep/uncertainty"
)

// bands are those of the chart of a case; none without doubt.
func (f *flown) bands() []plots.Band {
	if f.spread == nil {
		return nil
	}
	var list []plots.Band
	for i, b := range f.spread.Bands {
		if len(b.Time) == 0 {
			continue
		}
		over := f.spread.Margins[i].Passed.Value
		list = append(list, plots.Band{
			Channel: b.Channel, Time: b.Time, Low: b.Low, Median: b.Median, High: b.High,
			Chance: fmt.Sprintf("over its limit in %s of %d draws", percent(over), f.spread.Draws-len(f.spread.Failures)),
		})
	}
	return list
}

// writeBands writes the bands of a case as a table: at each time, what 5, 50 and
// 95 % of the flights still under way are below, and how many these are.
func (f *flown) writeBands(w io.Writer) error {
	bands := f.spread.Bands
	header := []string{"time_s"}
	for _, b := range bands {
		for _, p := range []string{"p5", "p50", "p95"} {
			header = append(header, b.Channel+"_"+p+"_degC")
		}
	}
	rows := [][]string{append(header, "flights")}
	for i, t := range bands[0].Time {
		row := []string{number(t).String()}
		for _, b := range bands {
			row = append(row, number(b.Low[i]).String(), number(b.Median[i]).String(), number(b.High[i]).String())
		}
		rows = append(rows, append(row, strconv.Itoa(bands[0].Flights[i])))
	}
	return csv.NewWriter(w).WriteAll(rows)
}

// writeSources draws where the doubt comes from: CASE.shares.svg and .png, of
// the cases with a least margin.
func (o *outcome) writeSources(dir string) error {
	if o.doubt == nil {
		return nil
	}
	for _, s := range o.doubt.sources {
		figure, err := plots.Shares(s.shares(), o.caption("", s.name))
		if err != nil {
			return fmt.Errorf("case %s: the chart of its doubt cannot be drawn: %w", s.name, err)
		}
		if err := writeAll(dir, images(s.name+".shares", figure)); err != nil {
			return err
		}
	}
	return nil
}

// shares are those of the chart, in the order of the nearest limit, the others
// at the end.
func (s *caseSource) shares() []plots.ShareOfDoubt {
	var list, others []plots.ShareOfDoubt
	for i := range s.Least.Shares {
		own := &s.Least.Shares[i]
		k := plots.ShareOfDoubt{Name: s.shareName(own), Coolant: s.index(uncertainty.CoolantLimit, own.Name), Oil: s.index(uncertainty.OilLimit, own.Name)}
		if own.Name == uncertainty.AllOthers {
			others = append(others, k)
		} else {
			list = append(list, k)
		}
	}
	return append(list, others...)
}

// index is the share of a name in the doubt of one margin.
func (s *caseSource) index(limit, name string) plots.Index {
	for i := range s.Margins {
		if s.Margins[i].Limit != limit {
			continue
		}
		for _, k := range s.Margins[i].Shares {
			if k.Name == name {
				return plots.Index{First: k.First.Value, Total: k.Total.Value, Low: k.Total.Lo, High: k.Total.Hi}
			}
		}
	}
	return plots.Index{}
}
