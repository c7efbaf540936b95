package calibrate

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"
)

// kinds counts the faults of a log by kind.
func kinds(l *Log) map[FaultKind]int {
	counts := map[FaultKind]int{}
	for _, f := range l.Faults {
		counts[f.Kind] += max(f.Rows, 1)
	}
	return counts
}

// TestClocks: clocks that fall without having passed their end, and texts that are
// no time.
func TestClocks(t *testing.T) {
	for _, c := range []struct {
		name   string
		times  []string
		rows   int
		wraps  int
		length float64 // s
	}{
		{"zero for a moment", []string{"12:00:00", "00:00:00", "12:00:02"}, 2, 0, 2},
		{"an hour back", []string{"12:00:00", "11:00:00", "12:00:02"}, 2, 0, 2},
		{"midnight after an hour's gap", []string{"23:30:00", "00:30:00"}, 2, 1, 3600},
		{"midnight after more", []string{"23:00:00", "00:30:00", "23:00:02"}, 2, 0, 2},
		{"two midnights", []string{"23:59:59", "00:00:00", "12:00:00", "23:59:59", "00:00:01"}, 5, 2, 86402},
		{"an hour of minutes", []string{"58:00", "00:20"}, 2, 1, 140},
		{"minutes back", []string{"50:00", "00:20", "50:01"}, 2, 0, 1},
		{"minutes above 59", []string{"59:59", "60:00", "60:01"}, 3, 0, 2},
		{"bad clocks", []string{"12:00:00", "12:75:00", "12:00:75", "1:2:3", "12:00:00:00", "12:00:01.", "12:00:01.-5", "-1:00:00", ":00:01", "12345:00:01", "12:00:02"}, 2, 0, 2},
		{"75 seconds", []string{"12:00:00", "12:00:75", "12:02:00"}, 2, 0, 120},
		{"bad dates", []string{"2026-07-04 12:00:00", "2026-13-04 12:00:00", "2026-07-04 12-00-01", "2026-07-0412:00:01", "2026-07-04 12:00:02"}, 2, 0, 2},
		{"huge", []string{"1", "1e300", "2"}, 2, 0, 1},
	} {
		text := "Time,Altitude,Coolant\n" + strings.Join(c.times, ",1000,180\n") + ",1000,180\n"
		l := read(t, text, plain, LogSettings{})
		if l.Len() != c.rows || kinds(l)[Wrap] != c.wraps || l.Time(l.Len()-1) != c.length {
			t.Errorf("%s: %d rows, %v s; %v", c.name, l.Len(), l.Time(l.Len()-1), l.Faults)
		}
	}
}

// TestStart: a file with dates says when it starts.
func TestStart(t *testing.T) {
	l := read(t, "Time,Altitude,Coolant\n2026-07-04T23:59:59+02:00,1000,180\n2026-07-05T00:00:00+02:00,1000,180\n", plain, LogSettings{})
	if want := time.Date(2026, 7, 4, 21, 59, 59, 0, time.UTC); !l.Start.Equal(want) {
		t.Errorf("starts %v, want %v", l.Start, want)
	}
	if l = read(t, flightOf(3, nil), plain, LogSettings{}); !l.Start.IsZero() {
		t.Errorf("starts %v without dates", l.Start)
	}
}

// TestLineCount: CR LF is one end of a line, LF CR are two.
func TestLineCount(t *testing.T) {
	for text, want := range map[string]LogCount{
		"Time,Altitude,Coolant\r\n0,1000,180\r\n1,1000,180\r\n":     {Lines: 3, Leading: 1, Rows: 2, Used: 2},
		"Time,Altitude,Coolant\r0,1000,180\r\r1,1000,180":           {Lines: 4, Leading: 1, Blank: 1, Rows: 2, Used: 2},
		"Time,Altitude,Coolant\n0,1000,180\n\r1,1000,180\n":         {Lines: 4, Leading: 1, Blank: 1, Rows: 2, Used: 2},
		"#\n\nTime,Altitude,Coolant\ns,ft,F\n0,1000,180\n1,x,x\n\n": {Lines: 7, Leading: 4, Blank: 1, Rows: 2, Used: 1, Skipped: 1},
	} {
		if l := read(t, text, plain, LogSettings{}); l.Count != want {
			t.Errorf("%q: %+v, want %+v", text, l.Count, want)
		}
	}
}

