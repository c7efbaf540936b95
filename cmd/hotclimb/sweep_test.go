package main

import (
	"bytes"
	"context"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// tugSwept is a sweep of two cases of the demo, whose own exit is 8.5 in high
// and whose own auxiliary cooler serves coolant. No flight is flown: a formula
// takes its place, and every seventh trial fails.
func tugSwept(t *testing.T, vary ...string) *swept {
	t.Helper()
	f := sweepFlags{vary: vary, design: choice{word: sweep.GridDesign}}
	f.cases = []string{"hot_tow", "cruise"}
	s, err := f.prepare(demo)
	if err != nil {
		t.Fatal(err)
	}
	s.study.Evaluate = func(_ context.Context, trial sweep.Trial) (sweep.Outcome, error) {
		if trial.Index%7 == 6 {
			return sweep.Outcome{}, errors.New("no air")
		}
		coolant, oil := formulaMargins(s.study.Factors, trial.Levels, trial.Case)
		return sweep.Outcome{
			Status: sim.Caution, BoilMargin: 5,
			Circuits: [2]sweep.Circuit{{Margin: coolant}, {Margin: oil}},
		}, nil
	}
	return s
}

// formulaMargins rise with every number, and word by word.
func formulaMargins(factors []sweep.Factor, levels []sweep.Level, flown int) (coolant, oil float64) {
	coolant = float64(10 * flown)
	for i, f := range factors {
		x := levels[i].Number
		if f.Words != nil {
			x = float64(slices.Index(f.Words, levels[i].Word))
		}
		coolant += float64(i+1) * x
		oil += x * x
	}
	return coolant, oil
}

// rows hands the rows of a sweep over, in order.
func (s *swept) rows(t *testing.T, take taker) {
	t.Helper()
	order := sweep.InOrder{Pass: take}
	columns := s.study.Columns()
	err := s.study.Run(t.Context(), sweep.Plan{}, func(r *sweep.Row) error { return order.Add(r.Index, sweep.Cells(columns, r)) })
	if err != nil {
		t.Fatal(err)
	}
}

// A cut holds the least margins over the cases where the other factors are
// nearest to the file, NaN where a flight failed.
func TestCuts(t *testing.T) {
	s := tugSwept(t, "exits.belly.height=10 in, 6 in, 9 in, 9 in", "exchangers.auxiliary.serves=oil,coolant", "day.temperature=20 degC..40 degC:3")
	c := newCutter(s)
	s.rows(t, c.take)
	if !slices.Equal(c.own, []int{2, 1, 1}) { // 9 in; coolant; 30 °C, the tow's own being 35 °C: the first of two as near
		t.Errorf("nearest to the file are %v", c.own)
	}
	if len(c.cuts) != 3 || c.cuts[2].y != c.cuts[1].x || c.cuts[2].x != c.cuts[0].x {
		t.Fatalf("%d cuts", len(c.cuts))
	}
	if x := c.cuts[0].x; !slices.Equal(x.rank, []int{2, 0, 1, 1}) || len(x.values) != 3 || math.Abs(x.values[0]-6) > 1e-12 {
		t.Errorf("heights %v, ranks %v", x.values, x.rank)
	}
	nans := 0
	for level, rank := range c.cuts[0].x.rank {
		nans += checkCell(t, s, c.cuts[0], [3]int{level, 1, 1}, rank, 0)
	}
	for level := range 3 {
		nans += checkCell(t, s, c.cuts[1], [3]int{2, 1, level}, level, 0)
		for height, rank := range c.cuts[0].x.rank {
			nans += checkCell(t, s, c.cuts[2], [3]int{height, 1, level}, rank, level)
		}
	}
	if nans == 0 {
		t.Error("no cut goes through a flight that failed")
	}
}

// checkCell compares a cell of a cut with the formula, at the number of the
// value of each factor. It returns 1 when a flight that counts failed.
func checkCell(t *testing.T, s *swept, k *cut, at [3]int, ix, iy int) int {
	t.Helper()
	coolant, oil := math.Inf(1), math.Inf(1)
	levels := make([]sweep.Level, len(s.study.Factors))
	for design := range s.study.Designs.Len() {
		s.study.Designs.At(design, levels)
		same := true
		for i, f := range s.study.Factors {
			own := sweep.Level{}
			if f.Words != nil {
				own.Word = f.Words[at[i]]
			} else {
				own.Number = f.Values[at[i]]
			}
			same = same && levels[i] == own
		}
		if !same {
			continue
		}
		for flown := range 2 {
			m, n := formulaMargins(s.study.Factors, levels, flown)
			if (2*design+flown)%7 == 6 {
				m, n = math.NaN(), math.NaN()
			}
			coolant, oil = math.Min(coolant, m), math.Min(oil, n)
		}
	}
	for i, want := range []float64{coolant, oil} {
		got := k.margins[i][iy][ix]
		if math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > 1e-6*math.Abs(want) {
			t.Errorf("at %v the margin is %g, want %g", at, got, want)
		}
	}
	if math.IsNaN(coolant) {
		return 1
	}
	return 0
}

// The tally of a formula: the rows with most and least margin, and the means at
// the ends of each factor, without the rows that failed.
func TestTally(t *testing.T) {
	s := tugSwept(t, "day.temperature=20 degC..40 degC:5", "exchangers.auxiliary.serves=coolant,oil")
	tally := newTally(s)
	s.rows(t, tally.take)
	if tally.status["caution"] != 18 || tally.status["failed"] != 2 || len(tally.listed) != 20 {
		t.Errorf("rows: %v, %d listed", tally.status, len(tally.listed))
	}
	rows := map[string]string{}
	for _, m := range tally.marks {
		rows[m.what] = m.cells[0]
	}
	// Row 4·i + 2·word + case; at 20, 25, .. 40 °C. Rows 6 and 13 have failed.
	// Coolant is 10·case + t + 2·word, oil t² + word: of equals the first counts.
	want := map[string]string{
		"coolant, most": "19", "coolant, least": "0", "oil, most": "18", "oil, least": "0", "lesser of both, most": "19",
	}
	for what, row := range want {
		if rows[what] != row {
			t.Errorf("%s: row %s, want %s", what, rows[what], row)
		}
	}
	type end struct {
		n            int
		coolant, oil float64
	}
	for i, want := range []end{
		{4, 26, 400.5},  // 20 °C: 20, 30, 22, 32; 400, 400, 401, 401
		{4, 46, 1600.5}, // 40 °C
		// Coolant, without row 13, 35 °C in cruise.
		{9, (2*(20+25+30+35+40) + 5*10 - 45) / 9., (2*(400+625+900+1225+1600) - 1225) / 9.},
		// Oil, without row 6, 25 °C in the tow.
		{9, (2*(22+27+32+37+42) + 5*10 - 27) / 9., (2*(401+626+901+1226+1601) - 626) / 9.},
	} {
		e := tally.effects[i]
		if e.n != want.n || math.Abs(e.sum[0]/float64(e.n)-want.coolant) > 1e-6 || math.Abs(e.sum[1]/float64(e.n)-want.oil) > 1e-4 {
			t.Errorf("effect %d: %d rows, %g and %g, want %+v", i, e.n, e.sum[0]/float64(e.n), e.sum[1]/float64(e.n), want)
		}
	}
	var text bytes.Buffer
	if err := tally.writeText(&text, newScreen(&bytes.Buffer{})); err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"  18 caution, 2 failed\n", "  row 6 failed: no air\n", "  b  exchangers.auxiliary.serves: coolant, oil\n"} {
		if !strings.Contains(text.String(), line) {
			t.Errorf("no line %q in\n%s", line, &text)
		}
	}
}

