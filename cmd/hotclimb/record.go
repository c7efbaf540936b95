package main

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"strconv"

	"hotclimb/sim"
	"hotclimb/sweep"
)

// number is a number of a result for programs: eight significant digits, null
// or nothing when it is not finite.
type number float64

func (x number) String() string {
	if math.IsNaN(float64(x)) || math.IsInf(float64(x), 0) {
		return ""
	}
	return strconv.FormatFloat(float64(x), 'g', 8, 64)
}

func (x number) MarshalJSON() ([]byte, error) {
	if text := x.String(); text != "" {
		return []byte(text), nil
	}
	return []byte("null"), nil
}

// The result of run for programs. Names end in their unit: SI, with °C.
type (
	runRecord struct {
		headRecord
		Cases     []caseRecord   `json:"cases"`
		DoubtFrom []sourceRecord `json:"doubt_from,omitempty"`
	}
	headRecord struct {
		Tool     sweep.Tool   `json:"tool"`
		Scenario sweep.Source `json:"scenario"`
	}
	caseRecord struct {
		Name           string            `json:"name"`
		Status         sim.Status        `json:"status"`
		Peaks          []peakRecord      `json:"peaks"`
		BoilMargin     number            `json:"boil_margin_K"`
		EnergyResidual number            `json:"energy_residual"`
		MassResidual   number            `json:"mass_residual"`
		CoolingDrag    number            `json:"cooling_drag_N"`
		DragPower      number            `json:"cooling_drag_W"`
		RateOfClimb    number            `json:"rate_of_climb_m_s"`
		WaterUsed      number            `json:"water_used_kg"`
		Exchangers     []exchangerRecord `json:"exchangers"`
		Steps          int               `json:"steps"`
		Evaluations    int               `json:"evaluations"`
		Warnings       []string          `json:"warnings"`
		Change         *changeRecord     `json:"change_from_filed,omitempty"`
		Doubt          *doubtRecord      `json:"doubt,omitempty"`
	}
	peakRecord struct {
		Channel     string  `json:"channel"`
		Value       number  `json:"value_degC"`
		Time        number  `json:"time_s"`
		Altitude    number  `json:"altitude_m"`
		Caution     number  `json:"caution_degC"`
		Limit       number  `json:"limit_degC"`
		Margin      number  `json:"margin_K"`
		TimeToLimit *number `json:"time_to_limit_s"`
	}
	exchangerRecord struct {
		Name     string `json:"name"`
		Serves   string `json:"serves"`
		Air      number `json:"air_kg_s"`
		Heat     number `json:"heat_W"`
		Reversed bool   `json:"reversed"`
	}
	changeRecord struct {
		CoolantMargin   number `json:"coolant_margin_K"`
		OilMargin       number `json:"oil_margin_K"`
		CoolingDrag     number `json:"cooling_drag_N"`
		DragPower       number `json:"cooling_drag_W"`
		CostPower       number `json:"cost_power_W"`
		CostSpeed       number `json:"cost_speed_m_s"`
		CostRateOfClimb number `json:"cost_rate_of_climb_m_s"`
	}
)

// record is the outcome for programs.
func (o *outcome) record() runRecord {
	r := runRecord{headRecord: o.head()}
	for _, f := range o.cases {
		k := f.record()
		k.Doubt = o.doubt.record(f)
		r.Cases = append(r.Cases, k)
	}
	r.DoubtFrom = o.doubt.sourceRecords()
	return r
}

func (f *flown) record() caseRecord {
	res, w := f.result, &f.result.Worst
	r := caseRecord{
		Name: f.name, Status: res.Status, BoilMargin: number(res.BoilMargin),
		EnergyResidual: number(res.EnergyResidual), MassResidual: number(res.MassResidual),
		CoolingDrag: number(w.CoolingDrag), DragPower: number(w.DragPower),
		RateOfClimb: number(w.RateOfClimb), WaterUsed: number(res.WaterUsed),
		Exchangers: []exchangerRecord{}, Steps: res.Steps, Evaluations: res.Evaluations,
		Warnings: append([]string{}, res.Warnings...), Change: f.change(),
	}
	for _, p := range res.Peaks {
		r.Peaks = append(r.Peaks, recordOf(p))
	}
	for _, x := range res.Exchangers {
		r.Exchangers = append(r.Exchangers, exchangerRecord{x.Name, x.Serves, number(x.AirFlow), number(x.Heat), x.Reversed})
	}
	return r
}

func recordOf(p sim.Peak) peakRecord {
	r := peakRecord{
		p.Channel, number(p.Value), number(p.Time), number(p.Altitude),
		number(p.Caution), number(p.Limit), number(p.Margin), nil,
	}
	if p.Exceeded {
		t := number(p.TimeToLimit)
		r.TimeToLimit = &t
	}
	return r
}

// change is what differs from the case as filed, nil when that was not flown.
func (f *flown) change() *changeRecord {
	if f.filed == nil {
		return nil
	}
	now, then := f.result, f.filed.result
	w, v := &now.Worst, &then.Worst
	return &changeRecord{
		CoolantMargin: number(now.Peaks[0].Margin - then.Peaks[0].Margin),
		OilMargin:     number(now.Peaks[1].Margin - then.Peaks[1].Margin),
		CoolingDrag:   number(w.CoolingDrag - v.CoolingDrag),
		DragPower:     number(w.DragPower - v.DragPower),
		CostPower:     number(w.CostPower - v.CostPower),
		CostSpeed:     number(w.CostSpeed - v.CostSpeed), CostRateOfClimb: number(w.CostRateOfClimb - v.CostRateOfClimb),
	}
}

// indented is a value as JSON for people and programs: indented by two, keys in
// the order declared, letters as they are.
func indented(value any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	err := e.Encode(value)
	return b.Bytes(), err
}

// writeIndented writes a value as such JSON.
func writeIndented(w io.Writer, value any) error {
	text, err := indented(value)
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}
