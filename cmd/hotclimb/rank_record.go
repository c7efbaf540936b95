package main

import "hotclimb/sweep"

// The result of rank for programs. Names end in their unit: SI, with °C.
type (
	rankRecord struct {
		headRecord
		Flights int               `json:"flights"`
		Cases   []rankCaseRecord  `json:"cases"`
		Base    effectRecord      `json:"as_it_is"`
		Changes []singleRecord    `json:"changes"`
		Pairs   []pairRecord      `json:"pairs"`
		Tenths  []tenthRecord     `json:"tenths"`
		Verdict rankVerdictRecord `json:"verdict"`
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
		PerClimb  number `json:"least_gain_per_climb_K_s_m"`
		PerMoment number `json:"least_gain_per_moment_K_kg_m"`
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
		headRecord: k.head(), Flights: k.Flights,
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
