package sweep

import (
	"math"
	"strconv"
)

// DrawNote says how doubtful numbers are drawn.
type DrawNote struct {
	Draws    int    `json:"draws"`    // of each flight
	Sampling string `json:"sampling"` // SobolDesign or LatinDesign
	Seed     uint64 `json:"seed"`
}

// Drawn is what became of a flight when its doubtful numbers were drawn.
type Drawn struct {
	Margins [3]DrawnMargin // Coolant, Oil and Boiling; the last is all NaN for a liquid without boiling point
	Over    float64        // chance to exceed any limit
	Failed  int            // draws without a result; all else is of the others
}

// DrawnMargin is how far one margin spreads.
type DrawnMargin struct {
	Deviation float64 // one standard deviation [K]
	Low, High float64 // 5 and 95 % of the draws are below [K]
	Over      float64 // chance to exceed the limit
}

// doubtColumns are those of doubtful numbers that were drawn.
var doubtColumns = []Column{
	ofDraws("coolant_margin_sigma_K", func(d *Drawn) float64 { return d.Margins[Coolant].Deviation }),
	ofDraws("coolant_margin_p5_K", func(d *Drawn) float64 { return d.Margins[Coolant].Low }),
	ofDraws("coolant_margin_p95_K", func(d *Drawn) float64 { return d.Margins[Coolant].High }),
	ofDraws("oil_margin_sigma_K", func(d *Drawn) float64 { return d.Margins[Oil].Deviation }),
	ofDraws("oil_margin_p5_K", func(d *Drawn) float64 { return d.Margins[Oil].Low }),
	ofDraws("oil_margin_p95_K", func(d *Drawn) float64 { return d.Margins[Oil].High }),
	ofDraws("coolant_over_probability", func(d *Drawn) float64 { return d.Margins[Coolant].Over }),
	ofDraws("oil_over_probability", func(d *Drawn) float64 { return d.Margins[Oil].Over }),
	ofDraws("boiling_over_probability", func(d *Drawn) float64 { return d.Margins[Boiling].Over }),
	ofDraws("any_over_probability", func(d *Drawn) float64 { return d.Over }),
	{"failed_draws", Whole, func(r *Row) string {
		if r.Err != nil || r.Drawn == nil {
			return ""
		}
		return strconv.Itoa(r.Drawn.Failed)
	}},
}

// ofDraws is a column of a number that may be missing.
func ofDraws(name string, of func(*Drawn) float64) Column {
	return number(name, func(o *Outcome) float64 {
		if o.Drawn == nil {
			return math.NaN()
		}
		return of(o.Drawn)
	})
}
