package main

import (
	"encoding/csv"
	"io"
	"math"
	"strings"

	"hotclimb/sweep"
)

// The result of rank for programs. Names end in their unit: SI, with °C.
type (
	rankRecord struct {
		Tool     toolRecord        `json:"tool"`
		Scenario scenarioRecord    `json:"scenario"`
		Flights  int               `json:"flights"`
		Cases    []rankCaseRecord  `json:"cases"`
		Base     effectRecord      `json:"as_it_is"`
		Changes  []singleRecord    `json:"changes"`
		Pairs    []pairRecord      `json:"pairs"`
		Tenths   []tenthRecord     `json:"tenths"`
		Verdict  rankVerdictRecord `json:"verdict"`
	}
	rankCaseRecord struct {
		Name          string `json:"name"`
		Status        string `json:"status"`
		CoolantMargin number `json:"coolant_margin_K"`
		OilMargin     number `json:"oil_margin_K"`
		TimeToLimit   number `json:"time_to_limit_s"`
		Drag          number `json:"climb_cooling_drag_N"`
		DragPower     number `json:"climb_cooling_drag_W"`
		Climb         number `json:"climb_rate_m_s"`
	}
	// effectRecord is what all cases together come to, and how that differs from
	// the cases as they are.
	effectRecord struct {
		Error         string   `json:"error"`
		CoolantMargin number   `json:"coolant_margin_K"`
		CoolantCase   string   `json:"coolant_case"`
		OilMargin     number   `json:"oil_margin_K"`
		OilCase       string   `json:"oil_case"`
		CoolantGain   number   `json:"coolant_gain_K"`
		OilGain       number   `json:"oil_gain_K"`
		LeastGain     number   `json:"least_gain_K"`
		TimeToLimit   number   `json:"time_to_limit_s"`
		LimitCase     string   `json:"limit_case"`
		TimeGain      number   `json:"time_to_limit_gain_s"`
		Limit         string   `json:"limit"`
		Drag          number   `json:"cooling_drag_gain_N"`
		DragPower     number   `json:"cooling_drag_gain_W"`
		Climb         number   `json:"rate_of_climb_gain_m_s"`
		Over          []string `json:"over_limit"`
		NewOver       []string `json:"newly_over_limit"`
		NewReversed   []string `json:"newly_reversed"`
		NewIncomplete []string `json:"newly_incomplete"`
		Spoils        string   `json:"spoils"`
	}
	// priceRecord is what a change takes, and the gain of the least margin for
	// each.
	priceRecord struct {
		Weight    number `json:"weight_kg"`
		Moment    number `json:"moment_kg_m"`
		Cost      number `json:"cost"`
		Hours     number `json:"hours_h"`
		PerWeight number `json:"least_gain_per_weight_K_kg"`
		PerCost   number `json:"least_gain_per_cost_K"`
		PerHour   number `json:"least_gain_per_hour_K_h"`
		PerDrag   number `json:"least_gain_per_drag_K_W"`
	}
	singleRecord struct {
		Name    string `json:"name"`
		Title   string `json:"title"`
		Applied bool   `json:"applied"`
		Flown   bool   `json:"changes_flight_alone"`
		priceRecord
		effectRecord
	}
	pairRecord struct {
		First           string `json:"first"`
		Second          string `json:"second"`
		CoolantSum      number `json:"coolant_sum_K"`
		OilSum          number `json:"oil_sum_K"`
		CoolantJoint    number `json:"coolant_joint_K"`
		OilJoint        number `json:"oil_joint_K"`
		CoolantTogether string `json:"coolant_together"`
		OilTogether     string `json:"oil_together"`
		priceRecord
		effectRecord
	}
	tenthRecord struct {
		Path string       `json:"path"`
		Unit string       `json:"unit"`
		From number       `json:"from"`
		Step number       `json:"step"`
		Up   effectRecord `json:"up"`
		Down effectRecord `json:"down"`
	}
	rankVerdictRecord struct {
		Best          string `json:"best"`
		BestBuilt     string `json:"best_built"`
		BestOnCoolant string `json:"best_on_coolant"`
		BestOnOil     string `json:"best_on_oil"`
		PerWeight     string `json:"best_per_weight"`
		PerCost       string `json:"best_per_cost"`
		PerHour       string `json:"best_per_hour"`
		PerDrag       string `json:"best_per_drag"`
		BestCures     bool   `json:"best_cures_all_cases"`
		BestPair      string `json:"best_pair"`
		PairCures     bool   `json:"best_pair_cures_all_cases"`
	}
)

