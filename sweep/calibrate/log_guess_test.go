package calibrate

import (
	"slices"
	"strings"
	"testing"
)

// TestGuessColumns: the best guess of each quantity in an invented header.
func TestGuessColumns(t *testing.T) {
	header := []string{
		"Date", "Elapsed Time", "GPS Altitude (ft)", "Pressure Altitude (ft)", "Ground Speed kt", "IAS kt", "OAT (deg F)", "% Power", "HP",
		"Coolant Pressure (psi)", "Coolant Temp °F", "OilPress", "OilTemp", "RPM", "Prop RPM", "Spray L/min",
	}
	units := make([]string, len(header))
	units[12] = "°C"
	best := map[Quantity]Guess{}
	for _, g := range GuessColumns(header, units) {
		if _, ok := best[g.Quantity]; !ok {
			best[g.Quantity] = g
		}
		if g.Column.Header != header[g.Index] {
			t.Errorf("%+v is not column %q", g, header[g.Index])
		}
	}
	for q, want := range map[Quantity]struct {
		index int
		unit  string
	}{
		Time: {1, ""}, Altitude: {3, "ft"}, Speed: {5, "kt"}, Outside: {6, "degF"}, Power: {8, "hp"},
		Coolant: {10, "degF"}, Oil: {12, "degC"}, RPM: {13, "rpm"}, Spray: {15, "L/min"},
	} {
		if g, ok := best[q]; !ok || g.Index != want.index || g.Column.Unit != want.unit {
			t.Errorf("%s: %+v, want %+v", q, g, want)
		}
	}
}

// TestGuessNothing: words inside other words, and other things of the same name.
func TestGuessNothing(t *testing.T) {
	if all := GuessColumns([]string{"Alternator", "Boiler", "Oil Press", "Coat", "GPS Alt", "Chp", "Coolant level"}, nil); len(all) > 0 {
		t.Errorf("guesses: %+v", all)
	}
}

// TestReadLogHead finds headers without a map.
func TestReadLogHead(t *testing.T) {
	for _, c := range []struct {
		name, text    string
		line          int
		header, units []string
	}{
		{"plain", "Time,IAS\n0,1\n", 1, []string{"Time", "IAS"}, nil},
		{"comments and units", "# of a test\nmade by,hand\n\nTime;IAS;Oil, hot\ns;kt;°C\n0;1,5;2\n", 4, []string{"Time", "IAS", "Oil, hot"}, []string{"s", "kt", "°C"}},
		{"tab and a clock", "Time\tNote\n10:00:00\tgo\n", 1, []string{"Time", "Note"}, nil},
		{"Latin-1", "Time,H\xf6he\n0,1\n", 1, []string{"Time", "Höhe"}, nil},
		{"none", "0,1\n2,3\n", 0, nil, nil},
		{"empty", "", 0, nil, nil},
	} {
		h, err := ReadLogHead(strings.NewReader(c.text))
		if err != nil || h.Line != c.line || !slices.Equal(h.Header, c.header) || !slices.Equal(h.Units, c.units) {
			t.Errorf("%s: %+v, %v", c.name, h, err)
		}
	}
	if _, err := ReadLogHead(strings.NewReader("\xfe\xff")); err == nil {
		t.Error("UTF-16 has a head")
	}
}

// TestGuessedMapReads: what is guessed from a head can be read.
func TestGuessedMapReads(t *testing.T) {
	text := "Time,Altitude,Coolant\ns,ft,F\n0,1000,180\n1,1010,180.1\n"
	h, err := ReadLogHead(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	columns := ColumnMap{}
	for _, g := range GuessColumns(h.Header, h.Units) {
		columns[g.Quantity] = g.Column
	}
	if len(columns) != 3 || columns[Coolant].Unit != "degF" {
		t.Fatalf("columns: %+v", columns)
	}
	if l := read(t, text, columns, LogSettings{}); l.Len() != 2 || len(l.Faults) > 0 {
		t.Errorf("%d rows, %v", l.Len(), l.Faults)
	}
}
