package main

import (
	"encoding/csv"
	"io"
	"strconv"

	"hotclimb/sweep"
	"hotclimb/sweep/calibrate"
)

// The result of fit for programs. Values are SI; names of numbers are their paths,
// columns their paths with the unit.
type (
	fitRecord struct {
		headRecord
		Loss         string             `json:"loss"`
		Status       string             `json:"status"`
		Numbers      []fitNumberRecord  `json:"numbers"`
		Correlations []fitPairRecord    `json:"correlations"`
		Blind        []fitBlindRecord   `json:"not_told_apart"`
		Kept         []string           `json:"kept_as_filed"`
		Tests        []fitTestRecord    `json:"tests"`
		Reduced      number             `json:"squares_over_freedom"`
		Spread       number             `json:"squares_over_freedom_doubt"`
		Series       []fitSeriesRecord  `json:"residuals"`
		Far          []fitReadingRecord `json:"far_readings"`
		Remarks      []string           `json:"remarks"`
		Flights      int                `json:"flights"`
	}
	fitNumberRecord struct {
		Path        string `json:"path"`
		Column      string `json:"column"`
		Before      number `json:"before"`
		DoubtBefore number `json:"doubt_before"`
		After       number `json:"after"`
		DoubtAfter  number `json:"doubt_after"`
		Left        number `json:"doubt_left"`
		Moved       number `json:"moved_doubts"`
		Bound       string `json:"bound"`
		Supposed    bool   `json:"doubt_supposed"`
		Joined      bool   `json:"joined"`
	}
	fitPairRecord struct {
		Of    string `json:"of"`
		With  string `json:"with"`
		Value number `json:"value"`
	}
	fitBlindRecord struct {
		Paths  []string `json:"paths"`
		Ways   []number `json:"ways"`
		Left   number   `json:"doubt_by_readings"`
		Margin number   `json:"margin_doubt_K"` // of the deciding margin, that goes with it
		Fly    string   `json:"fly"`
	}
	fitTestRecord struct {
		Name         string `json:"name"`
		Readings     int    `json:"readings"`
		Coolant      number `json:"start_coolant_degC"`
		CoolantDoubt number `json:"start_coolant_doubt_K"`
		Oil          number `json:"start_oil_degC"`
		OilDoubt     number `json:"start_oil_doubt_K"`
	}
	fitSeriesRecord struct {
		Test    string `json:"test"`
		Circuit string `json:"circuit"`
		Count   int    `json:"readings"`
		Mean    number `json:"mean_K"`
		Scatter number `json:"scatter_K"`
		Noise   number `json:"noise_K"`
		Drift   number `json:"drift_K_s"`
		Alike   number `json:"neighbours_alike"`
	}
	fitReadingRecord struct {
		Test       string `json:"test"`
		Circuit    string `json:"circuit"`
		Line       int    `json:"line"`
		Time       number `json:"time_s"`
		Read       number `json:"reading_degC"`
		Model      number `json:"model_degC"`
		Deviations number `json:"deviations"`
		Weight     number `json:"weight"`
	}
)

// record is the result for programs.
func (z *fitted) record() fitRecord {
	r := fitRecord{
		headRecord: z.head(), Loss: z.loss, Status: z.Solution.Status.String(), Correlations: []fitPairRecord{}, Blind: []fitBlindRecord{},
		Kept: append([]string{}, z.Others...), Reduced: number(z.Checks.Reduced), Spread: number(z.Checks.Spread),
		Far: []fitReadingRecord{}, Remarks: append([]string{}, z.doubtsOfFit()...), Flights: z.Flights,
	}
	for i := range z.Numbers {
		n := &z.Numbers[i]
		r.Numbers = append(r.Numbers, fitNumberRecord{
			n.Param.Path, n.Param.Column(), number(n.Before), number(n.Doubt), number(n.After), number(n.Left),
			number(n.Sharpened()), number(n.Moved()), map[int]string{-1: "least", 1: "greatest"}[n.Bound], n.Supposed, n.Joined,
		})
		for j := range i {
			r.Correlations = append(r.Correlations, fitPairRecord{z.Numbers[j].Param.Path, n.Param.Path, number(z.Correlation.At(j, i))})
		}
	}
	for i := range z.Blind {
		r.Blind = append(r.Blind, z.blindRecord(i))
	}
	for i := range z.Records {
		f := &z.Records[i]
		c, o := f.Start[sweep.Coolant], f.Start[sweep.Oil]
		r.Tests = append(r.Tests, fitTestRecord{f.Record.Name, len(f.Record.Readings), number(c.Value), number(c.Doubt), number(o.Value), number(o.Doubt)})
	}
	for i := range z.Checks.Series {
		s := &z.Checks.Series[i]
		r.Series = append(r.Series, fitSeriesRecord{
			z.set.records[s.Record].Name, circuitWords[s.Circuit], s.Count, number(s.Mean), number(s.Scatter * s.Noise), number(s.Noise), number(s.Drift), number(s.Alike),
		})
	}
	for _, f := range z.Checks.Far {
		r.Far = append(r.Far, readingRecord(&z.Records[f.Record], f.Reading))
	}
	return r
}

