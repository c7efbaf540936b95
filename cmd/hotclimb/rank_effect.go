package main

import (
	"math"
	"strings"

	"hotclimb/sweep"
)

// circuitNames are those of sweep.Coolant and sweep.Oil.
var circuitNames = [2]string{"coolant", "oil"}

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
	r.PerWeight, r.PerCost, r.PerHour, r.PerDrag, r.PerClimb, r.PerMoment = none, none, none, none, none, none
	if e.Err == nil {
		per := func(takes float64) number { return number(sweep.Per(e.LeastGain, takes)) }
		r.PerWeight, r.PerCost, r.PerHour, r.PerMoment = per(p.Weight), per(p.Cost), per(p.Hours), per(math.Abs(p.Moment))
		r.PerDrag, r.PerClimb = number(e.PerDragPower()), number(e.PerClimb())
	}
	return r
}

// oneLine is an error without line breaks.
func oneLine(err error) string { return strings.ReplaceAll(err.Error(), "\n", "; ") }
