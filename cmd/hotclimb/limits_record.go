package main

import (
	"encoding/csv"
	"fmt"
	"io"

	"hotclimb/sim"
	"hotclimb/sweep"
	"hotclimb/sweep/optimum"
)

// The result of limits for programs. Names end in their unit: SI, with °C.
type (
	limitsRecord struct {
		headRecord
		Case    string           `json:"case"`
		Leg     string           `json:"leg"`
		Doubt   float64          `json:"deviations_kept,omitempty"` // in all but what is filed
		Filed   filedClimbRecord `json:"filed"`
		Own     ceilingRecord    `json:"unlimited"`
		Chance  *chanceRecord    `json:"unlimited_doubt,omitempty"` // of the climb as filed at its highest temperature
		Rows    []ceilingRecord  `json:"rows"`
		Slowest []slowRecord     `json:"slowest"`
		Spray   *sprayRecord     `json:"spray"`
		Flights int              `json:"flights"`
	}
	filedClimbRecord struct {
		Speed       number     `json:"speed_m_s"`
		Elevation   number     `json:"elevation_m"`
		Temperature number     `json:"temperature_degC"`
		Gain        number     `json:"height_gained_m"`
		Status      sim.Status `json:"status"`
		Margin      number     `json:"margin_K"`
		By          string     `json:"limited_by"`
		Trouble     string     `json:"trouble"`
		Warnings    []string   `json:"warnings"`
	}
	ceilingRecord struct {
		Speed     number `json:"speed_m_s"`
		Elevation number `json:"elevation_m"`
		Highest   number `json:"highest_temperature_degC"`
		Bound     string `json:"bound"`
		By        string `json:"limited_by"`
		Trouble   string `json:"trouble"`
		ClimbTime number `json:"climb_time_s"`
		*sigmaRecord
		Above []aboveRecord `json:"above"`
	}
	// sigmaRecord is one standard deviation of each margin.
	sigmaRecord struct {
		Coolant number `json:"coolant_margin_sigma_K"`
		Oil     number `json:"oil_margin_sigma_K"`
		Boil    number `json:"boil_margin_sigma_K"`
	}
	aboveRecord struct {
		Temperature number `json:"temperature_degC"`
		Time        number `json:"time_to_limit_s"`
		By          string `json:"limited_by"`
		Leg         string `json:"leg"`
	}
	slowRecord struct {
		Elevation   number `json:"elevation_m"`
		Temperature number `json:"temperature_degC"`
		Speed       number `json:"slowest_speed_m_s"`
		Bound       string `json:"bound"`
		By          string `json:"limited_by"`
	}
	sprayRecord struct {
		Onto    string            `json:"onto"`
		Circuit string            `json:"circuit"`
		Starts  number            `json:"starts_degC"`
		Rate    number            `json:"rate_m3_s"`
		Least   bool              `json:"rate_is_least"`
		RateFor number            `json:"rate_for_temperature_degC"`
		Tank    number            `json:"tank_m3"`
		Carried number            `json:"carried_s"`
		Brings  number            `json:"brings_K"`
		Needed  []sprayNeedRecord `json:"needed"`
		Highest number            `json:"highest_temperature_degC"`
		Bound   string            `json:"bound"`
		By      string            `json:"limited_by"`
		Trouble string            `json:"trouble"`
	}
	sprayNeedRecord struct {
		Temperature number `json:"temperature_degC"`
		Time        number `json:"time_s"`
		Enough      bool   `json:"enough"`
	}
)

// record is the outcome for programs.
func (o *limitsOutcome) record() limitsRecord {
	t, f := o.table, &o.table.Filed
	r := limitsRecord{
		headRecord: o.head(), Case: t.Case, Leg: t.Leg, Doubt: t.Doubt, Own: ceilingRecordOf(&t.Own), Flights: t.Flights,
		Filed: filedClimbRecord{
			number(f.Speed), number(f.Elevation), number(f.Temperature), number(f.Gain),
			f.Status, number(f.Margin), f.By, f.Trouble, append([]string{}, f.Warnings...),
		},
	}
	if o.spread != nil {
		k := chanceRecordOf(t.Case, o.spread)
		r.Chance = &k
		r.Flights += 1 + o.spread.Draws
	}
	for i := range t.Rows {
		r.Rows = append(r.Rows, ceilingRecordOf(&t.Rows[i]))
	}
	for _, s := range t.Slowest {
		r.Slowest = append(r.Slowest, slowRecord{
			number(s.Elevation), number(s.Temperature), number(s.Speed), string(s.Bound), s.By,
		})
	}
	if t.Spray != nil {
		r.Spray = sprayRecordOf(t.Spray)
	}
	return r
}

