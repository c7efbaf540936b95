package plots

import (
	"math"
	"testing"

	"hotclimb/sweep/optimum"
	"pgregory.net/rapid"
)

// anyCeiling draws a highest temperature of any kind.
func anyCeiling(t *rapid.T, label string) optimum.Ceiling {
	by := rapid.SampledFrom([]string{optimum.ByCoolant, optimum.ByOil, optimum.ByBoiling, optimum.ByClimb}).Draw(t, label+" by")
	switch rapid.IntRange(0, 6).Draw(t, label+" kind") {
	case 0:
		return optimum.Ceiling{Temperature: optimum.HottestField, Bound: optimum.Hotter}
	case 1:
		return optimum.Ceiling{Temperature: optimum.ColdestField, Bound: optimum.Colder, By: by}
	case 2:
		return optimum.Ceiling{Temperature: math.NaN(), Bound: optimum.NoClimb, By: optimum.ByStall}
	}
	return optimum.Ceiling{Temperature: rapid.Float64Range(-20, 55).Draw(t, label), Bound: optimum.Found, By: by}
}

// anyRow draws a row with times of minutes or hours.
func anyRow(t *rapid.T, speed, elevation float64) optimum.LimitRow {
	r := optimum.LimitRow{Speed: speed, Elevation: elevation, Ceiling: anyCeiling(t, "ceiling")}
	for range 3 {
		r.Above = append(r.Above, optimum.TimeAbove{Time: math.Pow(10, rapid.Float64Range(-1, 3.7).Draw(t, "time"))})
	}
	return r
}

// anySpray draws spray, with or without an answer.
func anySpray(t *rapid.T, onto string) *optimum.SprayClimb {
	s := &optimum.SprayClimb{
		Onto: onto, Circuit: optimum.ByCoolant, Starts: 104, Carried: rapid.Float64Range(0, 1e4).Draw(t, "carried"),
		Ceiling: anyCeiling(t, "with spray"), Trouble: "there is no highest temperature without it to start from",
	}
	if rapid.Bool().Draw(t, "answered") {
		s.Rate = rapid.Float64Range(1e-7, 3e-4).Draw(t, "rate")
		for range 3 {
			time := rapid.SampledFrom([]float64{math.NaN(), 61, 6000}).Draw(t, "needed")
			s.Needed = append(s.Needed, optimum.SprayTime{Temperature: 45, Time: time, Enough: rapid.Bool().Draw(t, "enough")})
		}
	}
	return s
}

// No text of a card leaves the page or touches another, whatever stands there.
func TestCardIsLegible(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		name := rapid.StringOfN(rapid.RuneFrom([]rune("aW._ ")), 1, 150, -1).Draw(t, "name")
		table := &optimum.LimitTable{Case: name, Leg: name, Above: []float64{3, 6, 9}}
		table.Doubt = rapid.SampledFrom([]float64{0, 1, 1.645}).Draw(t, "doubt")
		speeds := rapid.IntRange(1, 9).Draw(t, "speeds")
		for e := range rapid.IntRange(1, 6).Draw(t, "elevations") {
			for s := range speeds {
				table.Rows = append(table.Rows, anyRow(t, 13*float64(s+1), 900*float64(e)))
			}
			table.Slowest = append(table.Slowest, optimum.SlowClimb{
				Elevation: 900 * float64(e), Temperature: 40, Speed: rapid.SampledFrom([]float64{31, math.NaN()}).Draw(t, "slow"), By: optimum.ByClimb,
				Bound: rapid.SampledFrom([]optimum.SpeedBound{optimum.SlowestAny, optimum.SlowestFound, optimum.SlowestNone}).Draw(t, "slowest"),
			})
		}
		table.Own = rapid.SampledFrom(table.Rows).Draw(t, "own")
		if rapid.Bool().Draw(t, "spray") {
			table.Spray = anySpray(t, name)
		}
		f, err := LimitsCard(table, Units(rapid.IntRange(0, 1).Draw(t, "units")), Caption{Title: name, Cases: []string{name}, Scenario: name, Hash: "5f2b9c0d7e1a4463bb", Version: "0.1.0"})
		if err != nil {
			t.Fatal(err)
		}
		checkLegible(t, "card", f)
	})
}
