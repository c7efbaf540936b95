package calibrate

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"
	"testing/iotest"
)

// plain are the columns of most logs in these tests.
var plain = ColumnMap{
	Time:     {Header: "Time", Unit: "s"},
	Altitude: {Header: "Altitude", Unit: "ft"},
	Coolant:  {Header: "Coolant", Unit: "degF"},
}

// read reads a log that must be readable, and checks its accounts.
func read(t *testing.T, text string, columns ColumnMap, set LogSettings) *Log {
	t.Helper()
	l, err := ReadLog(strings.NewReader(text), "", columns, set)
	if err != nil {
		t.Fatalf("%v in\n%.600s", err, text)
	}
	checkAccounts(t, l)
	return l
}

// checkAccounts checks that every line and row of a log is accounted for.
func checkAccounts(t *testing.T, l *Log) {
	t.Helper()
	c := l.Count
	if c.Lines != c.Leading+c.Blank+c.Rows || c.Rows != c.Used+c.Skipped || c.Used != l.Len() {
		t.Errorf("lines or rows are lost: %+v, %d rows", c, l.Len())
	}
	skipped, refused := 0, map[string]int{}
	for _, f := range l.Faults {
		if f.Kind.Skips() {
			skipped += f.Rows
		}
		if f.Kind.Refuses() {
			refused[f.Column] += f.Rows
		}
		if f.Line > f.Last || f.Message == "" {
			t.Errorf("bad fault %+v", f)
		}
	}
	if skipped != c.Skipped {
		t.Errorf("%d rows are skipped and %d are told", c.Skipped, skipped)
	}
	for q, column := range l.Columns {
		if told := refused[column.Header]; l.Refused(q) > told {
			t.Errorf("%s lacks %d readings and %d are told", q, l.Refused(q), told)
		}
	}
	for i := 1; i < l.Len(); i++ {
		if !(l.Time(i) > l.Time(i-1)) || l.Line(i) <= l.Line(i-1) {
			t.Errorf("row %d does not follow", i)
		}
	}
}