// Two paths of which one clears the other cannot vary together, in any order.
func TestExclusiveFactors(t *testing.T) {
	sc, err := scenarios.LoadFile(demo, nil)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	height := scenarios.Setting{Path: "exits.belly.height", Text: "6 in, 7 in"}
	width := scenarios.Setting{Path: "exits.belly.width", Text: "12 in, 13 in"}
	area := scenarios.Setting{Path: "exits.belly.area", Text: "80 in^2, 90 in^2"}
	for _, test := range []struct {
		settings []scenarios.Setting
		fine     bool
	}{
		{[]scenarios.Setting{height, width}, true}, {[]scenarios.Setting{height, area}, false},
		{[]scenarios.Setting{area, height}, false}, {[]scenarios.Setting{area, area}, false},
	} {
		var factors []sweep.Factor
		for _, s := range test.settings {
			f, err := sweep.FactorOf(cases, s)
			if err != nil {
				t.Fatal(err)
			}
			factors = append(factors, f)
		}
		if err := sweep.CheckFactors(cases, factors); (err == nil) != test.fine {
			t.Errorf("%v: %v", test.settings, err)
		}
	}
}

func TestSweepThatCannotBePrinted(t *testing.T) {
	for _, format := range []string{"text", "csv", "json"} {
		var stderr bytes.Buffer
		status := app(context.Background(), []string{"sweep", "rotary", "--format", format}, full{}, &stderr)
		if status != exitFailed || stderr.String() != "hotclimb: cannot write the result: no space left\n" {
			t.Errorf("%s: exit status %d, %s", format, status, &stderr)
		}
	}
}

func TestSweepInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stdout, stderr bytes.Buffer
	status := app(ctx, []string{"sweep", "rotary"}, &stdout, &stderr)
	if status != exitFailed || stdout.Len() > 0 || stderr.String() != "hotclimb: interrupted\n" {
		t.Errorf("exit status %d\n%s%s", status, &stdout, &stderr)
	}
}

// The examples of merge, as printed.
func TestMergeExamples(t *testing.T) {
	p := &program{out: newScreen(&bytes.Buffer{}), err: newScreen(&bytes.Buffer{})}
	t.Chdir(t.TempDir())
	for line := range strings.Lines(p.mergeCommand().Example) {
		var stdout, stderr bytes.Buffer
		if status := app(context.Background(), words(line)[1:], &stdout, &stderr); status != exitDone || stdout.Len() == 0 {
			t.Errorf("%sexit status %d\n%s", line, status, &stderr)
		}
	}
}
