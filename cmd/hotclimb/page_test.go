package main

import (
	"bytes"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	"hotclimb/sim"
)

// invented is a result with everything in it that text can show.
func invented() *sim.Result {
	times, coolant, oil := make([]float64, 121), make([]float64, 121), make([]float64, 121)
	for i := range times {
		times[i] = 5 * float64(i)
		coolant[i] = 110 - 80*math.Exp(-times[i]/120)
		oil[i] = 118 - 90*math.Exp(-times[i]/200)
	}
	return &sim.Result{
		Status: sim.OverLimit,
		Peaks: []sim.Peak{
			{Channel: "coolant_out", Value: 109.5, Time: 600, Altitude: 1500, Caution: 100, Limit: 112, Margin: 2.5},
			{Channel: "oil_sump", Value: 113.5, Time: 600, Altitude: 1500, Caution: 105, Limit: 110, Margin: -3.5, Exceeded: true, TimeToLimit: 421},
		},
		Events: []sim.Event{
			{Time: 60, Altitude: 200, Leg: "climb", What: "coolant thermostat starts to open"},
			{Time: 300, Altitude: 900, Leg: "climb", What: "spray starts"},
			{Time: 360, Altitude: 1000, Leg: "climb", What: "coolant thermostat starts to open"},
		},
		BoilMargin: 12, WaterUsed: 2,
		Worst:      sim.Snapshot{Time: 600, Altitude: 1500, CoolingDrag: 40, InternalDrag: 30, SpillageDrag: 4, ExternalDrag: 6, CostPower: 2000, CostRateOfClimb: 0.2},
		Exchangers: []sim.ExchangerState{{Name: "radiator", Serves: "coolant", AirFlow: 0.8, Heat: 40e3}, {Name: "cooler", Serves: "oil", AirFlow: -0.1, Heat: 3e3, Reversed: true}},
		Trajectory: &sim.Trajectory{Channels: []sim.Channel{{Name: "time_s", Values: times}, {Name: "coolant_out_degC", Values: coolant}, {Name: "oil_sump_degC", Values: oil}}},
	}
}

// shown is an outcome as a screen shows it.
func shown(t *testing.T, r *sim.Result, s *screen) string {
	t.Helper()
	o := demoOutcome(t)
	o.cases[0].result = r
	var b bytes.Buffer
	if err := o.writeText(&b, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// demoOutcome is that of the first case of the demo before it is flown.
func demoOutcome(t *testing.T) *outcome {
	t.Helper()
	c := common{cases: []string{firstCase(t)}, workers: 1}
	o, err := c.prepare(demo)
	if err != nil {
		t.Fatal(err)
	}
	return o
}

func firstCase(t *testing.T) string {
	t.Helper()
	sc, _, err := (&common{}).load(demo)
	if err != nil {
		t.Fatal(err)
	}
	return sc.CaseNames()[0]
}

func TestTextSaysIt(t *testing.T) {
	text := shown(t, invented(), newScreen(&bytes.Buffer{}))
	for _, want := range []string{
		": OVER LIMIT\n",
		"  oil sump       236.3     10:00   4921    221.0  230.0       -6.3         7:01\n",
		"  not reached\n",
		"  boil margin     21.6 °F at the least\n",
		"  spray water     4.4 lb used\n",
		"  cooler           oil           -13.2           171  reversed\n",
		"  cooling drag    9.0 lb costs 2.7 hp, 39 ft/min\n", // no speed below that of least power
		"    1:00    656 ft  climb: coolant thermostat starts to open (2 times, to 6:00)\n",
		"    5:00   2953 ft  climb: spray starts\n",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the text lacks %q:\n%s", want, text)
		}
	}
	r := invented()
	r.BoilMargin = math.Inf(1)
	if text := shown(t, r, newScreen(&bytes.Buffer{})); !strings.Contains(text, "not known: the coolant has no boiling point\n") {
		t.Errorf("a coolant without boiling point:\n%s", text)
	}
}

func TestSprayCautions(t *testing.T) {
	for _, spray := range []bool{true, false} {
		p := &page{screen: newScreen(&bytes.Buffer{})}
		p.cautions(spray)
		if strings.Contains(p.String(), "Water spray") != spray || !strings.Contains(p.String(), "stepwise") {
			t.Errorf("with spray %t:\n%s", spray, p)
		}
	}
}

var escapes = regexp.MustCompile("\x1b\\[[0-9;]*m")

// Colour adds nothing but escape sequences outside the chart, and no line is
// wider than the screen.
func TestScreens(t *testing.T) {
	plainText := shown(t, invented(), newScreen(&bytes.Buffer{}))
	for _, width := range []int{leastWidth, usualWidth, greatestWidth} {
		text := shown(t, invented(), &screen{terminal: true, colour: true, width: width})
		if !strings.Contains(text, "\x1b[31mOVER LIMIT\x1b[0m") {
			t.Error("the status has no colour")
		}
		text = escapes.ReplaceAllString(text, "")
		before, chart, _ := strings.Cut(text, "\n  °F against")
		if want, _, _ := strings.Cut(plainText, "\n  °F against"); before != want {
			t.Errorf("with colour:\n%swithout:\n%s", before, want)
		}
		_, chart, _ = strings.Cut(chart, "\n")
		chart, _, _ = strings.Cut(chart, "\n\n")
		for line := range strings.Lines(chart) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n > width {
				t.Errorf("%d columns on a screen of %d: %s", n, width, line)
			}
		}
	}
	for line := range strings.Lines(plainText) {
		if strings.HasSuffix(line, " \n") || strings.Contains(line, "\x1b") || utf8.RuneCountInString(line) > 1+usualWidth {
			t.Errorf("plain text has %q", line)
		}
	}
}

