package calibrate

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// randomUnits are units that a column of a random log may have.
var randomUnits = map[Quantity][]string{
	Altitude: {"ft", "m"}, Speed: {"kt", "mph", "km/h", "m/s"}, Outside: {"degC", "degF", "K"}, Power: {"hp", "kW", "PS"},
	Coolant: {"degC", "degF"}, Oil: {"degC", "degF", "K"}, RPM: {"rpm"}, Spray: {"L/min", "gal/h"},
}

// TestRandomDialects writes random records in random dialects. Whatever the
// dialect, the readings come back, and nothing is refused.
func TestRandomDialects(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := drawWriter(t)
		rows := rapid.IntRange(1, 40).Draw(t, "rows")
		values := w.draw(t, rows)
		l, err := ReadLog(strings.NewReader(w.text(t, values)), "", w.columns, w.set())
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range l.Faults {
			if f.Kind.Skips() || f.Kind.Refuses() || f.Kind == DoubtedUnit && strings.HasPrefix(f.Message, "the file says") {
				t.Errorf("fault: %v", f)
			}
		}
		if l.Len() != rows || l.Count.Used != rows || l.Count.Skipped != 0 {
			t.Fatalf("%d rows written, %+v", rows, l.Count)
		}
		for i := range rows {
			if want := 0.25 * float64(i); math.Abs(l.Time(i)-want) > 1e-6 {
				t.Fatalf("time %d is %v, want %v", i, l.Time(i), want)
			}
			for _, q := range w.order {
				if q == Time {
					continue
				}
				got, ok := l.Value(q, i)
				s, err := scaleOf(w.columns[q].Unit, q.Dimension())
				want := s.of(values[q][i])
				if err != nil || !ok || math.Abs(got-want) > 1e-6*(math.Abs(want)+math.Abs(s.zero)) {
					t.Fatalf("%s in row %d is %v, want %v", q, i, got, want)
				}
			}
		}
	})
}

// writer writes records in one dialect.
type writer struct {
	columns   ColumnMap
	order     []Quantity
	delimiter string
	decimal   string
	end       string
	quotes    bool
	units     bool
	form      string // of the time
	start     int    // of the record in its day [s]
}

func drawWriter(t *rapid.T) *writer {
	w := &writer{columns: ColumnMap{}}
	w.delimiter = rapid.SampledFrom([]string{",", ";", "\t", "|"}).Draw(t, "delimiter")
	w.decimal = rapid.SampledFrom([]string{".", ","}).Draw(t, "decimal")
	w.end = rapid.SampledFrom([]string{"\n", "\r\n", "\r"}).Draw(t, "end")
	w.quotes = rapid.Bool().Draw(t, "quotes") || w.delimiter == w.decimal
	w.units = rapid.Bool().Draw(t, "units")
	w.form = rapid.SampledFrom([]string{"s", "min", "short", "long", "date"}).Draw(t, "form")
	w.start = rapid.IntRange(0, 24*3600-1).Draw(t, "start")
	some := rapid.Permutation(Quantities()[1:]).Draw(t, "quantities")
	some = some[:rapid.IntRange(1, len(some)).Draw(t, "count")]
	w.order = rapid.Permutation(append([]Quantity{Time}, some...)).Draw(t, "order")
	for _, q := range w.order {
		unit := ""
		switch {
		case q != Time:
			unit = rapid.SampledFrom(randomUnits[q]).Draw(t, "unit")
		case w.form == "s" || w.form == "min":
			unit = w.form
		}
		w.columns[q] = Column{"The " + string(q), unit}
	}
	return w
}

// set tells the decimal sign, for a short record may have no other than 1,234.
func (w *writer) set() LogSettings { return LogSettings{Decimal: rune(w.decimal[0])} }

