package plots_test

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"hotclimb/plots"
)

// At half of the range coolant has −4 + 9·√½ = 2.36 K, oil 2 − 7/2 = −1.5 K.
func TestSensitivityInNumbers(t *testing.T) {
	curve := over("inlets.chin.height", "in^2", even(4, 8, 301), 9, -7)
	curve.Oil[0] = math.NaN()
	curve.CoolantBand = &plots.MarginBand{Low: mapped(curve.Coolant, func(v float64) float64 { return v - 1 }), High: mapped(curve.Coolant, func(v float64) float64 { return v + 1 })}
	curve.Present = 6
	fig, err := plots.Sensitivity([]plots.SensitivityCurve{curve}, plots.SI, caption)
	table := tableOf(t, fig, err, "Least margins over inlets.chin.height, in²; present value 6.00")
	told(t, table, 40, 301, "values")
	expect(t, table, "4.0000|-4.0|failed|-5.0|-3.0", "6.0000|2.4|-1.5|1.4|3.4", "8.0000|5.0|-5.0|4.0|6.0")
}

// Of a large table the corners and the columns and rows of the marked designs
// are told. At x = 8, y = 12: coolant 9 + 7 − 4 = 12 K, oil 16 − 5 − 3 = 8 K; at
// x = 4, y = 6 −4 and −3 K, 7 and 6 K short of what is required.
func TestContourInNumbers(t *testing.T) {
	d := valley(101, 61, 0)
	d.Coolant[60][0] = math.NaN()
	fig, err := plots.Contour(d, plots.SI, caption)
	for caption, cells := range map[string][4]string{
		"Lesser margin of coolant and oil, K, beyond the required 3.0 K (coolant) and 3.0 K (oil)": {"-7.0", "-11.0", "failed", "5.0"},
		"Margin of coolant, K": {"-4.0", "5.0", "failed", "12.0"},
		"Margin of oil, K":     {"-3.0", "-8.0", "13.0", "8.0"},
	} {
		table := tableOf(t, fig, err, caption)
		first, last, end := table.Rows[0], table.Rows[len(table.Rows)-1], len(table.Header)-1
		if got := [4]string{first[1], first[end], last[1], last[end]}; got != cells || first[0] != "6.0" || last[0] != "12.0" {
			t.Errorf("%s: corners %q, want %q, in rows %s to %s", table.Caption, got, cells, first[0], last[0])
		}
		if !slices.Contains(table.Header, "5.60") || !slices.Contains(table.Header, "5.16") {
			t.Errorf("%s: present or optimum is not among the columns %q", table.Caption, table.Header)
		}
		if size := fmt.Sprintf("; %d of %d designs", len(table.Rows)*end, 101*61); len(table.Rows) > 40 || end > 13 || !strings.HasSuffix(table.Caption, size) {
			t.Errorf("%s: %d rows, %d columns", table.Caption, len(table.Rows), end)
		}
	}
	expect(t, tableOf(t, fig, err, "Designs marked"), "optimum|5.15|9.30", "present|5.60|8.50")
}

func TestTornadoAndFrontInNumbers(t *testing.T) {
	fig, err := plots.Tornado(tornados()["few"], plots.SI, caption)
	table := tableOf(t, fig, err, "Gain of the least margin")
	if table.Rows[0][0] != "auxiliary serves oil (fixes oil by spoiling coolant)" {
		t.Errorf("the greatest is %q", table.Rows[0])
	}
	expect(t, table, "auxiliary serves oil (fixes oil by spoiling coolant)|-5.3|+9.4", "bigger_exit|+3.4|+4.1", "no effect|0.0|0.0")
	fig, err = plots.Front(fronts()["many"], present, plots.SI, caption)
	table = tableOf(t, fig, err, "Least drag for each margin; 40 of 200 designs")
	// 3000 + 20·22² W, 0.08 + 0.002·22 m².
	expect(t, table, "design 1|2.0|3.080|840", "design 200|22.0|12.680|1240", "present|0.8|4.900|1040")
}

