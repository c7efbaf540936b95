package main

import (
	"io"
	"slices"
)

// writeJSON writes the outcome as one JSON object.
func (o *outcome) writeJSON(w io.Writer) error { return writeIndented(w, o.record()) }

// runRow is one row of the table for programs: one channel of one case.
type runRow struct {
	*caseRecord
	peak *peakRecord
	i    int // of the channel
}

// runColumns have the names of the JSON object. What concerns a case as a whole
// stands in the row of each of its channels.
var runColumns = []column[runRow]{
	{"case", func(r *runRow) string { return r.Name }},
	{"status", func(r *runRow) string { return string(r.Status) }},
	{"channel", func(r *runRow) string { return r.peak.Channel }},
	{"value_degC", func(r *runRow) string { return r.peak.Value.String() }},
	{"time_s", func(r *runRow) string { return r.peak.Time.String() }},
	{"altitude_m", func(r *runRow) string { return r.peak.Altitude.String() }},
	{"caution_degC", func(r *runRow) string { return r.peak.Caution.String() }},
	{"limit_degC", func(r *runRow) string { return r.peak.Limit.String() }},
	{"margin_K", func(r *runRow) string { return r.peak.Margin.String() }},
	{"time_to_limit_s", timeToLimit},
	{"boil_margin_K", func(r *runRow) string { return r.BoilMargin.String() }},
	{"energy_residual", func(r *runRow) string { return r.EnergyResidual.String() }},
	{"mass_residual", func(r *runRow) string { return r.MassResidual.String() }},
	{"cooling_drag_N", func(r *runRow) string { return r.CoolingDrag.String() }},
	{"cooling_drag_W", func(r *runRow) string { return r.DragPower.String() }},
	{"rate_of_climb_m_s", func(r *runRow) string { return r.RateOfClimb.String() }},
	{"water_used_kg", func(r *runRow) string { return r.WaterUsed.String() }},
}

// changeColumns are added when a change from the scenario as filed is known.
var changeColumns = []column[runRow]{
	ofChange("coolant_margin_K", func(c *changeRecord) number { return c.CoolantMargin }),
	ofChange("oil_margin_K", func(c *changeRecord) number { return c.OilMargin }),
	ofChange("cooling_drag_N", func(c *changeRecord) number { return c.CoolingDrag }),
	ofChange("cooling_drag_W", func(c *changeRecord) number { return c.DragPower }),
	ofChange("cost_power_W", func(c *changeRecord) number { return c.CostPower }),
	ofChange("cost_speed_m_s", func(c *changeRecord) number { return c.CostSpeed }),
	ofChange("cost_rate_of_climb_m_s", func(c *changeRecord) number { return c.CostRateOfClimb }),
}

func ofChange(name string, of func(*changeRecord) number) column[runRow] {
	return column[runRow]{"change_from_filed_" + name, func(r *runRow) string {
		if r.Change == nil {
			return ""
		}
		return of(r.Change).String()
	}}
}

// timeToLimit is empty when the limit is not reached.
func timeToLimit(r *runRow) string {
	if r.peak.TimeToLimit == nil {
		return ""
	}
	return r.peak.TimeToLimit.String()
}

// writeCSV writes the outcome as a table with one row per case and channel.
func (o *outcome) writeCSV(w io.Writer) error {
	cases, columns := o.record().Cases, runColumns
	var rows []runRow
	for i := range cases {
		k := &cases[i]
		for j := range k.Peaks {
			rows = append(rows, runRow{k, &k.Peaks[j], j})
		}
	}
	if slices.ContainsFunc(cases, func(k caseRecord) bool { return k.Change != nil }) {
		columns = slices.Concat(runColumns, changeColumns)
	}
	if o.doubt != nil {
		columns = slices.Concat(columns, doubtColumns)
	}
	return writeTable(w, columns, rows)
}