// TestDialects reads the same three rows from many ways to write them.
func TestDialects(t *testing.T) {
	metric := ColumnMap{Time: {"Time", ""}, Altitude: {"Altitude", "m"}, Coolant: {"Coolant", "degC"}}
	marked := ColumnMap{Time: {"Time", ""}, Altitude: {"Höhe (m)", "m"}, Coolant: {"Coolant (°C)", "degC"}}
	numbered := ColumnMap{Time: {"#1", ""}, Altitude: {"#2", "m"}, Coolant: {"#4", "degC"}}
	for _, c := range []struct {
		name, text string
		columns    ColumnMap
	}{
		{"comma", "Time,Altitude,Coolant\n0,100,87.5\n1,105,87.6\n2.5,110,87.8\n", metric},
		{"no end", "Time,Altitude,Coolant\n0,100,87.5\n1,105,87.6\n2.5,110,87.8", metric},
		{"CR LF", "Time,Altitude,Coolant\r\n0,100,87.5\r\n1,105,87.6\r\n2.5,110,87.8\r\n", metric},
		{"CR", "Time,Altitude,Coolant\r0,100,87.5\r1,105,87.6\r2.5,110,87.8\r", metric},
		{"BOM", "\ufeffTime,Altitude,Coolant\n0,100,87.5\n1,105,87.6\n2.5,110,87.8\n", metric},
		{"semicolon, decimal comma", "Time;Altitude;Coolant\n0;100;87,5\n1;105;87,6\n2,5;110;87,8\n", metric},
		{"quoted decimal comma", "Time,Altitude,Coolant\n0,100,\"87,5\"\n1,105,\"87,6\"\n\"2,5\",110,\"87,8\"\n", metric},
		{"tab", "Time\tAltitude\tCoolant\n0\t100\t87.5\n1\t105\t87.6\n2.5\t110\t87.8\n", metric},
		{"bar and spaces", " Time | Altitude | Coolant \n 0 | 100 | 87.5 \n1|105|87.6\n2.5|110|87.8\n", metric},
		{"quotes", "\"Time\",\"Altitude\",\"Coolant\"\n\"0\",\"100\",\"87.5\"\n1,105,87.6\n2.5,110,87.8\n", metric},
		{"comments, blanks and units", "# made by hand\nno,header\n\nTime,Altitude,Coolant\ns,m,°C\n\n0,100,87.5\n1,105,87.6\n\n2.5,110,87.8\n\n", metric},
		{"more columns", "Note,Time,x,Coolant,Altitude,y\n\"a, b\",0,,87.5,100,\nc,1,7,87.6,105,8\n\"d \"\"e\"\"\",2.5,,87.8,110,\n", metric},
		{"case of letters", "TIME,ALTITUDE,coolant\n0,100,87.5\n1,105,87.6\n2.5,110,87.8\n", metric},
		{"delimiter in a header", "Time;Altitude;Coolant;Roll, pitch\n0;100;87.5;1\n1;105;87.6;2\n2.5;110;87.8;3\n", metric},
		{"minutes and seconds", "Time,Altitude,Coolant\n59:59,100,87.5\n1:00:00,105,87.6\n1:00:01.5,110,87.8\n", metric},
		{"the hour passes", "Time,Altitude,Coolant\n59:59,100,87.5\n00:00,105,87.6\n00:01.5,110,87.8\n", metric},
		{"clock", "Time,Altitude,Coolant\n9:59:59.5,100,87.5\n10:00:00.500,105,87.6\n10:00:02,110,87.8\n", metric},
		{"clock, decimal comma", "Time;Altitude;Coolant\n9:59:59,5;100;87,5\n10:00:00,5;105;87,6\n10:00:02;110;87,8\n", metric},
		{"midnight passes", "Time,Altitude,Coolant\n23:59:59,100,87.5\n00:00:00,105,87.6\n00:00:01.5,110,87.8\n", metric},
		{"dates", "Time,Altitude,Coolant\n2026-07-04T23:59:59,100,87.5\n2026-07-05T00:00:00,105,87.6\n2026-07-05 00:00:01.5,110,87.8\n", metric},
		{"dates with zones", "Time,Altitude,Coolant\n2026-07-04T23:59:59Z,100,87.5\n2026-07-05T02:00:00+02:00,105,87.6\n2026-07-05T00:00:01.500Z,110,87.8\n", metric},
		{"Latin-1", "Time,H\xf6he (m),Coolant (\xb0C)\n0,100,87.5\n1,105,87.6\n2.5,110,87.8\n", marked},
		{"no header, decimal comma", "0,0;100;x;87,5\n1,0;105;x;87,6\n2,5;110;x;87,8\n", numbered},
		{"no header", "0,100,x,87.5\n1,105,x,87.6\n2.5,110,x,87.8\n", numbered},
		{"header not used", "# made\na,b,c,d\n0,100,x,87.5\n1,105,x,87.6\n2.5,110,x,87.8\n", numbered},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := read(t, c.text, c.columns, LogSettings{})
			if l.Len() != 3 {
				t.Fatalf("%d rows; %v", l.Len(), l.Faults)
			}
			for i, want := range [][3]float64{{0, 100, 87.5}, {1, 105, 87.6}, {2.5, 110, 87.8}} {
				high, ok := l.Value(Altitude, i)
				warm, too := l.Value(Coolant, i)
				if !ok || !too || math.Abs(l.Time(i)-want[0]) > 1e-9 || high != want[1] || math.Abs(warm-want[2]) > 1e-5 {
					t.Errorf("row %d is %v %v %v, want %v", i, l.Time(i), high, warm, want)
				}
			}
			for _, f := range l.Faults {
				if f.Kind != Wrap && f.Kind != OtherText {
					t.Errorf("fault: %v", f)
				}
			}
		})
	}
}

// TestUnits: 10 °F is 5/9·(10-32) °C; the other factors are exact by definition.
func TestUnits(t *testing.T) {
	columns := ColumnMap{
		Time: {"t", "min"}, Altitude: {"h", "ft"}, Speed: {"v", "kt"}, Outside: {"a", "degF"}, Power: {"p", "hp"},
		Coolant: {"c", "K"}, Oil: {"o", "degC"}, RPM: {"n", "rpm"}, Spray: {"s", "L/min"},
	}
	l := read(t, "t,h,v,a,p,c,o,n,s\n1,1000,90,10,100,360.15,99,2400,6\n2,1000,90,10,100,360.15,99,2400,6\n", columns, LogSettings{})
	if l.Time(1) != 60 {
		t.Errorf("time is %v", l.Time(1))
	}
	for q, want := range map[Quantity]float64{
		Altitude: 304.8, Speed: 90 * 1852. / 3600, Outside: -22 / 1.8, Power: 74569.98715822702, Coolant: 87, Oil: 99,
		RPM: 80 * math.Pi, Spray: 1e-4,
	} {
		if v, ok := l.Value(q, 0); !ok || math.Abs(v-want) > 1e-6*math.Abs(want) {
			t.Errorf("%s is %v, want %v", q, v, want)
		}
	}
}