func (z *fitted) blindRecord(i int) fitBlindRecord {
	b := &z.Blind[i]
	r := fitBlindRecord{Left: number(b.Left), Margin: number(z.advised[i].margin), Fly: z.advised[i].title}
	for j, k := range b.Numbers {
		r.Paths, r.Ways = append(r.Paths, z.Numbers[k].Param.Path), append(r.Ways, number(b.Ways[j]))
	}
	return r
}

// readingRecord is a reading beside the model.
func readingRecord(f *calibrate.RecordFit, k int) fitReadingRecord {
	m := f.Record.Readings[k]
	return fitReadingRecord{
		f.Record.Name, circuitWords[m.Circuit], m.Line, number((m.From + m.To) / 2), number(m.Value), number(f.Model[k]),
		number((m.Value - f.Model[k]) / f.Record.Gauge(m.Circuit).Noise.Value), number(f.Weight[k]),
	}
}

// writeJSON writes the result as one JSON object.
func (z *fitted) writeJSON(w io.Writer) error { return writeIndented(w, z.record()) }

var fitColumns = []column[fitNumberRecord]{
	{"path", func(r *fitNumberRecord) string { return r.Path }},
	{"column", func(r *fitNumberRecord) string { return r.Column }},
	{"before", func(r *fitNumberRecord) string { return r.Before.String() }},
	{"doubt_before", func(r *fitNumberRecord) string { return r.DoubtBefore.String() }},
	{"after", func(r *fitNumberRecord) string { return r.After.String() }},
	{"doubt_after", func(r *fitNumberRecord) string { return r.DoubtAfter.String() }},
	{"doubt_left", func(r *fitNumberRecord) string { return r.Left.String() }},
	{"moved_doubts", func(r *fitNumberRecord) string { return r.Moved.String() }},
	{"bound", func(r *fitNumberRecord) string { return r.Bound }},
	{"doubt_supposed", func(r *fitNumberRecord) string { return strconv.FormatBool(r.Supposed) }},
	{"joined", func(r *fitNumberRecord) string { return strconv.FormatBool(r.Joined) }},
}

// writeCSV writes the numbers as a table, and behind their columns their
// correlations, one column for each number.
func (z *fitted) writeCSV(w io.Writer) error {
	columns := fitColumns
	place := map[string]int{}
	rows := z.record().Numbers
	for i := range rows {
		place[rows[i].Path] = i
	}
	for j := range rows {
		columns = append(columns[:len(columns):len(columns)], column[fitNumberRecord]{"correlation_" + rows[j].Path, func(r *fitNumberRecord) string {
			return number(z.Correlation.At(place[r.Path], j)).String()
		}})
	}
	return writeTable(w, columns, rows)
}

// writeReadings writes every reading beside the model.
func (z *fitted) writeReadings(w io.Writer) error {
	table := [][]string{{"test", "circuit", "line", "time_s", "reading_degC", "model_degC", "deviations", "weight"}}
	for i := range z.Records {
		for k := range z.Records[i].Record.Readings {
			r := readingRecord(&z.Records[i], k)
			table = append(table, []string{
				r.Test, r.Circuit, strconv.Itoa(r.Line), r.Time.String(), r.Read.String(), r.Model.String(), r.Deviations.String(), r.Weight.String(),
			})
		}
	}
	return csv.NewWriter(w).WriteAll(table)
}
