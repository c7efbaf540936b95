package fluid

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// row is one line of a reference table, by column name.
type row map[string]string

// number returns the column as a number and fails the test if it is none.
func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("column %s: %v", column, err)
	}
	return v
}

// table reads a reference table; its source stands in the head of the file.
func table(t *testing.T, name string) []row {
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
	rows := make([]row, 0, len(records)-1)
	for _, record := range records[1:] {
		m := row{}
		for i, column := range records[0] {
			m[column] = record[i]
		}
		rows = append(rows, m)
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

// must returns the liquid and fails the test on an error.
func must(t testing.TB) func(*Liquid, error) *Liquid {
	return func(l *Liquid, err error) *Liquid {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
}