// TestRefused: errors that end the reading.
func TestRefused(t *testing.T) {
	good := "Time,Altitude,Coolant\n0,100,180\n"
	for _, c := range []struct {
		name, text string
		columns    ColumnMap
		set        LogSettings
		says       string
	}{
		{"empty", "", plain, LogSettings{}, "the file is empty"},
		{"no row", "Time,Altitude,Coolant\n", plain, LogSettings{}, "no row is usable"},
		{"no usable row", "Time,Altitude,Coolant\nx,1,2\n", plain, LogSettings{}, `"x" is not a time`},
		{"a header lacks", "Time,Altitude,Water\n0,100,180\n", plain, LogSettings{}, `line 1 lacks "Coolant"`},
		{"a header twice", "Time,Altitude,Coolant,Coolant\n0,100,180,1\n", plain, LogSettings{}, "write #3 or #4"},
		{"UTF-16", "\xff\xfeT\x00i\x00", plain, LogSettings{}, "UTF-16"},
		{"no time", good, ColumnMap{Coolant: {"Coolant", "degF"}}, LogSettings{}, "no column is the time"},
		{"time alone", good, ColumnMap{Time: {"Time", "s"}}, LogSettings{}, "no column but the time"},
		{"no quantity", good, ColumnMap{Time: {"Time", "s"}, "fuel": {"Altitude", "ft"}}, LogSettings{}, `"fuel" is no quantity`},
		{"no header", good, ColumnMap{Time: {"Time", "s"}, Oil: {"", "degF"}}, LogSettings{}, "oil has no header"},
		{"no unit", good, ColumnMap{Time: {"Time", "s"}, Oil: {"Coolant", ""}}, LogSettings{}, `oil: column "Coolant" has no unit; write Coolant [UNIT]`},
		{"wrong unit", good, ColumnMap{Time: {"Time", "s"}, Oil: {"Coolant", "psi"}}, LogSettings{}, "pressure"},
		{"a doubt for a unit", good, ColumnMap{Time: {"Time", "s"}, Oil: {"Coolant", "degF ± 3"}}, LogSettings{}, "no unit"},
		{"comma or thousands", "Time;Altitude;Coolant\n0;1,250;180\n", plain, LogSettings{}, "say which sign"},
		{"delimiter", good, plain, LogSettings{Delimiter: ':'}, "not between cells"},
		{"decimal", good, plain, LogSettings{Decimal: '\''}, "no decimal sign"},
		{"gap", good, plain, LogSettings{Gap: -1}, "negative"},
	} {
		l, err := ReadLog(strings.NewReader(c.text), "a.csv", c.columns, c.set)
		if err == nil || l != nil || !strings.HasPrefix(err.Error(), "a.csv: ") || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", c.name, err, c.says)
		}
	}
	broken := io.MultiReader(strings.NewReader(good+"1,100,180\n"), iotest.ErrReader(errors.New("the card is gone")))
	if _, err := ReadLog(broken, "", plain, LogSettings{}); err == nil || !strings.Contains(err.Error(), "the card is gone") {
		t.Errorf("a broken reader gives %v", err)
	}
}

// flight is a climb of n seconds at 1 Hz that warms by 0.1 °F a second; change
// edits its rows.
func flightOf(n int, change func(i int, row []string) []string) string {
	var b strings.Builder
	b.WriteString("Time,Altitude,Coolant\n")
	for i := range n {
		row := []string{fmt.Sprint(i), fmt.Sprint(1000 + 15*i), fmt.Sprintf("%.1f", 170+0.1*float64(i))}
		if change != nil {
			row = change(i, row)
		}
		b.WriteString(strings.Join(row, ",") + "\n")
	}
	return b.String()
}

// cell returns a change that puts text into a column of rows from first to last.
func cell(column, first, last int, text string) func(i int, row []string) []string {
	return func(i int, row []string) []string {
		if i >= first && i <= last {
			row[column] = text
		}
		return row
	}
}

// whole returns a change that puts a line in place of a row.
func whole(at int, line string) func(i int, row []string) []string {
	return func(i int, row []string) []string {
		if i == at {
			return []string{line}
		}
		return row
	}
}

