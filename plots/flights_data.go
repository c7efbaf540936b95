package plots

import (
	"cmp"
	"math"
	"slices"
	"strconv"
)

// readingTables tells how far readings are from the model, record by record,
// and some of the readings of each gauge.
func readingTables(records []FlightRecord, u Units) []Table {
	warmth := Warmth.In(u)
	sum := Table{Caption: "Readings less the model; refused ones are left out", Words: 2, Header: []string{
		"record", "gauge", "readings", "refused", "mean " + warmth.Name, "lowest " + warmth.Name, "highest " + warmth.Name, "noise ± " + warmth.Name,
	}}
	var tables []Table
	for _, circuit := range gaugesRead(records) {
		for i := range records {
			if g := records[i].gauges()[circuit]; len(g.Time) > 0 {
				sum.Rows = append(sum.Rows, g.summary([]string{records[i].Name, circuitNames[circuit]}, warmth))
			}
		}
		tables = append(tables, readingTable(records, circuit, u))
	}
	return append([]Table{sum}, tables...)
}

// summary is what the readings of one gauge come to.
func (g *GaugeReadings) summary(words []string, warmth Unit) []string {
	refused, mean, low, high := 0, 0.0, math.Inf(1), math.Inf(-1)
	for i := range g.Time {
		if g.refused(i) {
			refused++
			continue
		}
		d := g.Read[i] - g.Model[i]
		mean, low, high = mean+d, min(low, d), max(high, d)
	}
	cells := []string{strconv.Itoa(len(g.Time)), strconv.Itoa(refused)}
	if kept := len(g.Time) - refused; kept > 0 {
		cells = append(cells, warmth.Signed(mean/float64(kept)), warmth.Signed(low), warmth.Signed(high))
	} else {
		cells = append(cells, "–", "–", "–")
	}
	noise := "not told"
	if g.Noise > 0 {
		noise = warmth.Number(g.Noise)
	}
	return append(row(words, cells), noise)
}

// readingTable is some readings of each record, that farthest above and that
// farthest below the model among them.
func readingTable(records []FlightRecord, circuit int, u Units) Table {
	const least = 6
	temperature, warmth := Temperature.In(u), Warmth.In(u)
	t := Table{Words: 2, Header: []string{"record", "reading", "time min:s", "read " + temperature.Name, "model " + temperature.Name, "read less model " + warmth.Name}}
	all := 0
	for i := range records {
		g := records[i].gauges()[circuit]
		for _, k := range g.picked(max(least, mostRows/len(records))) {
			word := "used"
			if g.refused(k) {
				word = "refused"
			}
			t.Rows = append(t.Rows, []string{records[i].Name, word, Clock(g.Time[k]), temperature.Number(g.Read[k]), temperature.Number(g.Model[k]),
				warmth.Signed(g.Read[k] - g.Model[k])})
		}
		all += len(g.Time)
	}
	t.Caption = "Readings of the " + circuitNames[circuit] + " gauge" + some(len(t.Rows), all, "readings, the farthest from the model among them")
	return t
}

// picked chooses readings, the farthest above and below the model among them.
func (g *GaugeReadings) picked(most int) []int {
	if len(g.Time) == 0 {
		return nil
	}
	above, below := make([]float64, len(g.Time)), make([]float64, len(g.Time))
	for i := range above {
		above[i], below[i] = g.Read[i]-g.Model[i], g.Model[i]-g.Read[i]
	}
	return picked(len(g.Time), most-2, highest(above), highest(below))
}

// tables are the numbers before and after, and the pairs that go together.
func (l *posterior) tables() []Table {
	t := Table{Caption: "Numbers before and after the fit; ± is one standard deviation", Words: 2, Header: []string{"number", "unit", "before", "after", "moved, in doubts before"}}
	for i := range l.numbers {
		n := &l.numbers[i]
		before, moved := "nothing known", "–"
		if n.Doubt > 0 {
			before, moved = plain(withDoubt(n.Prior, n.Doubt)), plain(signed(n.moved(n.Value), 1))
		}
		held := ""
		if n.Held != "" {
			held = "held " + n.Held
		}
		t.Rows = append(t.Rows, []string{noted(n.Name, held), cmp.Or(Pretty(n.Unit), "none"), before, plain(withDoubt(n.Value, n.After)), moved})
	}
	if l.triangle == nil {
		return []Table{t}
	}
	return []Table{t, l.pairTable()}
}

// pairTable lists correlations, the strongest first.
func (l *posterior) pairTable() Table {
	type pair struct {
		i, j int
		r    float64
	}
	var pairs []pair
	for i, values := range l.triangle.r {
		for j := range i {
			pairs = append(pairs, pair{j, i, values[j]})
		}
	}
	slices.SortStableFunc(pairs, func(a, b pair) int { return cmp.Compare(math.Abs(b.r), math.Abs(a.r)) })
	told := min(len(pairs), mostRows)
	t := Table{
		Caption: "Correlations after the fit, the strongest first" + some(told, len(pairs), "pairs"), Words: 2,
		Header: []string{"number", "with", "correlation"},
	}
	for _, p := range pairs[:told] {
		t.Rows = append(t.Rows, []string{l.numbers[p.i].Name, l.numbers[p.j].Name, plain(signed(p.r, 2))})
	}
	return t
}

func differenceTables(list []Difference, baseline string, u Units) []Table {
	warmth := Warmth.In(u)
	t := Table{
		Caption: "Temperatures less those of the baseline, " + baseline + ", with their intervals", Words: 3,
		Header: []string{"configuration", "circuit", "verdict", "hotter by " + warmth.Name, "from " + warmth.Name, "to " + warmth.Name},
	}
	for i := range list {
		d := &list[i]
		for k, v := range d.circuits() {
			if v != nil {
				t.Rows = append(t.Rows, []string{noted(d.Name, d.Note), circuitNames[k], v.Verdict, warmth.Signed(v.Value), warmth.Signed(v.Low), warmth.Signed(v.High)})
			}
		}
	}
	return []Table{t}
}

func doubtTables(now MarginDoubt, flights []CandidateFlight, u Units) []Table {
	warmth := Warmth.In(u)
	t := Table{
		Caption: "Doubt of the least margins that each flight would leave, one standard deviation", Words: 1,
		Header: []string{"after", "coolant ± " + warmth.Name, "oil ± " + warmth.Name},
		Rows:   [][]string{row([]string{"now, without a flight"}, warmth.numbers(now.Coolant, now.Oil))},
	}
	for _, f := range flights {
		t.Rows = append(t.Rows, row([]string{noted(f.Name, f.Note)}, warmth.numbers(f.Left.Coolant, f.Left.Oil)))
	}
	return []Table{t}
}

func shareTables(list []ShareOfDoubt) []Table {
	t := Table{Caption: "Shares in the variance of the margins, %", Words: 1, Header: []string{"number"}}
	for _, name := range circuitNames {
		t.Header = append(t.Header, name+", alone", name+", in all", name+", in all, interval")
	}
	percent := func(x float64) string { return plain(decimal(100*x, 0)) }
	for i := range list {
		cells := []string{list[i].Name}
		for _, x := range list[i].circuits() {
			interval := "–"
			if x.interval() {
				interval = percent(x.Low) + " to " + percent(x.High)
			}
			cells = append(cells, percent(x.First), percent(x.Total), interval)
		}
		t.Rows = append(t.Rows, cells)
	}
	return []Table{t}
}
