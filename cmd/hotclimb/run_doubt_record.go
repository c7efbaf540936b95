package main

import (
	"hotclimb/sweep"
	"hotclimb/sweep/uncertainty"
)

// The doubt of a run for programs. Names end in their unit, if there is one; p5
// and p95 are values below which 5 and 95 % of the draws lie, low and high the
// ends of the 90 % interval of an estimate.
type (
	doubtRecord struct {
		Draws      int                `json:"draws"`
		Sampling   string             `json:"sampling"`
		Seed       uint64             `json:"seed"`
		Numbers    int                `json:"doubtful_numbers"`
		Failed     int                `json:"failed_draws"`
		Incomplete int                `json:"incomplete_draws"`
		Turned     int                `json:"turned_draws"` // taken on the other side of their means
		Peaks      []peakDoubtRecord  `json:"peaks"`
		Limits     []limitDoubtRecord `json:"limits"`
	}
	peakDoubtRecord struct {
		Channel string `json:"channel"`
		Low     number `json:"value_p5_degC"`
		Median  number `json:"value_p50_degC"`
		High    number `json:"value_p95_degC"`
	}
	limitDoubtRecord struct {
		Limit    string `json:"limit"` // coolant, oil, boiling or any
		Margin   number `json:"margin_K"`
		Mean     number `json:"margin_mean_K"`
		Sigma    number `json:"margin_sigma_K"`
		Low      number `json:"margin_p5_K"`
		Median   number `json:"margin_p50_K"`
		High     number `json:"margin_p95_K"`
		Over     number `json:"over_probability"`
		OverLow  number `json:"over_probability_low"`
		OverHigh number `json:"over_probability_high"`
	}
	sourceRecord struct {
		Limit   string        `json:"limit"`
		Case    string        `json:"case"`
		Sigma   number        `json:"margin_sigma_K"`
		Points  int           `json:"points"`
		Dropped int           `json:"dropped_points"`
		Flights int           `json:"flights"`
		Shares  []shareRecord `json:"shares"`
	}
	shareRecord struct {
		Name      string   `json:"name"`
		Paths     []string `json:"paths"`
		First     number   `json:"first_order"`
		FirstLow  number   `json:"first_order_low"`
		FirstHigh number   `json:"first_order_high"`
		Total     number   `json:"total"`
		TotalLow  number   `json:"total_low"`
		TotalHigh number   `json:"total_high"`
	}
)

// record is the doubt of a case, nil when none was asked for.
func (d *doubt) record(f *flown) *doubtRecord {
	if d == nil {
		return nil
	}
	s := f.spread
	r := &doubtRecord{
		Draws: s.Draws, Sampling: d.Sampling, Seed: d.Seed, Numbers: len(s.Doubts.Params),
		Failed: len(s.Failures), Incomplete: s.Incomplete, Turned: s.Turned,
	}
	for _, p := range s.Peaks {
		r.Peaks = append(r.Peaks, peakDoubtRecord{p.Channel, number(p.Low), number(p.Median), number(p.High)})
	}
	for i := range s.Margins {
		r.Limits = append(r.Limits, limitDoubt(s.Margins[i].Limit, &s.Margins[i]))
	}
	r.Limits = append(r.Limits, limitDoubt(anyLimit, &s.Least))
	return r
}

// anyLimit is the nearest of all limits.
const anyLimit = "any"

func limitDoubt(limit string, m *uncertainty.MarginSpread) limitDoubtRecord {
	return limitDoubtRecord{
		limit, number(m.Stated), number(m.Mean), number(m.Deviation), number(m.Low), number(m.Median), number(m.High),
		number(m.Passed.Value), number(m.Passed.Lo), number(m.Passed.Hi),
	}
}

// of is what is known of a limit; nil when the doubt has no such limit.
func (r *doubtRecord) of(limit string) *limitDoubtRecord {
	for i := range r.Limits {
		if r.Limits[i].Limit == limit {
			return &r.Limits[i]
		}
	}
	return nil
}

// sourceRecords are where the doubt of the least margins comes from.
func (d *doubt) sourceRecords() (list []sourceRecord) {
	if d == nil {
		return nil
	}
	d.each(func(s source) {
		r := sourceRecord{
			Limit: s.Limit, Case: s.name, Sigma: number(s.Deviation),
			Points: s.Points, Dropped: s.Dropped, Flights: s.Flights, Shares: []shareRecord{},
		}
		for _, k := range s.Shares {
			share := shareRecord{
				k.Name, []string{}, number(k.First.Value), number(k.First.Lo), number(k.First.Hi),
				number(k.Total.Value), number(k.Total.Lo), number(k.Total.Hi),
			}
			for _, i := range k.Inputs {
				share.Paths = append(share.Paths, s.Doubts.Params[i].Path)
			}
			r.Shares = append(r.Shares, share)
		}
		list = append(list, r)
	})
	return list
}

// doubtColumns are added when the doubt is asked for. What concerns a case as a
// whole stands in the row of each of its channels.
var doubtColumns = []column[runRow]{
	{"value_p5_degC", func(r *runRow) string { return r.Doubt.Peaks[r.i].Low.String() }},
	{"value_p95_degC", func(r *runRow) string { return r.Doubt.Peaks[r.i].High.String() }},
	ofLimit("margin_sigma_K", func(l *limitDoubtRecord) number { return l.Sigma }),
	ofLimit("margin_p5_K", func(l *limitDoubtRecord) number { return l.Low }),
	ofLimit("margin_p50_K", func(l *limitDoubtRecord) number { return l.Median }),
	ofLimit("margin_p95_K", func(l *limitDoubtRecord) number { return l.High }),
	ofLimit("over_probability", func(l *limitDoubtRecord) number { return l.Over }),
	ofLimit("over_probability_low", func(l *limitDoubtRecord) number { return l.OverLow }),
	ofLimit("over_probability_high", func(l *limitDoubtRecord) number { return l.OverHigh }),
	overAll("boiling_over_probability", uncertainty.BoilLimit),
	overAll("any_over_probability", anyLimit),
	{"draws", func(r *runRow) string { return number(r.Doubt.Draws).String() }},
	{"failed_draws", func(r *runRow) string { return number(r.Doubt.Failed).String() }},
}

// ofLimit is what is known of the limit of the channel of a row.
func ofLimit(name string, of func(*limitDoubtRecord) number) column[runRow] {
	limits := []string{sweep.Coolant: uncertainty.CoolantLimit, sweep.Oil: uncertainty.OilLimit}
	return column[runRow]{name, func(r *runRow) string { return of(r.Doubt.of(limits[r.i])).String() }}
}

// overAll is the chance of a limit that belongs to no channel; empty when there
// is no such limit.
func overAll(name, limit string) column[runRow] {
	return column[runRow]{name, func(r *runRow) string {
		if l := r.Doubt.of(limit); l != nil {
			return l.Over.String()
		}
		return ""
	}}
}