// TestFaults spoils a flight of 200 rows, of which row i stands in line i+2.
func TestFaults(t *testing.T) {
	for _, c := range []struct {
		name          string
		change        func(i int, row []string) []string
		kind          FaultKind
		skips, refuse int    // rows and coolant readings
		says          string // the only fault
	}{
		{"nothing", nil, 0, 0, 0, ""},
		{"empty cells", cell(2, 10, 12, ""), Missing, 0, 3, "lines 12-14: Coolant: no reading"},
		{"dashes", cell(2, 10, 10, "---"), Missing, 0, 1, "line 12: Coolant: no reading"},
		{"a word", cell(2, 10, 10, "warm"), NotNumber, 0, 1, `line 12: Coolant: "warm" is not a number`},
		{"hexadecimal", cell(2, 10, 10, "0x7F"), NotNumber, 0, 1, `line 12: Coolant: "0x7F" is not a number`},
		{"infinite", cell(2, 10, 10, "1e999"), NotNumber, 0, 1, `line 12: Coolant: "1e999" is not a number`},
		{"thousands", cell(2, 10, 10, `"1,170"`), NotNumber, 0, 1, `line 12: Coolant: "1,170" has a comma, and the decimal sign is a point`},
		{"broken wire", cell(2, 10, 11, "999"), OutOfRange, 0, 2, "lines 12-13: Coolant: 999 degF is outside -40 degF to 392 degF"},
		{"spike", cell(2, 10, 10, "250"), Spike, 0, 1, "line 12: Coolant: goes from 170.9 degF to 250 degF in 1 s, but not for long"},
		{"spike of 5 s", cell(2, 10, 14, "200"), Spike, 0, 5, "lines 12-16: Coolant: goes from 170.9 degF to 200 degF in 1 s, but not for long"},
		{"spike at the start", cell(2, 0, 2, "100"), Spike, 0, 3, "lines 2-4: Coolant: goes from 100 degF to 170.3 degF in 1 s and stays there"},
		{"spike at the end", cell(2, 197, 199, "100"), Spike, 0, 3, "lines 199-201: Coolant: goes from 189.6 degF to 100 degF in 1 s, and the record ends"},
		{"jump", cell(2, 150, 199, "150"), Jump, 0, 0, "line 152: Coolant: goes from 184.9 degF to 150 degF in 1 s and stays there"},
		{"stuck", cell(2, 100, 160, "180.0"), Stuck, 0, 61, "lines 102-162: Coolant: stuck at 180 degF for 60 s"},
		{"time goes back", cell(0, 10, 12, "5"), BadTime, 3, 0, "lines 12-14: Time: the time goes backwards by 4 s"},
		{"time stands", cell(0, 10, 10, "9"), BadTime, 1, 0, "line 12: Time: the time stands still"},
		{"time ahead", cell(0, 10, 10, "500"), BadTime, 1, 0, "line 12: Time: the time runs ahead of the next row by 489 s"},
		{"no time", cell(0, 10, 10, ""), BadTime, 1, 0, `line 12: Time: "" is not a time`},
		{"a clock among seconds", cell(0, 10, 10, "0:10"), BadTime, 1, 0, "line 12: Time: the time is written in another way than in the first row"},
		{"torn", whole(10, "10,1150"), BadShape, 1, 0, "line 12: 2 cells are too few"},
		{"too many", whole(10, "10,1150,171,0"), BadShape, 1, 0, "line 12: 4 cells, and the header has 3"},
		{"trailing commas", whole(10, "10,1150,171.0,,"), 0, 0, 0, ""},
		{"header again", whole(10, "Time,Altitude,Coolant"), BadShape, 1, 0, "line 12: the header again"},
		{"comment", whole(10, "# restarted"), BadShape, 1, 0, "line 12: a comment"},
		{"NUL", whole(10, "10,\x00\x00,171"), BadText, 1, 0, "line 12: NUL bytes"},
		{"not UTF-8", whole(10, "10,1150,171\xff"), BadText, 1, 0, "line 12: not UTF-8"},
		{"open quote", whole(10, `10,1150,"171`), BadText, 1, 0, "line 12: a quote is open or ends inside its cell"},
		{"endless", whole(10, strings.Repeat("1,", 40000)), BadText, 1, 0, "line 12: the line is longer than 65536 bytes"},
		{"nothing at all", whole(10, "10,,"), Unusable, 1, 0, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			l := read(t, flightOf(200, c.change), plain, LogSettings{})
			if l.Count.Skipped != c.skips || l.Refused(Coolant) != c.refuse || l.Count.Rows != 200 {
				t.Errorf("%d rows skipped, %d readings refused, want %d, %d; %v", l.Count.Skipped, l.Refused(Coolant), c.skips, c.refuse, l.Faults)
			}
			if c.kind == Unusable {
				if len(l.Faults) != 3 {
					t.Errorf("faults: %v", l.Faults)
				}
				return
			}
			if c.says == "" && len(l.Faults) > 0 || c.says != "" && (len(l.Faults) != 1 || l.Faults[0].Error() != c.says || l.Faults[0].Kind != c.kind) {
				t.Errorf("faults: %v\nwant     %s", l.Faults, c.says)
			}
		})
	}
}

