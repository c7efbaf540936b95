package atmos

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// table reads a reference table of numbers, one map of columns a row; its source
// stands in the head of the file.
func table(t *testing.T, name string) []map[string]float64 {
	t.Helper()
	f, err := os.Open("../../testdata/tables/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	records, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if len(records) < 2 {
		t.Fatalf("%s holds no rows", name)
	}
	var rows []map[string]float64
	for _, record := range records[1:] {
		row := map[string]float64{}
		for i, column := range records[0] {
			if row[column], err = strconv.ParseFloat(record[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		rows = append(rows, row)
	}
	return rows
}

// near fails the test unless got is within the absolute tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.9g, want %.9g ± %.2g", what, got, want, tolerance)
	}
}

// nearRel fails the test unless got is within the relative tolerance of want.
func nearRel(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	near(t, what, got, want, tolerance*math.Abs(want))
}

const (
	foot = 0.3048       // m
	knot = 1852. / 3600 // m/s
)

// celsius turns °F into °C.
func celsius(f float64) float64 { return (f - 32) / 1.8 }
