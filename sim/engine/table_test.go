package engine

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"
)

// ratios is one line of heat_rejection_ratios.csv; its source stands there. A
// number that the table leaves out is NaN.
type ratios struct {
	engine       string
	coolant, oil float64
}

// ratioTable reads the default ratios.
func ratioTable(t *testing.T) []ratios {
	t.Helper()
	f, err := os.Open("../../testdata/tables/heat_rejection_ratios.csv")
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
	column := map[string]int{}
	for i, name := range records[0] {
		column[name] = i
	}
	var rows []ratios
	for _, record := range records[1:] {
		rows = append(rows, ratios{
			engine:  record[column["engine"]],
			coolant: number(t, record[column["coolant_default"]]),
			oil:     number(t, record[column["oil_default"]]),
		})
	}
	if len(rows) != 4 {
		t.Fatalf("%d engines in the table, want 4", len(rows))
	}
	return rows
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	if text == "" {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// near fails the test unless got is within the absolute tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.9g, want %.9g ± %.2g", what, got, want, tolerance)
	}
}