// TestReach: numbers of the formula, by hand.
func TestReach(t *testing.T) {
	for dt, want := range map[float64]float64{0: 3, 1: 8, 6: 33, 66: 48, 306: 108} {
		if got := sensors[coolant].reach(dt); math.Abs(got-want) > 1e-12 {
			t.Errorf("coolant may get %v K away in %v s, want %v", got, dt, want)
		}
	}
}

// TestGap leaves 30 rows out of a flight.
func TestGap(t *testing.T) {
	text := flightOf(200, nil)
	lines := strings.SplitAfter(text, "\n")
	l := read(t, strings.Join(append(lines[:50:50], lines[80:]...), ""), plain, LogSettings{})
	if len(l.Faults) != 1 || l.Faults[0].Kind != Gap || l.Faults[0].Error() != "lines 50-51: Time: no row for 31 s, and 1 s are usual" {
		t.Errorf("faults: %v", l.Faults)
	}
}

// TestRests: temperatures that rest without being stuck.
func TestRests(t *testing.T) {
	level := func(i int, row []string) []string { row[1], row[2] = "5000", "180.0"; return row }
	coarse := func(i int, row []string) []string { row[2] = fmt.Sprint(170 + i/100); return row }
	short := cell(2, 100, 158, "180.0")
	for name, change := range map[string]func(i int, row []string) []string{"level": level, "coarse": coarse, "short": short} {
		l := read(t, flightOf(400, change), plain, LogSettings{})
		if len(l.Faults) > 0 {
			t.Errorf("%s: %v", name, l.Faults)
		}
	}
}

// TestDoubtedUnits: readings that look like another unit.
func TestDoubtedUnits(t *testing.T) {
	celsius := func(i int, row []string) []string { row[2] = fmt.Sprintf("%.1f", 85+0.05*float64(i)); return row }
	l := read(t, flightOf(200, celsius), plain, LogSettings{})
	want := "lines 2-201: Coolant: readings of about 94 look like degC and are read as degF"
	if len(l.Faults) != 1 || l.Faults[0].Error() != want {
		t.Errorf("faults: %v", l.Faults)
	}
	columns := ColumnMap{Time: {"Time", "s"}, Altitude: {"Altitude", "ft"}, Coolant: {"Coolant", "degC"}}
	l = read(t, flightOf(200, nil), columns, LogSettings{})
	want = "lines 2-201: Coolant: readings of about 188 look like degF and are read as degC"
	if len(l.Faults) != 1 || l.Faults[0].Error() != want {
		t.Errorf("faults: %v", l.Faults)
	}
	units := strings.Replace(flightOf(200, nil), "\n", "\ns,m,F\n", 1)
	l = read(t, units, plain, LogSettings{})
	want = "lines 3-202: Altitude: the file says m, and it is read as ft"
	if len(l.Faults) != 1 || l.Faults[0].Error() != want {
		t.Errorf("faults: %v", l.Faults)
	}
}

// TestManyFaults: a file with a fault in every other row has a short list.
func TestManyFaults(t *testing.T) {
	odd := func(i int, row []string) []string {
		if i%2 == 1 {
			row[2] = "?"
		}
		return row
	}
	l := read(t, flightOf(2000, odd), ColumnMap{Time: plain[Time], Coolant: plain[Coolant]}, LogSettings{})
	counts := map[FaultKind]int{}
	for _, f := range l.Faults {
		counts[f.Kind]++
	}
	if counts[NotNumber] != mostFaults || counts[Unusable] != mostFaults {
		t.Errorf("faults by kind: %v", counts)
	}
	last := l.Faults[len(l.Faults)-1]
	if last.Rows != 1000-mostFaults+1 || !strings.Contains(last.Error(), fmt.Sprintf("(%d of them)", last.Rows)) {
		t.Errorf("the last: %v", last)
	}
}

// TestDecimalSet: a setting decides what 1,250 is.
func TestDecimalSet(t *testing.T) {
	text := "Time;Altitude;Coolant\n0;1,250;180\n1;2;180\n"
	l := read(t, text, plain, LogSettings{Decimal: ','})
	if h, _ := l.Value(Altitude, 0); math.Abs(h-1.25*0.3048) > 1e-6 {
		t.Errorf("1,250 ft is %v m", h)
	}
	l = read(t, text, plain, LogSettings{Decimal: '.'})
	if _, ok := l.Value(Altitude, 0); ok || len(l.Faults) != 1 {
		t.Errorf("1,250 is read with a decimal point; %v", l.Faults)
	}
}