// record is the ranking for programs.
func (k *ranking) record() rankRecord {
	r := rankRecord{
		Tool: toolRecord{name, version}, Scenario: scenarioRecord{k.scenario.Title, k.hash}, Flights: k.Flights,
		Base:    k.effectRecord(&sweep.Effect{Stand: k.Base}),
		Changes: []singleRecord{}, Pairs: []pairRecord{}, Tenths: []tenthRecord{},
		Verdict: k.verdictRecord(),
	}
	for i, name := range k.Cases {
		f := &k.Base.Flown[i]
		r.Cases = append(r.Cases, rankCaseRecord{
			name, string(f.Status), number(f.Circuits[sweep.Coolant].Margin), number(f.Circuits[sweep.Oil].Margin),
			number(f.TimeToLimit()), number(f.Climb.Drag), number(f.Climb.DragPower), number(f.Climb.Rate),
		})
	}
	for i := range k.Changes {
		s := &k.Changes[i]
		r.Changes = append(r.Changes, singleRecord{
			s.Change.Name, s.Change.Title, s.Applied, sweep.FliesOnly(s.Change),
			priceRecordOf(s.Price, &s.Effect), k.effectRecord(&s.Effect),
		})
	}
	for i := range k.Pairs {
		r.Pairs = append(r.Pairs, k.pairRecord(&k.Pairs[i]))
	}
	for i := range k.Tenths {
		t := &k.Tenths[i]
		r.Tenths = append(r.Tenths, tenthRecord{
			t.Param.Path, t.Param.Dimension.SI, number(t.From), number(t.Step),
			k.effectRecord(&t.Up), k.effectRecord(&t.Down),
		})
	}
	return r
}

func (k *ranking) pairRecord(q *sweep.Pair) pairRecord {
	none := number(math.NaN())
	r := pairRecord{
		First: k.changeName(q.First), Second: k.changeName(q.Second),
		CoolantSum: none, OilSum: none, CoolantJoint: none, OilJoint: none,
		priceRecord: priceRecordOf(q.Price, &q.Effect), effectRecord: k.effectRecord(&q.Effect),
	}
	if q.Err == nil {
		r.CoolantSum, r.OilSum = number(q.Sum[sweep.Coolant]), number(q.Sum[sweep.Oil])
		r.CoolantJoint, r.OilJoint = number(q.Joint[sweep.Coolant]), number(q.Joint[sweep.Oil])
		r.CoolantTogether, r.OilTogether = q.Together[sweep.Coolant].String(), q.Together[sweep.Oil].String()
	}
	return r
}

func (k *ranking) effectRecord(e *sweep.Effect) effectRecord {
	if e.Err != nil {
		none := number(math.NaN())
		return effectRecord{
			Error: oneLine(e.Err), CoolantMargin: none, OilMargin: none, CoolantGain: none, OilGain: none,
			LeastGain: none, TimeToLimit: none, TimeGain: none, Drag: none, DragPower: none, Climb: none,
			Over: []string{}, NewOver: []string{}, NewReversed: []string{}, NewIncomplete: []string{},
		}
	}
	r := effectRecord{
		CoolantMargin: number(e.Margin[sweep.Coolant]), CoolantCase: k.Cases[e.Case[sweep.Coolant]],
		OilMargin: number(e.Margin[sweep.Oil]), OilCase: k.Cases[e.Case[sweep.Oil]],
		CoolantGain: number(e.Gain[sweep.Coolant]), OilGain: number(e.Gain[sweep.Oil]), LeastGain: number(e.LeastGain),
		TimeToLimit: number(e.LimitTime), TimeGain: number(e.TimeGain(&k.Base)), Limit: limitWord(e.TimeGain(&k.Base)),
		Drag: number(e.Drag), DragPower: number(e.DragPower), Climb: number(e.Climb),
		Over: k.caseNames(e.Over()), NewOver: k.caseNames(e.NewOver), NewReversed: []string{}, NewIncomplete: k.caseNames(e.NewIncomplete),
	}
	if e.LimitCase >= 0 {
		r.LimitCase = k.Cases[e.LimitCase]
	}
	for _, v := range e.NewReversed {
		r.NewReversed = append(r.NewReversed, k.Cases[v.Case]+": "+v.Exchanger)
	}
	if circuit, ok := e.Spoils(); ok {
		r.Spoils = circuitNames[circuit]
	}
	return r
}

// limitWord says how the earliest limit moved, from the time gained [s].
func limitWord(gain float64) string {
	switch {
	case math.IsNaN(gain):
		return "not reached"
	case math.IsInf(gain, 1):
		return "no longer reached"
	case math.IsInf(gain, -1):
		return "reached now"
	}
	return "reached"
}

func priceRecordOf(p sweep.Price, e *sweep.Effect) priceRecord {
	r := priceRecord{Weight: number(p.Weight), Moment: number(p.Moment), Cost: number(p.Cost), Hours: number(p.Hours)}
	none := number(math.NaN())
	r.PerWeight, r.PerCost, r.PerHour, r.PerDrag = none, none, none, none
	if e.Err == nil {
		r.PerWeight, r.PerCost = number(sweep.Per(e.LeastGain, p.Weight)), number(sweep.Per(e.LeastGain, p.Cost))
		r.PerHour, r.PerDrag = number(sweep.Per(e.LeastGain, p.Hours)), number(e.PerDragPower())
	}
	return r
}

