package main

import (
	"encoding/csv"
	"io"
	"slices"
)

// writeJSON writes the outcome as one JSON object.
func (o *outcome) writeJSON(w io.Writer) error {
	text, err := indented(o.record())
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// column is one column of the table: its name and its cell for one channel of
// one case.
type column struct {
	name string
	cell func(k *caseRecord, p *peakRecord) string
}

// columns have the names of the JSON object. What concerns a case as a whole
// stands in the row of each of its channels.
var columns = []column{
	{"case", func(k *caseRecord, _ *peakRecord) string { return k.Name }},
	{"status", func(k *caseRecord, _ *peakRecord) string { return string(k.Status) }},
	{"channel", func(_ *caseRecord, p *peakRecord) string { return p.Channel }},
	{"value_degC", func(_ *caseRecord, p *peakRecord) string { return p.Value.String() }},
	{"time_s", func(_ *caseRecord, p *peakRecord) string { return p.Time.String() }},
	{"altitude_m", func(_ *caseRecord, p *peakRecord) string { return p.Altitude.String() }},
	{"caution_degC", func(_ *caseRecord, p *peakRecord) string { return p.Caution.String() }},
	{"limit_degC", func(_ *caseRecord, p *peakRecord) string { return p.Limit.String() }},
	{"margin_K", func(_ *caseRecord, p *peakRecord) string { return p.Margin.String() }},
	{"time_to_limit_s", timeToLimit},
	{"boil_margin_K", func(k *caseRecord, _ *peakRecord) string { return k.BoilMargin.String() }},
	{"energy_residual", func(k *caseRecord, _ *peakRecord) string { return k.EnergyResidual.String() }},
	{"mass_residual", func(k *caseRecord, _ *peakRecord) string { return k.MassResidual.String() }},
	{"cooling_drag_N", func(k *caseRecord, _ *peakRecord) string { return k.CoolingDrag.String() }},
	{"cooling_drag_W", func(k *caseRecord, _ *peakRecord) string { return k.DragPower.String() }},
	{"rate_of_climb_m_s", func(k *caseRecord, _ *peakRecord) string { return k.RateOfClimb.String() }},
	{"water_used_kg", func(k *caseRecord, _ *peakRecord) string { return k.WaterUsed.String() }},
}

// changeColumns are added when a change from the scenario as filed is known.
var changeColumns = []column{
	ofChange("coolant_margin_K", func(c *changeRecord) number { return c.CoolantMargin }),
	ofChange("oil_margin_K", func(c *changeRecord) number { return c.OilMargin }),
	ofChange("cooling_drag_N", func(c *changeRecord) number { return c.CoolingDrag }),
	ofChange("cooling_drag_W", func(c *changeRecord) number { return c.DragPower }),
	ofChange("cost_power_W", func(c *changeRecord) number { return c.CostPower }),
	ofChange("cost_speed_m_s", func(c *changeRecord) number { return c.CostSpeed }),
	ofChange("cost_rate_of_climb_m_s", func(c *changeRecord) number { return c.CostRateOfClimb }),
}

func ofChange(name string, of func(*changeRecord) number) column {
	return column{"change_from_filed_" + name, func(k *caseRecord, _ *peakRecord) string {
		if k.Change == nil {
			return ""
		}
		return of(k.Change).String()
	}}
}

// timeToLimit is empty when the limit is not reached.
func timeToLimit(_ *caseRecord, p *peakRecord) string {
	if p.TimeToLimit == nil {
		return ""
	}
	return p.TimeToLimit.String()
}

// writeCSV writes the outcome as a table with one row per case and channel.
func (o *outcome) writeCSV(w io.Writer) error {
	cases := o.record().Cases
	list := columns
	if slices.ContainsFunc(cases, func(k caseRecord) bool { return k.Change != nil }) {
		list = slices.Concat(columns, changeColumns)
	}
	rows := [][]string{make([]string, len(list))}
	for i, c := range list {
		rows[0][i] = c.name
	}
	for _, k := range cases {
		for _, p := range k.Peaks {
			row := make([]string, len(list))
			for i, c := range list {
				row[i] = c.cell(&k, &p)
			}
			rows = append(rows, row)
		}
	}
	return csv.NewWriter(w).WriteAll(rows)
}
