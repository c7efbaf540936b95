package main

import (
	"io"
	"strings"
)

// writeJSON writes the ranking as one JSON object.
func (k *ranking) writeJSON(w io.Writer) error { return writeIndented(w, k.record()) }

// rankRow is one row of the table for programs: what was flown, by the records
// of the JSON object.
type rankRow struct {
	kind, name, step string
	effect           *effectRecord
	price            *priceRecord // nil for what has none
	pair             *pairRecord  // nil for what is no pair
}

// rankColumns have the names of the JSON object.
var rankColumns = []column[rankRow]{
	{"kind", func(r *rankRow) string { return r.kind }},
	{"name", func(r *rankRow) string { return r.name }},
	{"step", func(r *rankRow) string { return r.step }},
	{"error", func(r *rankRow) string { return r.effect.Error }},
	ofEffect("coolant_margin_K", func(e *effectRecord) number { return e.CoolantMargin }),
	{"coolant_case", func(r *rankRow) string { return r.effect.CoolantCase }},
	ofEffect("oil_margin_K", func(e *effectRecord) number { return e.OilMargin }),
	{"oil_case", func(r *rankRow) string { return r.effect.OilCase }},
	ofEffect("coolant_gain_K", func(e *effectRecord) number { return e.CoolantGain }),
	ofEffect("oil_gain_K", func(e *effectRecord) number { return e.OilGain }),
	ofEffect("least_gain_K", func(e *effectRecord) number { return e.LeastGain }),
	ofEffect("time_to_limit_s", func(e *effectRecord) number { return e.TimeToLimit }),
	{"limit_case", func(r *rankRow) string { return r.effect.LimitCase }},
	ofEffect("time_to_limit_gain_s", func(e *effectRecord) number { return e.TimeGain }),
	{"limit", func(r *rankRow) string { return r.effect.Limit }},
	ofEffect("cooling_drag_gain_N", func(e *effectRecord) number { return e.Drag }),
	ofEffect("cooling_drag_gain_W", func(e *effectRecord) number { return e.DragPower }),
	ofEffect("rate_of_climb_gain_m_s", func(e *effectRecord) number { return e.Climb }),
	ofList("over_limit", func(e *effectRecord) []string { return e.Over }),
	ofList("newly_over_limit", func(e *effectRecord) []string { return e.NewOver }),
	ofList("newly_reversed", func(e *effectRecord) []string { return e.NewReversed }),
	ofList("newly_incomplete", func(e *effectRecord) []string { return e.NewIncomplete }),
	{"spoils", func(r *rankRow) string { return r.effect.Spoils }},
	ofPrice("weight_kg", func(p *priceRecord) number { return p.Weight }),
	ofPrice("moment_kg_m", func(p *priceRecord) number { return p.Moment }),
	ofPrice("cost", func(p *priceRecord) number { return p.Cost }),
	ofPrice("hours_h", func(p *priceRecord) number { return p.Hours }),
	ofPrice("least_gain_per_weight_K_kg", func(p *priceRecord) number { return p.PerWeight }),
	ofPrice("least_gain_per_cost_K", func(p *priceRecord) number { return p.PerCost }),
	ofPrice("least_gain_per_hour_K_h", func(p *priceRecord) number { return p.PerHour }),
	ofPrice("least_gain_per_drag_K_W", func(p *priceRecord) number { return p.PerDrag }),
	ofPrice("least_gain_per_climb_K_s_m", func(p *priceRecord) number { return p.PerClimb }),
	ofPrice("least_gain_per_moment_K_kg_m", func(p *priceRecord) number { return p.PerMoment }),
	ofPair("coolant_sum_K", func(q *pairRecord) string { return q.CoolantSum.String() }),
	ofPair("coolant_joint_K", func(q *pairRecord) string { return q.CoolantJoint.String() }),
	ofPair("coolant_together", func(q *pairRecord) string { return q.CoolantTogether }),
	ofPair("oil_sum_K", func(q *pairRecord) string { return q.OilSum.String() }),
	ofPair("oil_joint_K", func(q *pairRecord) string { return q.OilJoint.String() }),
	ofPair("oil_together", func(q *pairRecord) string { return q.OilTogether }),
}

func ofEffect(name string, of func(*effectRecord) number) column[rankRow] {
	return column[rankRow]{name, func(r *rankRow) string { return of(r.effect).String() }}
}

func ofList(name string, of func(*effectRecord) []string) column[rankRow] {
	return column[rankRow]{name, func(r *rankRow) string { return strings.Join(of(r.effect), "; ") }}
}

func ofPrice(name string, of func(*priceRecord) number) column[rankRow] {
	return column[rankRow]{name, func(r *rankRow) string {
		if r.price == nil {
			return ""
		}
		return of(r.price).String()
	}}
}

func ofPair(name string, of func(*pairRecord) string) column[rankRow] {
	return column[rankRow]{name, func(r *rankRow) string {
		if r.pair == nil {
			return ""
		}
		return of(r.pair)
	}}
}

// writeCSV writes the ranking as a table with one row for what was flown: the
// cases as they are, each change, each pair, and each number up and down.
func (k *ranking) writeCSV(w io.Writer) error { return writeTable(w, rankColumns, k.rows()) }

func (k *ranking) rows() []rankRow {
	r := k.record()
	rows := []rankRow{{kind: "as_it_is", effect: &r.Base}}
	for i := range r.Changes {
		c := &r.Changes[i]
		rows = append(rows, rankRow{kind: "change", name: c.Name, price: &c.priceRecord, effect: &c.effectRecord})
	}
	for i := range r.Pairs {
		q := &r.Pairs[i]
		rows = append(rows, rankRow{kind: "pair", name: q.First + " + " + q.Second, price: &q.priceRecord, effect: &q.effectRecord, pair: q})
	}
	for i := range r.Tenths {
		t := &r.Tenths[i]
		rows = append(rows,
			rankRow{kind: "tenth", name: t.Path, step: t.Step.String(), effect: &t.Up},
			rankRow{kind: "tenth", name: t.Path, step: (-t.Step).String(), effect: &t.Down})
	}
	return rows
}