func (k *ranking) verdictRecord() rankVerdictRecord {
	v := k.Verdict()
	r := rankVerdictRecord{
		Best: k.changeName(v.Best), BestBuilt: k.changeName(v.BestBuilt),
		BestOnCoolant: k.changeName(v.BestOn[sweep.Coolant]), BestOnOil: k.changeName(v.BestOn[sweep.Oil]),
		PerWeight: k.changeName(v.PerWeight), PerCost: k.changeName(v.PerCost),
		PerHour: k.changeName(v.PerHour), PerDrag: k.changeName(v.PerDrag),
		BestCures: v.Best >= 0 && len(k.Changes[v.Best].Over()) == 0,
	}
	if i := k.BestPair(); i >= 0 {
		r.BestPair, r.PairCures = k.pairName(&k.Pairs[i]), len(k.Pairs[i].Over()) == 0
	}
	return r
}

// changeName is the name of a ranked change, "" for none.
func (k *ranking) changeName(i int) string {
	if i < 0 {
		return ""
	}
	return k.Changes[i].Change.Name
}

// pairName is the name of a pair.
func (k *ranking) pairName(q *sweep.Pair) string {
	return k.changeName(q.First) + " + " + k.changeName(q.Second)
}

func (k *ranking) caseNames(cases []int) []string {
	names := make([]string, len(cases))
	for i, c := range cases {
		names[i] = k.Cases[c]
	}
	return names
}

// circuitNames are those of sweep.Coolant and sweep.Oil.
var circuitNames = [2]string{"coolant", "oil"}

// oneLine is an error without line breaks.
func oneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }

// writeJSON writes the ranking as one JSON object.
func (k *ranking) writeJSON(w io.Writer) error {
	text, err := indented(k.record())
	if err != nil {
		return err
	}
	_, err = w.Write(text)
	return err
}

// rankRow is one row of the table for programs.
type rankRow struct {
	kind, name, step string
	price            *priceRecord // nil for what has none
	effect           *effectRecord
	pair             *pairRecord // nil for what is no pair
}

// writeCSV writes the ranking as a table with one row for what was flown: the
// cases as they are, each change, each pair, and each number up and down.
func (k *ranking) writeCSV(w io.Writer) error {
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
			rankRow{kind: "tenth", name: t.Path, step: "-" + t.Step.String(), effect: &t.Down})
	}
	table := [][]string{rankHeader}
	for i := range rows {
		table = append(table, rows[i].cells())
	}
	return csv.NewWriter(w).WriteAll(table)
}

var rankHeader = strings.Fields(`kind name step error
	coolant_margin_K coolant_case oil_margin_K oil_case coolant_gain_K oil_gain_K least_gain_K
	time_to_limit_s limit_case time_to_limit_gain_s limit
	cooling_drag_gain_N cooling_drag_gain_W rate_of_climb_gain_m_s
	over_limit newly_over_limit newly_reversed newly_incomplete spoils
	weight_kg moment_kg_m cost hours_h
	least_gain_per_weight_K_kg least_gain_per_cost_K least_gain_per_hour_K_h least_gain_per_drag_K_W
	coolant_sum_K coolant_joint_K coolant_together oil_sum_K oil_joint_K oil_together`)

func (r *rankRow) cells() []string {
	e := r.effect
	join := func(names []string) string { return strings.Join(names, "; ") }
	cells := []string{
		r.kind, r.name, r.step, e.Error,
		e.CoolantMargin.String(), e.CoolantCase, e.OilMargin.String(), e.OilCase,
		e.CoolantGain.String(), e.OilGain.String(), e.LeastGain.String(),
		e.TimeToLimit.String(), e.LimitCase, e.TimeGain.String(), e.Limit,
		e.Drag.String(), e.DragPower.String(), e.Climb.String(),
		join(e.Over), join(e.NewOver), join(e.NewReversed), join(e.NewIncomplete), e.Spoils,
	}
	if p := r.price; p != nil {
		for _, x := range []number{p.Weight, p.Moment, p.Cost, p.Hours, p.PerWeight, p.PerCost, p.PerHour, p.PerDrag} {
			cells = append(cells, x.String())
		}
	} else {
		cells = append(cells, make([]string, 8)...)
	}
	if q := r.pair; q != nil {
		return append(cells, q.CoolantSum.String(), q.CoolantJoint.String(), q.CoolantTogether,
			q.OilSum.String(), q.OilJoint.String(), q.OilTogether)
	}
	return append(cells, make([]string, 6)...)
}