func TestAbilities(t *testing.T) {
	tests := []struct {
		isTerminal       bool
		term, noColor    string
		terminal, colour bool
	}{
		{true, "xterm-256color", "", true, true},
		{true, "xterm-256color", "1", true, false},
		{true, "dumb", "", false, false},
		{false, "xterm-256color", "", false, false},
	}
	for _, test := range tests {
		env := map[string]string{"TERM": test.term, "NO_COLOR": test.noColor}
		terminal, colour := abilities(test.isTerminal, func(key string) string { return env[key] })
		if terminal != test.terminal || colour != test.colour {
			t.Errorf("%+v: terminal %t, colour %t", test, terminal, colour)
		}
	}
	f, err := os.Create(filepath.Join(t.TempDir(), "file"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if s := newScreen(f); s.terminal || s.colour || s.width != usualWidth {
		t.Errorf("a file is taken for a terminal: %+v", s)
	}
}

func TestEven(t *testing.T) {
	// A bend at an uneven time is met on a straight line each side of it.
	got := even([]float64{0, 1, 10}, []float64{0, 10, 100}, 11)
	for i, v := range got {
		if math.Abs(v-10*float64(i)) > 1e-12 {
			t.Errorf("sample %d is %g, want %d", i, v, 10*i)
		}
	}
}

func TestAxis(t *testing.T) {
	nan := math.NaN()
	tests := []struct {
		values []float64
		lo, hi float64
		rows   int
	}{
		{[]float64{159.2, 240, nan}, 150, 240, 9},
		{[]float64{212, 212}, 212, 212, 1},
		{[]float64{100.1, 111.9}, 100, 112, 12},
		{[]float64{-12, 55}, -20, 60, 8}, // 14 rows of 5 are too many
		{[]float64{nan, math.Inf(1)}, 0, 1, 1},
		{[]float64{40, 2400}, 0, 2400, 12},
	}
	for _, test := range tests {
		lo, hi, rows := axis([][]float64{{nan}, test.values})
		if lo != test.lo || hi != test.hi || rows != test.rows {
			t.Errorf("%v: %g to %g in %d rows, want %g to %g in %d", test.values, lo, hi, rows, test.lo, test.hi, test.rows)
		}
	}
}