// TestTornRows: a row that ends in the last column that is read may be torn there,
// but one that ends behind it has all that is needed.
func TestTornRows(t *testing.T) {
	l := read(t, "Time,Altitude,Coolant,Volts,Amps\n0,1000,180,13,5\n1,1000,18\n2,1000,180,13\n3,1000\n4,1000,180,13,5\n", plain, LogSettings{})
	if l.Len() != 3 || l.Line(1) != 4 || kinds(l)[BadShape] != 2 {
		t.Errorf("%d rows; %v", l.Len(), l.Faults)
	}
}

// TestDecimalFound: what decides for the decimal comma, and what does not.
func TestDecimalFound(t *testing.T) {
	for _, c := range []struct {
		rows string
		want float64 // first altitude [ft], 0 for an error
	}{
		{"0;1250,5;180\n", 1250.5}, {"0;0,125;180\n", 0.125}, {"0;1250;180,5\n", 1250}, {"0;1,250;180,5\n", 1.25},
		{"0;1,250;180\n", 0}, {"0;\"1,250\";180.5\n1;2.5;180\n", 2.5},
	} {
		l, err := ReadLog(strings.NewReader("Time;Altitude;Coolant\n"+c.rows), "", plain, LogSettings{})
		if (err != nil) != (c.want == 0) {
			t.Errorf("%q: %v", c.rows, err)
			continue
		}
		if err != nil {
			continue
		}
		h, ok := l.Value(Altitude, 0)
		if !ok {
			h, _ = l.Value(Altitude, 1)
		}
		if math.Abs(h/foot-c.want) > 1e-5*c.want {
			t.Errorf("%q: altitude %v ft, want %v", c.rows, h/foot, c.want)
		}
	}
}

// course writes a record at 1 Hz from functions of the time.
func course(seconds int, high, air, warm func(t float64) float64) string {
	var b strings.Builder
	b.WriteString("t,h,a,c\n")
	for i := range seconds {
		t := float64(i)
		fmt.Fprintf(&b, "%d,%.0f,%.2f,%.2f\n", i, high(t), air(t), warm(t))
	}
	return b.String()
}

var courseColumns = ColumnMap{Time: {"t", "s"}, Altitude: {"h", "m"}, Outside: {"a", "degC"}, Coolant: {"c", "degC"}}

// TestStuckRules: what a rest of 100 s means beside what else moves.
func TestStuckRules(t *testing.T) {
	rising := func(t float64) float64 { return 500 + 4*t }
	level := func(float64) float64 { return 500 }
	slow := func(t float64) float64 { return 500 + 2.5*t } // 167 m between the thirds of 100 s
	drifting := func(t float64) float64 { return 10 + 0.01*t }
	warming := func(t float64) float64 { return 80 + 0.02*t }
	resting := func(f func(float64) float64) func(float64) float64 {
		return func(t float64) float64 {
			if t >= 100 && t <= 200 {
				return f(100)
			}
			return f(t)
		}
	}
	for _, c := range []struct {
		name            string
		high, air, warm func(float64) float64
		coolant, air2   int // readings refused
	}{
		{"coolant in a climb", rising, drifting, resting(warming), 101, 0},
		{"coolant in level flight", level, drifting, resting(warming), 0, 0},
		{"air in a climb of 2.5 m/s", slow, resting(drifting), warming, 0, 0},
		{"air in a climb of 4 m/s", func(t float64) float64 { return 500 + 5*t }, resting(drifting), warming, 0, 101},
		{"air in level flight", level, resting(drifting), warming, 0, 0},
		{"coolant that shows whole degrees", rising, drifting, func(t float64) float64 { return math.Floor(80 + 0.01*t) }, 0, 0},
	} {
		l := read(t, course(300, c.high, c.air, c.warm), courseColumns, LogSettings{})
		if l.Refused(Coolant) != c.coolant || l.Refused(Outside) != c.air2 {
			t.Errorf("%s: %d and %d readings refused; %v", c.name, l.Refused(Coolant), l.Refused(Outside), l.Faults)
		}
	}
	// The logger is off for 60 of the 100 s: what the coolant did is not known.
	lines := strings.SplitAfter(course(300, rising, drifting, resting(warming)), "\n")
	l := read(t, strings.Join(append(lines[:121:121], lines[181:]...), ""), courseColumns, LogSettings{})
	if l.Refused(Coolant) > 0 || kinds(l)[Gap] != 1 {
		t.Errorf("over a gap: %v", l.Faults)
	}
}

