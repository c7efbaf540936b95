package calibrate

import (
	"math"
	"strings"
	"testing"
)

func TestBadProblems(t *testing.T) {
	for want, change := range map[string]func(p *Problem, start *[]float64){
		"needs a parameter":       func(_ *Problem, start *[]float64) { *start = nil },
		"no residuals":            func(p *Problem, _ *[]float64) { p.Residuals = 0 },
		"nothing to evaluate":     func(p *Problem, _ *[]float64) { p.Evaluate = nil },
		"difference step":         func(p *Problem, _ *[]float64) { p.Step = -1 },
		"2 parameters and 1 pri":  func(p *Problem, _ *[]float64) { p.Prior = make([]Prior, 1) },
		"2 parameters and 3 lowe": func(p *Problem, _ *[]float64) { p.Lo = make([]float64, 3) },
		"2 parameters and 1 uppe": func(p *Problem, _ *[]float64) { p.Hi = make([]float64, 1) },
		"2 parameters and 1 scal": func(p *Problem, _ *[]float64) { p.Scale = make([]float64, 1) },
		"parameter 1: starts":     func(_ *Problem, start *[]float64) { (*start)[1] = math.NaN() },
		"lower bound 1 is not":    func(p *Problem, _ *[]float64) { p.Lo, p.Hi = []float64{1, 0}, []float64{1, 1} },
		"lower bound NaN":         func(p *Problem, _ *[]float64) { p.Lo = []float64{math.NaN(), 0} },
		"deviation -1":            func(p *Problem, _ *[]float64) { p.Prior = []Prior{{}, {1, -1}} },
		"deviation NaN":           func(p *Problem, _ *[]float64) { p.Prior = []Prior{{}, {1, math.NaN()}} },
		"mean NaN":                func(p *Problem, _ *[]float64) { p.Prior = []Prior{{}, {math.NaN(), 1}} },
		"scale is -1":             func(p *Problem, _ *[]float64) { p.Scale = []float64{-1, 1} },
		"no loss of kind 7":       func(p *Problem, _ *[]float64) { p.Loss.Kind = 7 },
		"bend":                    func(p *Problem, _ *[]float64) { p.Loss = Loss{Huber, -1} },
	} {
		p, start := Problem{Residuals: 20, Evaluate: exact(decay)}, []float64{1, 1}
		change(&p, &start)
		if s, err := Fit(t.Context(), p, start, Settings{}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want %q: %v, %v", want, s, err)
		}
	}
}
