package main

import (
	"fmt"
	"io"

	"hotclimb/plots"
	"hotclimb/sweep"
	"hotclimb/sweep/calibrate"
)

// The result of next for programs. Names end in their unit: SI, with °C.
type (
	nextRecord struct {
		headRecord
		Case     string             `json:"case"`
		Margins  nextMargins        `json:"margins"`
		Deciding string             `json:"deciding"`
		Numbers  []nextNumberRecord `json:"numbers"`
		Flights  []nextFlightRecord `json:"flights"`
		Next     string             `json:"next"`
		Air      number             `json:"next_outside_degC"`
		LeftOut  []leftOutRecord    `json:"left_out"`
	}
	nextMargins struct {
		Coolant       number `json:"coolant_K"`
		CoolantDoubt  number `json:"coolant_doubt_K"`
		CoolantPassed number `json:"coolant_passed"`
		Oil           number `json:"oil_K"`
		OilDoubt      number `json:"oil_doubt_K"`
		OilPassed     number `json:"oil_passed"`
		Misjudged     number `json:"misjudged"`
	}
	nextNumberRecord struct {
		Path    string `json:"path"`
		Doubt   number `json:"doubt"`
		Coolant number `json:"coolant_share"`
		Oil     number `json:"oil_share"`
	}
	nextFlightRecord struct {
		Name        string         `json:"name"`
		Title       string         `json:"title"`
		Outside     number         `json:"outside_degC"`
		Coolant     number         `json:"coolant_doubt_K"`
		Oil         number         `json:"oil_doubt_K"`
		Misjudged   number         `json:"misjudged"`
		Over        bool           `json:"over_limit"`
		Passes      number         `json:"passes"`
		MayFly      bool           `json:"may_be_flown"`
		CoolantPeak number         `json:"coolant_peak_degC"`
		OilPeak     number         `json:"oil_peak_degC"`
		Boil        number         `json:"boil_margin_K"`
		Duration    number         `json:"duration_s"`
		Readings    int            `json:"readings"`
		Caution     string         `json:"caution"`
		Lessons     []lessonRecord `json:"lessons"`
	}
	lessonRecord struct {
		Path  string `json:"path"`
		Share number `json:"share"`
		Left  number `json:"doubt_left"`
	}
	leftOutRecord struct {
		Name    string `json:"name"`
		Outside number `json:"outside_degC"`
		Why     string `json:"why"`
	}
)

// mostLessons is how many numbers of a flight are told to programs.
const mostLessons = 5

// record is the outcome for programs.
func (o *nextOutcome) record() nextRecord {
	t, over := o.found, o.found.Passed()
	r := nextRecord{
		headRecord: o.head(), Case: o.target.Name, Deciding: circuitWords[t.Deciding],
		Margins: nextMargins{
			number(t.Margin[0]), number(t.Now[0]), number(over[0]), number(t.Margin[1]), number(t.Now[1]), number(over[1]),
			number(t.NowMisjudged()),
		},
		LeftOut: []leftOutRecord{},
	}
	for _, n := range t.Numbers {
		r.Numbers = append(r.Numbers, nextNumberRecord{n.Param.Path, number(n.Deviation), number(n.Share[0]), number(n.Share[1])})
	}
	for i := range t.Rows {
		r.Flights = append(r.Flights, o.flightRecord(&t.Rows[i]))
	}
	if best := t.Best(); best >= 0 {
		r.Next, r.Air = t.Rows[best].Flight.Name, number(t.Rows[best].Flight.Outside)
	}
	for _, l := range append(append([]calibrate.LeftOut{}, o.leftOut...), t.LeftOut...) {
		r.LeftOut = append(r.LeftOut, leftOutRecord{l.Name, number(l.Outside), l.Why})
	}
	return r
}

func (o *nextOutcome) flightRecord(r *calibrate.NextRow) nextFlightRecord {
	f := nextFlightRecord{
		Name: r.Flight.Name, Title: r.Flight.Title, Outside: number(r.Flight.Outside),
		Coolant: number(r.After[0]), Oil: number(r.After[1]), Misjudged: number(r.Misjudged),
		Over: r.OverLimit, Passes: number(r.Passes), MayFly: r.MayBeFlown(), CoolantPeak: number(r.Peaks[sweep.Coolant].Value), OilPeak: number(r.Peaks[sweep.Oil].Value), Boil: number(r.BoilMargin),
		Duration: number(r.Duration), Readings: r.Readings, Caution: r.Flight.Caution, Lessons: []lessonRecord{},
	}
	for _, l := range r.Lessons[:min(mostLessons, len(r.Lessons))] {
		f.Lessons = append(f.Lessons, lessonRecord{o.found.Numbers[l.Number].Param.Path, number(l.Share), number(l.Left)})
	}
	return f
}

// writeJSON writes the outcome as one JSON object.
func (o *nextOutcome) writeJSON(w io.Writer) error { return writeIndented(w, o.record()) }

// nextColumns are those of the table for programs.
var nextColumns = []column[nextFlightRecord]{
	{"flight", func(r *nextFlightRecord) string { return r.Name }},
	{"outside_degC", func(r *nextFlightRecord) string { return r.Outside.String() }},
	{"coolant_doubt_K", func(r *nextFlightRecord) string { return r.Coolant.String() }},
	{"oil_doubt_K", func(r *nextFlightRecord) string { return r.Oil.String() }},
	{"misjudged", func(r *nextFlightRecord) string { return r.Misjudged.String() }},
	{"over_limit", func(r *nextFlightRecord) string { return fmt.Sprint(r.Over) }},
	{"passes", func(r *nextFlightRecord) string { return r.Passes.String() }},
	{"may_be_flown", func(r *nextFlightRecord) string { return fmt.Sprint(r.MayFly) }},
	{"coolant_peak_degC", func(r *nextFlightRecord) string { return r.CoolantPeak.String() }},
	{"oil_peak_degC", func(r *nextFlightRecord) string { return r.OilPeak.String() }},
	{"shows", func(r *nextFlightRecord) string { return r.Lessons[0].Path }},
	{"shows_share", func(r *nextFlightRecord) string { return r.Lessons[0].Share.String() }},
}

// writeCSV writes the flights as a table.
func (o *nextOutcome) writeCSV(w io.Writer) error {
	return writeTable(w, nextColumns, o.record().Flights)
}

// writeFiles writes the outcome into a folder: the chart, the scenario as it was
// run, the table and the result.
func (o *nextOutcome) writeFiles(dir string) error {
	t := o.found
	var flights []plots.CandidateFlight
	for i := range t.Rows {
		r := &t.Rows[i]
		note := ""
		switch {
		case r.OverLimit:
			note = "passes a limit: not to be flown so"
		case !r.MayBeFlown():
			note = "risky: " + odds(r.Passes) + " to pass a limit"
		}
		flights = append(flights, plots.CandidateFlight{
			Name: r.Flight.Name + ", " + temperature.Show(o.units, r.Flight.Outside),
			Left: plots.MarginDoubt{Coolant: r.After[0], Oil: r.After[1]}, Note: note,
		})
	}
	figure, err := plots.DoubtLeft(plots.MarginDoubt{Coolant: t.Now[0], Oil: t.Now[1]}, flights, o.units,
		o.caption("Doubt of the margins that each flight would leave", o.target.Name))
	if err != nil {
		return fmt.Errorf("the chart cannot be drawn: %w", err)
	}
	return writeAll(dir, append(images("next", figure), outFile{"next.csv", o.writeCSV}, asRun(o.scenario), outFile{"next.json", o.writeJSON}))
}