// TestManySpikes: more spikes than are told apart.
func TestManySpikes(t *testing.T) {
	spiky := func(i int, row []string) []string {
		if i%4 == 2 {
			row[2] = "40"
		}
		return row
	}
	l := read(t, flightOf(1200, spiky), plain, LogSettings{})
	if kinds(l)[Spike] != 300 || len(l.Faults) != mostFaults {
		t.Errorf("%d readings in %d faults", kinds(l)[Spike], len(l.Faults))
	}
}

// TestThermometers: which readings look like those of another unit.
func TestThermometers(t *testing.T) {
	columns := func(unit string) ColumnMap {
		return ColumnMap{Time: {"t", "s"}, Outside: {"a", unit}, Coolant: {"c", unit}, Oil: {"o", unit}, Power: {"p", "kW"}}
	}
	row := "t,a,c,o,p\n0,%[1]s\n1,%[1]s\n2,%[1]s\n"
	for _, c := range []struct {
		unit, row string
		says      []string
	}{
		{"degC", "20,90,100,80", nil}, {"degF", "70,190,210,80", nil}, {"K", "290,360,370,80", nil},
		{"degF", "20,90,100,80", []string{"c: readings of about 90 look like degC", "o: readings of about 100 look like degC"}},
		{"degF", "20,90,100,2", nil},
		{"degF", "20,30,40,80", nil}, // too cold in either unit
		{"degC", "75,90,100,80", []string{"a: readings of about 75 look like degF"}},
		{"degC", "20,190,210,80", []string{"c: readings of about 190 look like degF", "o: readings of about 210 look like degF"}},
	} {
		l := read(t, fmt.Sprintf(row, c.row), columns(c.unit), LogSettings{})
		var told []string
		for _, f := range l.Faults {
			if f.Kind == DoubtedUnit {
				told = append(told, f.Error())
			}
		}
		if len(told) != len(c.says) {
			t.Errorf("%s in %s: %q", c.row, c.unit, told)
			continue
		}
		for i, says := range c.says {
			if !strings.Contains(told[i], says) {
				t.Errorf("%s in %s: %q, want %q", c.row, c.unit, told[i], says)
			}
		}
	}
}

// TestSampler: of many values no more than 4096 are kept, evenly over all.
func TestSampler(t *testing.T) {
	var s sampler
	for i := range 100_000 {
		s.add(float64(i))
	}
	if len(s.kept) > 4096 || len(s.kept) < 2048 || math.Abs(s.quantile(0.9)-90_000) > 200 || math.Abs(s.quantile(0.1)-10_000) > 200 {
		t.Errorf("%d kept, quantiles %v and %v", len(s.kept), s.quantile(0.1), s.quantile(0.9))
	}
	if q := new(sampler).quantile(0.5); !math.IsNaN(q) {
		t.Errorf("a quantile of nothing is %v", q)
	}
}

// TestRateNeedsReadings: a window with readings in fewer than half of its rows has
// no rate.
func TestRateNeedsReadings(t *testing.T) {
	sparse := func(share int) func(i int, row []string) []string {
		return func(i int, row []string) []string {
			row[2] = "180"
			if i%share > 0 {
				row[2] = ""
			}
			return row
		}
	}
	for share, want := range map[int]int{1: 1, 2: 1, 3: 0} {
		settled := 0
		for _, s := range Segments(read(t, flightOf(300, sparse(share)), plain, LogSettings{Rest: 1000}), SegmentSettings{}) {
			if s.Kind == Settled {
				settled++
			}
		}
		if settled != want {
			t.Errorf("one reading in %d rows: %d settled segments, want %d", share, settled, want)
		}
	}
}