// draw draws readings in the units of the columns, slow enough for their sensors.
func (w *writer) draw(t *rapid.T, rows int) map[Quantity][]float64 {
	values := map[Quantity][]float64{}
	for _, q := range w.order {
		if q == Time {
			continue
		}
		c := sensors[channelOf(q)]
		s, err := scaleOf(w.columns[q].Unit, q.Dimension())
		if err != nil {
			t.Fatal(err)
		}
		from := rapid.Float64Range(c.least+0.1*(c.most-c.least), c.most-0.1*(c.most-c.least)).Draw(t, "from")
		for range rows {
			v := from + rapid.Float64Range(-0.4, 0.4).Draw(t, "change")*c.step
			written, err := strconv.ParseFloat(strconv.FormatFloat((v-s.zero)/s.factor, 'f', 3, 64), 64)
			if err != nil {
				t.Fatal(err)
			}
			values[q] = append(values[q], written)
		}
	}
	return values
}

// text is a record in the dialect.
func (w *writer) text(t *rapid.T, values map[Quantity][]float64) string {
	var b strings.Builder
	if rapid.Bool().Draw(t, "mark") {
		b.WriteString("\ufeff")
	}
	b.WriteString(strings.Repeat("# a comment"+w.end, rapid.IntRange(0, 3).Draw(t, "comments")))
	var titles, units []string
	for _, q := range w.order {
		titles, units = append(titles, w.columns[q].Header), append(units, w.columns[q].Unit)
	}
	w.line(&b, titles)
	if w.units && slices.ContainsFunc(units, func(u string) bool { return u != "" }) {
		w.line(&b, units)
	}
	for i := range len(values[w.other()]) {
		var row []string
		for _, q := range w.order {
			if q == Time {
				row = append(row, w.time(0.25*float64(i)))
				continue
			}
			row = append(row, w.number(values[q][i]))
		}
		w.line(&b, row)
		if rapid.IntRange(0, 9).Draw(t, "blank") == 0 {
			b.WriteString(w.end)
		}
	}
	return b.String()
}

// other is a quantity that is not the time.
func (w *writer) other() Quantity {
	return w.order[slices.IndexFunc(w.order, func(q Quantity) bool { return q != Time })]
}

func (w *writer) line(b *strings.Builder, cells []string) {
	for i, cell := range cells {
		if i > 0 {
			b.WriteString(w.delimiter)
		}
		if w.quotes {
			cell = `"` + cell + `"`
		}
		b.WriteString(cell)
	}
	b.WriteString(w.end)
}

func (w *writer) number(x float64) string {
	return strings.Replace(strconv.FormatFloat(x, 'f', -1, 64), ".", w.decimal, 1)
}

// time writes a time in the form of the dialect; clocks start again at their end.
func (w *writer) time(t float64) string {
	whole, fraction := w.start+int(t), strings.Replace(fmt.Sprintf("%.2f", t-math.Floor(t)), "0.", w.decimal, 1)
	clock := fmt.Sprintf("%02d:%02d", whole/60%60, whole%60) + fraction
	hours := fmt.Sprintf("%02d:", whole/3600%24)
	switch w.form {
	case "short":
		return clock
	case "long":
		return hours + clock
	case "date":
		return fmt.Sprintf("2026-07-%02dT", 4+whole/86400) + hours + clock
	case "min":
		return w.number((float64(w.start) + t) / 60)
	}
	return w.number(float64(w.start) + t)
}

// TestRandomDamage cuts, doubles and overwrites bytes of a good record. Every line
// is still accounted for.
func TestRandomDamage(t *testing.T) {
	text := flightOf(60, nil)
	rapid.Check(t, func(rt *rapid.T) {
		b := []byte(text)
		for range rapid.IntRange(1, 20).Draw(rt, "damages") {
			at := rapid.IntRange(30, len(b)-1).Draw(rt, "at")
			switch rapid.IntRange(0, 2).Draw(rt, "kind") {
			case 0:
				b[at] = rapid.SampledFrom([]byte(" ,;\"\n\r\x00\xff-.:0159e#")).Draw(rt, "byte")
			case 1:
				b = slices.Delete(b, at, min(len(b), at+rapid.IntRange(1, 40).Draw(rt, "cut")))
			default:
				b = slices.Insert(b, at, slices.Clone(b[at:min(len(b), at+40)])...)
			}
			if len(b) < 40 {
				break
			}
		}
		l, err := ReadLog(strings.NewReader(string(b)), "", plain, LogSettings{})
		if err == nil {
			checkAccounts(t, l)
		}
	})
}
