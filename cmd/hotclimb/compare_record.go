package main

import (
	"io"
	"strconv"

	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// comparison is everything that compare has to say.
type comparison struct {
	*calibrate.Comparison
	origin
	reference scenarios.CaseScenario
	list      []calibrate.Configuration // the baseline first
}

// The result of compare for programs. Names end in their unit: SI, with °C.
type (
	compareRecord struct {
		headRecord
		Case        string             `json:"case"`
		Baseline    string             `json:"baseline"`
		Level       number             `json:"level"`
		Intervals   int                `json:"intervals"`
		Scatter     number             `json:"scatter_K"`
		Repeats     []repeatsRecord    `json:"repeats"`
		Differences []differenceRecord `json:"differences"`
		Tests       []broughtRecord    `json:"tests"`
	}
	repeatsRecord struct {
		Circuit string `json:"circuit"`
		Freedom int    `json:"degrees_of_freedom"`
		Seen    number `json:"seen_over_supposed"`
		Used    number `json:"used_over_supposed"`
	}
	differenceRecord struct {
		Configuration string             `json:"configuration"`
		Circuit       string             `json:"circuit"`
		Value         number             `json:"difference_K"`
		Low           number             `json:"low_K"`
		High          number             `json:"high_K"`
		Real          bool               `json:"real"`
		Flights       number             `json:"doubt_of_flights_K"`
		Model         number             `json:"doubt_of_model_K"`
		Freedom       number             `json:"degrees_of_freedom"`
		More          *int               `json:"more_flights_each"`
		Alike         *int               `json:"flights_each_in_one_air"`
		Sources       []modelDoubtRecord `json:"doubt_of_model_by"`
	}
	modelDoubtRecord struct {
		Path  string `json:"path"`
		Share number `json:"share"`
	}
	broughtRecord struct {
		Test          string   `json:"test"`
		Configuration string   `json:"configuration"`
		Circuit       string   `json:"circuit"`
		Time          number   `json:"time_s"`
		Altitude      number   `json:"altitude_m"`
		Outside       number   `json:"outside_degC"`
		Speed         number   `json:"speed_m_s"`
		Power         number   `json:"power_W"`
		Readings      int      `json:"readings"`
		Read          number   `json:"read_degC"`
		Model         number   `json:"model_degC"`
		Reference     number   `json:"model_at_reference_degC"`
		Value         number   `json:"brought_degC"`
		Noise         number   `json:"noise_K"`
		Start         number   `json:"doubt_of_start_K"`
		Doubt         number   `json:"doubt_of_model_K"`
		Remarks       []string `json:"remarks"`
	}
)

// record is the comparison for programs.
func (o *comparison) record() compareRecord {
	r := compareRecord{
		headRecord: o.head(), Case: o.reference.Name, Baseline: o.Baseline, Level: number(o.Level), Intervals: o.Count,
		Scatter: number(o.Scatter), Differences: []differenceRecord{}, Tests: []broughtRecord{},
	}
	for i, s := range o.Repeats {
		r.Repeats = append(r.Repeats, repeatsRecord{circuitNames[i], s.Freedom, number(s.Seen), number(s.Used)})
	}
	for _, d := range o.Differences {
		for i, v := range d.Circuits {
			if v != nil {
				r.Differences = append(r.Differences, differenceRecordOf(d.Name, circuitNames[i], v))
			}
		}
	}
	for _, t := range o.Tests {
		for i, m := range t.Circuits {
			if m != nil {
				r.Tests = append(r.Tests, broughtRecordOf(&t, circuitNames[i], m))
			}
		}
	}
	return r
}

func differenceRecordOf(configuration, circuit string, v *calibrate.CircuitDifference) differenceRecord {
	r := differenceRecord{
		configuration, circuit, number(v.Value), number(v.Low), number(v.High), v.Real,
		number(v.Flights), number(v.Model), number(v.Freedom), flightsAhead(v, v.More), flightsAhead(v, v.Alike), []modelDoubtRecord{},
	}
	for _, s := range v.Sources {
		r.Sources = append(r.Sources, modelDoubtRecord{s.Path, number(s.Share)})
	}
	return r
}

// flightsAhead is a number of flights, 0 where the difference is told already; nil
// when there is no number or a very large one.
func flightsAhead(v *calibrate.CircuitDifference, n int) *int {
	if !v.Real && (n > calibrate.MostFlights || n == calibrate.Never) {
		return nil
	}
	return &n
}

func broughtRecordOf(t *calibrate.ComparedTest, circuit string, m *calibrate.ComparedReading) broughtRecord {
	return broughtRecord{
		t.Record.Name, t.Configuration, circuit, number(m.Time), number(m.Altitude), number(m.Outside), number(m.Speed),
		number(m.Power), m.Count, number(m.Read), number(m.Model), number(m.Reference), number(m.Value),
		number(m.Noise), number(m.Start), number(m.Doubt), append([]string{}, t.Remarks...),
	}
}

// writeJSON writes the comparison as one JSON object.
func (o *comparison) writeJSON(w io.Writer) error { return writeIndented(w, o.record()) }

// compareRow is one difference with what it is compared with.
type compareRow struct {
	*differenceRecord
	of *compareRecord
}

var compareColumns = []column[compareRow]{
	{"case", func(r *compareRow) string { return r.of.Case }},
	{"baseline", func(r *compareRow) string { return r.of.Baseline }},
	{"configuration", func(r *compareRow) string { return r.Configuration }},
	{"circuit", func(r *compareRow) string { return r.Circuit }},
	{"difference_K", func(r *compareRow) string { return r.Value.String() }},
	{"low_K", func(r *compareRow) string { return r.Low.String() }},
	{"high_K", func(r *compareRow) string { return r.High.String() }},
	{"real", func(r *compareRow) string { return strconv.FormatBool(r.Real) }},
	{"level", func(r *compareRow) string { return r.of.Level.String() }},
	{"doubt_of_flights_K", func(r *compareRow) string { return r.Flights.String() }},
	{"doubt_of_model_K", func(r *compareRow) string { return r.Model.String() }},
	{"degrees_of_freedom", func(r *compareRow) string { return r.Freedom.String() }},
	{"more_flights_each", func(r *compareRow) string { return count(r.More) }},
	{"flights_each_in_one_air", func(r *compareRow) string { return count(r.Alike) }},
}

// count is a number that may be missing.
func count(n *int) string {
	if n == nil {
		return ""
	}
	return strconv.Itoa(*n)
}

// writeCSV writes the differences as a table.
func (o *comparison) writeCSV(w io.Writer) error {
	r := o.record()
	rows := make([]compareRow, len(r.Differences))
	for i := range rows {
		rows[i] = compareRow{&r.Differences[i], &r}
	}
	return writeTable(w, compareColumns, rows)
}
