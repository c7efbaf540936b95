package plots_test

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"hotclimb/plots"
)

// samples are all figures that the tests know, in both systems of units.
func samples(t *testing.T) map[string]*plots.Figure {
	t.Helper()
	all := map[string]*plots.Figure{}
	for u, system := range map[plots.Units]string{plots.US: " us", plots.SI: " si"} {
		for name, f := range situations() {
			fig, err := plots.History(f.result(), u, caption)
			if err != nil {
				t.Fatal(err)
			}
			all[name+system] = fig
		}
		for name, table := range cards() {
			all["card "+name+system] = card(t, table, u)
		}
		for name, fig := range studies(t, u) {
			all[name+system] = fig
		}
		for name, fig := range lessons(t, u) {
			all[name+system] = fig
		}
	}
	return all
}

// numeric is what a column of numbers may hold.
var numeric = regexp.MustCompile(`^((above |below )?[+-]?\d+(\.\d+)?(e[+-]\d+)?( ± \d+(\.\d+)?(e[+-]\d+)?)?|\d+:\d\d|-?\d+ to -?\d+|–|failed|not reached|no climb|nothing known|not told)$`)

func TestEveryFigureHasItsNumbers(t *testing.T) {
	t.Parallel()
	all := samples(t)
	for _, name := range slices.Sorted(maps.Keys(all)) {
		tables := all[name].Data()
		if len(tables) == 0 {
			t.Errorf("%s: no tables", name)
		}
		for _, table := range tables {
			checkTable(t, name, table)
		}
	}
}

func checkTable(t *testing.T, name string, table plots.Table) {
	t.Helper()
	const mostCells = 13 * 40 // and its heads
	if table.Caption == "" || len(table.Rows) == 0 || len(table.Rows)*(len(table.Header)-1) > mostCells || table.Words > len(table.Header) {
		t.Errorf("%s: table %q has %d rows and %d columns, %d of words", name, table.Caption, len(table.Rows), len(table.Header), table.Words)
	}
	if slices.Contains(table.Header, "") {
		t.Errorf("%s: a column of %q has no head: %q", name, table.Caption, table.Header)
	}
	for i, row := range table.Rows {
		if len(row) != len(table.Header) {
			t.Fatalf("%s: row %d of %q has %d cells for %d heads", name, i+1, table.Caption, len(row), len(table.Header))
		}
		for k, cell := range row {
			if strings.Contains(cell, "NaN") || strings.Contains(cell, "Inf") {
				t.Errorf("%s: %q has the cell %q", name, table.Caption, cell)
			}
			if k >= table.Words && !numeric.MatchString(cell) {
				t.Errorf("%s: %q has %q among the numbers of %q", name, table.Caption, cell, table.Header[k])
			}
		}
	}
}

// tableOf finds the table whose caption begins with a text.
func tableOf(t *testing.T, fig *plots.Figure, err error, caption string) plots.Table {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
	for _, table := range fig.Data() {
		if strings.HasPrefix(table.Caption, caption) {
			return table
		}
	}
	t.Fatalf("no table %q", caption)
	return plots.Table{}
}

// told fails unless a table has so many rows at most, and its caption says how
// many of all they are.
func told(t *testing.T, table plots.Table, most, all int, things string) {
	t.Helper()
	n := len(table.Rows)
	if n > most || n < most/2 || !strings.Contains(table.Caption, fmt.Sprintf("; %d of %d %s", n, all, things)) {
		t.Errorf("%d rows of %q", n, table.Caption)
	}
}

// expect fails unless the rows of a table are among the others, cells parted by |.
func expect(t *testing.T, table plots.Table, rows ...string) {
	t.Helper()
	var have []string
	for _, row := range table.Rows {
		have = append(have, strings.Join(row, "|"))
	}
	for _, row := range rows {
		if !slices.Contains(have, row) {
			t.Errorf("%s: %q is not among %q", table.Caption, row, have)
		}
	}
}

// Coolant: 122 − 36·exp(−750/150) = 121.8 °C at the end, 840 s; it passes 113 °C
// at 90 + 150·ln 4 = 297.9 s, seen at 298 s. Oil: 128 − 46·exp(−750/240) =
// 126.0 °C; it passes 116 °C at 90 + 240·ln(46/12) = 412.5 s, seen at 413 s. It
// climbs 3.2 m/s from 300 m.
func TestHistoryInNumbers(t *testing.T) {
	fig, err := plots.History(overLimit().result(), plots.SI, caption)
	expect(t, tableOf(t, fig, err, "Peaks"),
		"coolant out|121.8|14:00|2700|104.0|113.0|-8.8|4:58", "oil sump|126.0|14:00|2700|104.0|116.0|-10.0|6:53")
	expect(t, tableOf(t, fig, err, "Legs"), "leg settled|0:00", "leg climb|1:30")
	table := tableOf(t, fig, err, "The run over time")
	told(t, table, 40, 106, "samples")
	if got := strings.Join(table.Header, "|"); got != "time min:s|coolant out °C|oil sump °C|altitude m|outside air °C|air through radiator kg/s|air through oil cooler kg/s" {
		t.Errorf("heads %q", got)
	}
	// At the end 35 − 0.0065·2700 = 17.45 °C outside, and 1 − 0.1·2700/3000 =
	// 0.91 of 1.9 kg/s and 0.89 of 0.6 kg/s.
	expect(t, table, "14:00|121.8|126.0|2700|17.4|1.729|0.534")
	// A margin is a difference: −10.0 K are −18.0 °F. A limit of 122 °C is not reached.
	run := overLimit()
	run.limit[0] = 122
	fig, err = plots.History(run.result(), plots.US, caption)
	expect(t, tableOf(t, fig, err, "Peaks"),
		"coolant out|251.2|14:00|8858|219.2|251.6|0.4|not reached", "oil sump|258.8|14:00|8858|219.2|240.8|-18.0|6:53")
}

// A spike of one sample is not lost.
func TestHistoryInNumbersKeepsTheHottest(t *testing.T) {
	for _, at := range []int{0, 1, 37, 104, 105} {
		res := overLimit().result()
		res.Trajectory.Find("oil_sump_degC").Values[at] = 150
		fig, err := plots.History(res, plots.US, caption)
		table := tableOf(t, fig, err, "The run over time")
		if !slices.ContainsFunc(table.Rows, func(row []string) bool { return row[0] == plots.Clock(8*float64(at)) && row[2] == "302.0" }) {
			t.Errorf("the spike at sample %d is lost", at)
		}
	}
}

// The band is 5 K at the end of 840 s about the run.
func TestBandsInNumbers(t *testing.T) {
	bands := bandsOf(overLimit(), 5)
	fig, err := plots.History(overLimit().result(), plots.SI, caption, bands...)
	table := tableOf(t, fig, err, "Where the doubt of the numbers lets coolant out be")
	last := len(bands[0].Time) - 1
	expect(t, table, fmt.Sprintf("%s|%.1f|%.1f|%.1f", plots.Clock(bands[0].Time[last]), bands[0].Low[last], bands[0].Median[last], bands[0].High[last]))
	if !strings.Contains(table.Caption, bands[0].Chance) {
		t.Errorf("%q is not in %q", bands[0].Chance, table.Caption)
	}
}
