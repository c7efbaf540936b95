package main

import (
	"io"

	"hotclimb/sweep/calibrate"
)

// The result of correct for programs. Names end in their unit: SI, with °C. Times
// are those since the record began.
type (
	correctRecord struct {
		headRecord
		Rule    string                `json:"rule"`
		Records []correctedTestRecord `json:"records"`
	}
	correctedTestRecord struct {
		Test     string                   `json:"test"`
		Log      *logRecord               `json:"log"`
		Outside  number                   `json:"outside_doubt_K"`
		Notes    []string                 `json:"notes"`
		Remarks  []string                 `json:"remarks"`
		Segments []correctedSegmentRecord `json:"segments"`
	}
	logRecord struct {
		File    string `json:"file"` // as the scenario names it
		Lines   int    `json:"lines"`
		Leading int    `json:"leading"`
		Blank   int    `json:"blank"`
		Rows    int    `json:"rows"`
		Used    int    `json:"used"`
		Skipped int    `json:"skipped"`
		Faults  int    `json:"faults"`
	}
	correctedSegmentRecord struct {
		Kind     string                   `json:"kind"`
		From     number                   `json:"from_s"`
		To       number                   `json:"to_s"`
		Climb    number                   `json:"rate_of_climb_m_s"`
		Circuits []correctedCircuitRecord `json:"circuits"`
		Remarks  []string                 `json:"remarks"`
	}
	correctedCircuitRecord struct {
		Circuit     string `json:"circuit"`
		Time        number `json:"time_s"`
		Read        number `json:"read_degC"`
		Temperature number `json:"temperature_degC"`
		Doubt       number `json:"doubt_K"`
		Rate        number `json:"rate_K_s"`
		Altitude    number `json:"altitude_m"`
		Outside     number `json:"outside_degC"`
		HotDay      number `json:"hot_day_degC"`
		Limit       number `json:"limit_degC"`
		Rule        number `json:"by_rule_degC"`
		RuleDoubt   number `json:"by_rule_doubt_K"`
		RuleMargin  number `json:"by_rule_margin_K"`
		Model       number `json:"by_model_degC"`
		ModelDoubt  number `json:"by_model_doubt_K"`
		ModelMargin number `json:"by_model_margin_K"`
		Over        number `json:"rule_over_model_K"`
		OverDoubt   number `json:"rule_over_model_doubt_K"`
	}
)

// record is the correction for programs.
func (o *correction) record() correctRecord {
	r := correctRecord{headRecord: o.head(), Rule: o.rule.String(), Records: []correctedTestRecord{}}
	for _, c := range o.records {
		t := correctedTestRecord{
			Test: c.Record.Name, Outside: number(c.Outside), Notes: append([]string{}, c.Record.Notes...),
			Remarks: append([]string{}, c.Remarks...), Segments: []correctedSegmentRecord{},
		}
		if l := c.Record.Log; l != nil {
			n := l.Count
			t.Log = &logRecord{c.Record.Test.Log, n.Lines, n.Leading, n.Blank, n.Rows, n.Used, n.Skipped, len(l.Faults)}
		}
		for i := range c.Segments {
			t.Segments = append(t.Segments, correctedSegmentRecordOf(&c.Segments[i]))
		}
		r.Records = append(r.Records, t)
	}
	return r
}

func correctedSegmentRecordOf(s *calibrate.CorrectedSegment) correctedSegmentRecord {
	r := correctedSegmentRecord{
		s.Kind.String(), number(s.From), number(s.To), number(s.Climb), []correctedCircuitRecord{}, append([]string{}, s.Remarks...),
	}
	for i, k := range s.Circuits {
		if k != nil {
			r.Circuits = append(r.Circuits, correctedCircuitRecord{
				circuitNames[i], number(k.Time), number(k.Read), number(k.Temperature), number(k.Doubt), number(k.Rate),
				number(k.Altitude), number(k.Outside), number(k.HotDay), number(k.Limit),
				number(k.ByRule.Value), number(k.ByRule.Doubt), number(k.ByRule.Margin),
				number(k.ByModel.Value), number(k.ByModel.Doubt), number(k.ByModel.Margin),
				number(k.Over), number(k.OverDoubt),
			})
		}
	}
	return r
}

// writeJSON writes the correction as one JSON object.
func (o *correction) writeJSON(w io.Writer) error { return writeIndented(w, o.record()) }

// correctRow is one temperature of one segment.
type correctRow struct {
	test    string
	segment *correctedSegmentRecord
	*correctedCircuitRecord
}

var correctColumns = []column[correctRow]{
	{"test", func(r *correctRow) string { return r.test }},
	{"segment", func(r *correctRow) string { return r.segment.Kind }},
	{"from_s", func(r *correctRow) string { return r.segment.From.String() }},
	{"to_s", func(r *correctRow) string { return r.segment.To.String() }},
	{"rate_of_climb_m_s", func(r *correctRow) string { return r.segment.Climb.String() }},
	{"circuit", func(r *correctRow) string { return r.Circuit }},
	{"time_s", func(r *correctRow) string { return r.Time.String() }},
	{"read_degC", func(r *correctRow) string { return r.Read.String() }},
	{"temperature_degC", func(r *correctRow) string { return r.Temperature.String() }},
	{"doubt_K", func(r *correctRow) string { return r.Doubt.String() }},
	{"rate_K_s", func(r *correctRow) string { return r.Rate.String() }},
	{"altitude_m", func(r *correctRow) string { return r.Altitude.String() }},
	{"outside_degC", func(r *correctRow) string { return r.Outside.String() }},
	{"hot_day_degC", func(r *correctRow) string { return r.HotDay.String() }},
	{"limit_degC", func(r *correctRow) string { return r.Limit.String() }},
	{"by_rule_degC", func(r *correctRow) string { return r.Rule.String() }},
	{"by_rule_doubt_K", func(r *correctRow) string { return r.RuleDoubt.String() }},
	{"by_rule_margin_K", func(r *correctRow) string { return r.RuleMargin.String() }},
	{"by_model_degC", func(r *correctRow) string { return r.Model.String() }},
	{"by_model_doubt_K", func(r *correctRow) string { return r.ModelDoubt.String() }},
	{"by_model_margin_K", func(r *correctRow) string { return r.ModelMargin.String() }},
	{"rule_over_model_K", func(r *correctRow) string { return r.Over.String() }},
	{"rule_over_model_doubt_K", func(r *correctRow) string { return r.OverDoubt.String() }},
}

// writeCSV writes a row for each temperature of each segment.
func (o *correction) writeCSV(w io.Writer) error {
	var rows []correctRow
	for _, t := range o.record().Records {
		for i := range t.Segments {
			s := &t.Segments[i]
			for j := range s.Circuits {
				rows = append(rows, correctRow{t.Test, s, &s.Circuits[j]})
			}
		}
	}
	return writeTable(w, correctColumns, rows)
}