func ceilingRecordOf(l *optimum.LimitRow) ceilingRecord {
	r := ceilingRecord{
		Speed: number(l.Speed), Elevation: number(l.Elevation), Highest: number(l.Temperature), Bound: string(l.Bound),
		By: l.By, Trouble: l.Trouble, ClimbTime: number(l.ClimbTime), Above: []aboveRecord{},
	}
	if s := l.Spread; s != nil {
		r.sigmaRecord = &sigmaRecord{number(s.Circuits[sweep.Coolant]), number(s.Circuits[sweep.Oil]), number(s.Boil)}
	}
	for _, a := range l.Above {
		r.Above = append(r.Above, aboveRecord{number(a.Temperature), number(a.Time), a.By, a.Leg})
	}
	return r
}

func sprayRecordOf(s *optimum.SprayClimb) *sprayRecord {
	r := &sprayRecord{
		Onto: s.Onto, Circuit: s.Circuit, Starts: number(s.Starts), Rate: number(s.Rate), Least: s.Least,
		RateFor: number(s.RateFor), Tank: number(s.Tank), Carried: number(s.Carried), Brings: number(s.Brings),
		Needed: []sprayNeedRecord{}, Highest: number(s.Ceiling.Temperature), Bound: string(s.Ceiling.Bound), By: s.Ceiling.By, Trouble: s.Trouble,
	}
	for _, n := range s.Needed {
		r.Needed = append(r.Needed, sprayNeedRecord{number(n.Temperature), number(n.Time), n.Enough})
	}
	return r
}

// sigmaCells are what is kept of doubt in a row of the table.
func (r *ceilingRecord) sigmaCells(kept float64) []string {
	cells := []string{number(kept).String(), "", "", ""}
	if s := r.sigmaRecord; s != nil {
		copy(cells[1:], []string{s.Coolant.String(), s.Oil.String(), s.Boil.String()})
	}
	return cells
}

// writeJSON writes the outcome as one JSON object.
func (o *limitsOutcome) writeJSON(w io.Writer) error { return writeIndented(w, o.record()) }

// writeCSV writes the rows of the outcome as a table. The slowest speed of an
// elevation stands in each of its rows.
func (o *limitsOutcome) writeCSV(w io.Writer) error {
	header := []string{"case", "leg", "elevation_m", "speed_m_s", "highest_temperature_degC", "bound", "limited_by", "trouble",
		"climb_time_s", "filed_day_temperature_degC", "slowest_speed_m_s", "slowest_bound"}
	for i := range o.table.Above {
		header = append(header, fmt.Sprintf("above_%d_temperature_degC", i+1), fmt.Sprintf("above_%d_time_to_limit_s", i+1))
	}
	r := o.record()
	if r.Doubt > 0 {
		header = append(header, "deviations_kept", "coolant_margin_sigma_K", "oil_margin_sigma_K", "boil_margin_sigma_K")
	}
	rows := [][]string{header}
	for i, l := range r.Rows {
		slow := &r.Slowest[i*len(r.Slowest)/len(r.Rows)]
		row := []string{r.Case, r.Leg, l.Elevation.String(), l.Speed.String(), l.Highest.String(), l.Bound, l.By, l.Trouble,
			l.ClimbTime.String(), slow.Temperature.String(), slow.Speed.String(), slow.Bound}
		for k := range o.table.Above {
			cells := []string{"", ""}
			if k < len(l.Above) {
				cells = []string{l.Above[k].Temperature.String(), l.Above[k].Time.String()}
			}
			row = append(row, cells...)
		}
		if r.Doubt > 0 {
			row = append(row, l.sigmaCells(r.Doubt)...)
		}
		rows = append(rows, row)
	}
	return csv.NewWriter(w).WriteAll(rows)
}
