package plots

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// anyName draws a name, now and then a long one.
func anyName(t *rapid.T, label string) string {
	return rapid.SampledFrom([]string{
		"a", "baseline", "exit taped to one half", "exchangers.oil_cooler.power_law.drop", "exchangers.second_radiator_behind_gearbox.power_law.exponent",
		"W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W W",
		"WWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWWW",
	}).Draw(t, label)
}

// anyGauge draws up to nine readings of one gauge, or none.
func anyGauge(t *rapid.T, label string, least int) GaugeReadings {
	g := GaugeReadings{Noise: rapid.SampledFrom([]float64{0, 0.01, 1.1, 40}).Draw(t, label+" noise")}
	clock := 0.0
	for range rapid.IntRange(least, 9).Draw(t, label+" readings") {
		clock += rapid.SampledFrom([]float64{0, 0.1, 1, 60, 4000}).Draw(t, label+" step")
		model := rapid.Float64Range(-40, 150).Draw(t, label+" model")
		off := rapid.SampledFrom([]float64{0, 0.3, -4, 30, -1000, 1e6}).Draw(t, label+" off")
		g.Time, g.Model, g.Read = append(g.Time, clock), append(g.Model, model), append(g.Read, model+off)
		g.Refused = append(g.Refused, math.Abs(off) > 10 && rapid.Bool().Draw(t, label+" refused"))
	}
	return g
}

func TestParityAndResidualsAreLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		records := make([]FlightRecord, rapid.SampledFrom([]int{1, 2, 3, 5, 13}).Draw(t, "records"))
		for i := range records {
			records[i] = FlightRecord{Name: anyName(t, "name"), Coolant: anyGauge(t, "coolant", 1), Oil: anyGauge(t, "oil", 0)}
		}
		u := Units(rapid.IntRange(0, 1).Draw(t, "units"))
		f, err := Parity(records, u, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "parity", f)
		if f, err = Residuals(records, u, Caption{Title: "A title"}); err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "residuals", f)
	})
}

func TestPosteriorIsLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom([]int{1, 2, 3, 4, 5, 6, 7, 8, 9, 12, 13, 25, 40, 42}).Draw(t, "n")
		numbers, r := make([]FittedNumber, n), make([][]float64, n)
		for i := range numbers {
			size := math.Pow(10, rapid.Float64Range(-12, 12).Draw(t, "size"))
			numbers[i] = FittedNumber{
				Name: anyName(t, "name"), Unit: rapid.SampledFrom([]string{"", "in^2", "BTU/h/ft²/°F and more"}).Draw(t, "unit"),
				Prior: size * rapid.Float64Range(-1, 1).Draw(t, "prior"), Value: size * rapid.Float64Range(-1, 1).Draw(t, "value"),
				Doubt: size * rapid.SampledFrom([]float64{0, 0.001, 0.1, 1}).Draw(t, "doubt"), After: size * rapid.SampledFrom([]float64{0, 0.0001, 0.03, 2}).Draw(t, "after"),
				Held: rapid.SampledFrom([]string{"", "at its least, 0", "at a bound that needs many words to say what it is and why it is there"}).Draw(t, "held"),
			}
			r[i] = make([]float64, n)
			for j := range i {
				r[i][j] = rapid.SampledFrom([]float64{-1, -0.6, -0.05, 0, 0.3, 1}).Draw(t, "r")
				r[j][i] = r[i][j]
			}
			r[i][i] = 1
		}
		f, err := Posterior(numbers, r, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "posterior", f)
	})
}

func TestDifferencesAreLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(-3, 8).Draw(t, "size"))
		one := func(label string) *Interval {
			v := size * rapid.Float64Range(-1, 1).Draw(t, label)
			return &Interval{
				Value: v, Low: v - size*rapid.Float64Range(0, 1).Draw(t, label+" low"), High: v + size*rapid.Float64Range(0, 1).Draw(t, label+" high"),
				Verdict: rapid.SampledFrom([]string{"", "real", "not distinguishable from noise; 3 more flights of each configuration would settle it, if the noise of the gauges is what it was"}).Draw(t, label+" verdict"),
			}
		}
		list := make([]Difference, rapid.IntRange(1, 12).Draw(t, "rows"))
		for i := range list {
			list[i] = Difference{Name: anyName(t, "name"), Coolant: one("coolant"), Note: anyName(t, "note")}
			if rapid.Bool().Draw(t, "both") {
				list[i].Oil = one("oil")
			}
		}
		f, err := Differences(list, anyName(t, "baseline"), US, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "differences", f)
	})
}

func TestDoubtLeftIsLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(-3, 8).Draw(t, "size"))
		one := func(label string) MarginDoubt {
			return MarginDoubt{Coolant: size * rapid.Float64Range(0, 1).Draw(t, label+" coolant"), Oil: size * rapid.Float64Range(0, 1).Draw(t, label+" oil")}
		}
		flights := make([]CandidateFlight, rapid.IntRange(1, 20).Draw(t, "flights"))
		for i := range flights {
			flights[i] = CandidateFlight{Name: anyName(t, "name"), Left: one("left"), Note: rapid.SampledFrom([]string{"", "a", "tape can come off in flight: keep the climb over a place to land"}).Draw(t, "note")}
		}
		f, err := DoubtLeft(one("now"), flights, SI, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "doubt left", f)
	})
}

func TestSharesAreLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		size := math.Pow(10, rapid.Float64Range(-6, 1.5).Draw(t, "size"))
		one := func(label string) Index {
			x := Index{First: size * rapid.Float64Range(-0.2, 1).Draw(t, label+" first"), Total: size * rapid.Float64Range(-0.2, 1).Draw(t, label+" total")}
			if rapid.Bool().Draw(t, label+" interval") {
				x.Low, x.High = x.Total-size, x.Total+size
			}
			return x
		}
		list := make([]ShareOfDoubt, rapid.IntRange(1, 30).Draw(t, "numbers"))
		for i := range list {
			list[i] = ShareOfDoubt{Name: anyName(t, "name"), Coolant: one("coolant"), Oil: one("oil")}
		}
		f, err := Shares(list, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "shares", f)
	})
}

// Bands leave the texts of curves legible.
func TestBandedSensitivityIsLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "n")
		s := SensitivityCurve{Axis: anyAxis(t, "x", n), Present: math.NaN()}
		var band MarginBand
		for range n {
			v := anyMargin(t, "coolant")
			s.Coolant, s.Oil = append(s.Coolant, v), append(s.Oil, anyMargin(t, "oil"))
			wide := rapid.Float64Range(0, 20).Draw(t, "wide")
			band.Low, band.High = append(band.Low, v-wide), append(band.High, v+wide)
		}
		s.CoolantBand = &band
		f, err := Sensitivity([]SensitivityCurve{s}, US, Caption{Title: "A title"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "sensitivity", f)
	})
}

// Lines break where readings are missing for long, and nothing is lost there.
func TestLinesBreakAtGaps(t *testing.T) {
	c := curve{x: []float64{0, 1, 2, 3, 40, 41, 42}, y: []float64{5, 4, 3, 2, 1, 0, 9}}
	pieces := brokenAtGaps(c)
	if len(pieces) != 2 || !slices.Equal(pieces[0].x, c.x[:4]) || !slices.Equal(pieces[1].y, c.y[4:]) {
		t.Errorf("pieces %v", pieces)
	}
	for n := range 4 {
		total := 0
		for _, p := range brokenAtGaps(curve{x: c.x[:n], y: c.y[:n]}) {
			total += len(p.x)
		}
		if total != n {
			t.Errorf("of %d readings %d are left", n, total)
		}
	}
}

// Two digits of a doubt, and no more of the value than that.
func TestWithDoubt(t *testing.T) {
	for want, v := range map[string][2]float64{
		"0.60 ± 0.10": {0.6, 0.1}, "1234 ± 56": {1234.4, 56.2}, "12345 ± 789": {12345, 789}, "−0.0120 ± 0.0034": {-0.012, 0.0034},
		"0.08": {0.08, 0}, "−3e−09 ± 1e−10": {-3e-9, 1e-10}, "0.00 ± 0.10": {0, 0.1},
	} {
		if got := withDoubt(v[0], v[1]); got != want {
			t.Errorf("%v is printed %q, want %q", v, got, want)
		}
	}
}

// No two records look alike, with or without colour, until the marks are used
// up.
func TestMarksOfRecordsDiffer(t *testing.T) {
	for i := range recordMarks {
		for j := range i {
			if a, b := markOfRecord(i), markOfRecord(j); sameShape(a.Shape, b.Shape) {
				t.Errorf("records %d and %d have one mark", i+1, j+1)
			}
		}
	}
}

// sameShape says whether marks cannot be told apart without colour.
func sameShape(a, b any) bool {
	x, cornersA := a.(cornered)
	y, cornersB := b.(cornered)
	if cornersA && cornersB {
		return x.hollow == y.hollow && slices.Equal(x.corners, y.corners)
	}
	return !cornersA && !cornersB && a == b
}