// Speeds and elevations without room on the card are in its tables: 9 by 4, of
// which the card shows 6 by 3.
func TestCardInNumbers(t *testing.T) {
	odd := tableOf(t, card(t, oddCard(), plots.SI), nil, "Highest temperature")
	if len(odd.Rows) != 36 {
		t.Errorf("%d climbs are told, 36 were computed", len(odd.Rows))
	}
	expect(t, odd, "108 km/h from 200 m (as filed)|the coolant limits|31|2.4|1.2|0.8")
	fig := card(t, usualCard(), plots.US)
	expect(t, tableOf(t, fig, nil, "Highest temperature"), "67 mph from 656 ft (as filed)|the coolant limits|87|2.4|1.2|0.8")
	expect(t, tableOf(t, fig, nil, "Slowest climb"), "656 ft, 94 °F|75 mph; below that, the oil limits")
	expect(t, tableOf(t, fig, nil, "Water spray on left radiator"), "92 °F|1.1 min", "97 °F|11.7 min, which is NOT carried", "102 °F|not held")
	expect(t, tableOf(t, card(t, never(cards()["none"].Own.Ceiling), plots.US), nil, "Highest temperature"), "67 mph from 656 ft (as filed)|it is too slow to fly|no climb|–|–|–")
}

// The farthest readings stay, refused ones are marked and left out of the mean.
func TestReadingsInNumbers(t *testing.T) {
	g := plots.GaugeReadings{Noise: 1.1, Refused: make([]bool, 500)}
	for i := range 500 {
		g.Time, g.Model, g.Read = append(g.Time, 5*float64(i)), append(g.Model, 90), append(g.Read, 90.5)
	}
	g.Read[223], g.Read[321] = 97, 85
	for i := 77; i < 177; i++ {
		g.Read[i], g.Refused[i] = 40, true
	}
	records := []plots.FlightRecord{{Name: "first", Coolant: g}}
	for _, chart := range []func([]plots.FlightRecord, plots.Units, plots.Caption) (*plots.Figure, error){plots.Parity, plots.Residuals} {
		fig, err := chart(records, plots.SI, caption)
		// 0.5 + (7 − 0.5 − 5 − 0.5)/400 = 0.5025
		expect(t, tableOf(t, fig, err, "Readings less the model"), "first|coolant|500|100|+0.5|-5.0|+7.0|1.1")
		table := tableOf(t, fig, err, "Readings of the coolant gauge")
		expect(t, table, "first|used|0:00|90.5|90.0|+0.5", "first|used|18:35|97.0|90.0|+7.0", "first|refused|6:25|40.0|90.0|-50.0", "first|used|41:35|90.5|90.0|+0.5")
		told(t, table, 40, 500, "readings")
	}
}

func TestFitInNumbers(t *testing.T) {
	numbers := []plots.FittedNumber{
		{Name: "a", Unit: "in^2", Prior: 2, Doubt: 0.5, Value: 1, After: 0.1, Held: "at its least, 1"}, {Name: "b", Prior: -1, Value: -3, After: 0.25},
		{Name: "c", Prior: 0.01, Doubt: 0.002, Value: 0.011, After: 0.001},
	}
	fig, err := plots.Posterior(numbers, [][]float64{{1, 0.3, 0.1}, {0.3, 1, -0.8}, {0.1, -0.8, 1}}, caption)
	expect(t, tableOf(t, fig, err, "Numbers before and after"),
		"a (held at its least, 1)|in²|2.00 ± 0.50|1.00 ± 0.10|-2.0", "b|none|nothing known|-3.00 ± 0.25|–", "c|none|0.0100 ± 0.0020|0.0110 ± 0.0010|+0.5")
	pairs := tableOf(t, fig, err, "Correlations")
	if got := strings.Join(pairs.Rows[0], "|"); got != "b|c|-0.80" || len(pairs.Rows) != 3 {
		t.Errorf("the strongest of %d pairs is %s", len(pairs.Rows), got)
	}
}

func TestComparisonsAndDoubtInNumbers(t *testing.T) {
	list := []plots.Difference{{Name: "louvers", Coolant: &plots.Interval{Value: -4.1, Low: -5.4, High: -2.8, Verdict: "real"}, Note: "taped"}}
	fig, err := plots.Differences(list, "as built", plots.SI, caption)
	expect(t, tableOf(t, fig, err, "Temperatures less those of the baseline, as built"), "louvers (taped)|coolant|real|-4.1|-5.4|-2.8")
	fig, err = plots.DoubtLeft(plots.MarginDoubt{Coolant: 5, Oil: 6}, []plots.CandidateFlight{{Name: "tape", Left: plots.MarginDoubt{Coolant: 2, Oil: 3}}}, plots.US, caption)
	expect(t, tableOf(t, fig, err, "Doubt"), "now, without a flight|9.0|10.8", "tape|3.6|5.4")
	fig, err = plots.Shares([]plots.ShareOfDoubt{{Name: "n", Coolant: plots.Index{First: 0.25, Total: 0.5, Low: -0.1, High: 0.75}, Oil: plots.Index{First: -0.001, Total: 0.1}}}, caption)
	expect(t, tableOf(t, fig, err, "Shares"), "n|25|50|-10 to 75|0|10|–")
}
