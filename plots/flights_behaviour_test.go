package plots_test

import (
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"sync"
	"testing"

	"hotclimb/plots"
)

// sourceLine is the caption of every chart of lessons.
const sourceLine = "Made-up tug with two coolers · scenario 5f2b9c0d7e1a · version 0.1.0 · estimate; prove by flight test"

func TestLessonsNameUnitsAndSources(t *testing.T) {
	t.Parallel()
	want := map[string]map[plots.Units][]string{
		// 1.1 K are 1.98 °F, two of them 3.96; 1.4 K are 2.52 °F, two 5.04.
		"parity_few": {
			plots.US: {"Reading of the coolant, °F", "The coolant by the model, °F", "Reading of the oil, °F", "The oil by the model, °F",
				"baseline, hand-read", "exit taped to one half", "reading as the model says", "two standard deviations of a reading: coolant ±3.96 °F, oil ±5.04 °F"},
			plots.SI: {"Reading of the coolant, °C", "two standard deviations of a reading: coolant ±2.20 °C, oil ±2.80 °C"},
		},
		"residuals_log": {
			plots.US: {"Coolant, reading less model, °F", "Oil, reading less model, °F", "Time, min, from the start of each record", "demo_log.csv", "refused", "refused, beyond the frame"},
			plots.SI: {"Coolant, reading less model, K"},
		},
		"residuals_six": {plots.US: {"not read on this record"}, plots.SI: {"not read on this record"}},
		// 0.08 lies one doubt of 0.02 below 0.1; 30 lies 29/0.2 = 145 above 1.
		"posterior_four": {plots.US: {
			"Distance from the mean before the fit,", "standard deviations before the fit", "2  exchangers.oil_cooler.power_law.drop",
			"0.100 ± 0.020 → 0.08 in²; held at its least, 0.008", "1.00 ± 0.20 → 30.000 ± 0.060 °F", "145 →", "nothing known before", "held at a bound",
			"Correlations after the fit", "−0.7", "+0.8",
		}},
		// −4.1 K are −7.4 °F.
		"differences_usual": {
			plots.US: {"Difference from the baseline, °F", "coolant −7.4 °F (−9.7 to −5.0)", "real", "tape held for all of the climb", "coolant only",
				"Each configuration less the baseline, as built, three flights. Right of zero it is hotter, left of zero colder."},
			plots.SI: {"Difference from the baseline, K", "oil +6.2 K (+4.2 to +8.2)"},
		},
		// 4.2 K are 7.6 °F, 2.1 K 3.8 °F.
		"doubt_left_usual": {
			plots.US: {"Doubt of the least margin, one standard deviation, °F", "coolant now, ±7.6 °F", "±3.8 °F", "climb at 85 mph"},
			plots.SI: {"Doubt of the least margin, one standard deviation, K", "oil now, ±5.6 K", "±2.9 K"},
		},
		"shares_usual":      {plots.US: {"Share of the variance, %", "Margin of the coolant", "Margin of the oil", "52 / 58 %", "44 / 61 %", "interval of the total", "engine.heat_to_coolant"}},
		"bands_sensitivity": {plots.US: {"coolant, 5 % to 95 %", "oil, 5 % to 95 %"}},
	}
	drawnIn := map[plots.Units]map[string]*plots.Figure{plots.US: lessons(t, plots.US), plots.SI: lessons(t, plots.SI)}
	for name, systems := range want {
		for u, labels := range systems {
			drawn := texts(t, svg(t, drawnIn[u][name]), "text")
			for _, label := range append(labels, sourceLine) {
				if !has(drawn, label) {
					t.Errorf("%s in units %d: %q is not among %q", name, u, label, drawn)
				}
			}
		}
	}
}

func TestLessonsServeReaders(t *testing.T) {
	t.Parallel()
	want := map[string]string{
		"parity_log":       "coolant 1080 readings, 1 refused: read less model on average ",
		"residuals_log":    "oil 1200 readings, 121 refused, from ",
		"posterior_four":   "The strongest correlation is +0.79, of gauges.coolant.bias with exchangers.oil_cooler.power_law.drop.",
		"differences_one":  "1 configuration less the baseline as built, three flights. coolant only: coolant +0.4 °F (−7.6 to +8.3), not distinguishable from noise.",
		"doubt_left_usual": "Now: coolant ±7.6 °F, oil ±10.1 °F. After exit taped to one half: coolant ±3.8 °F, oil ±5.2 °F.",
		"shares_usual":     "exits.belly.pressure_coefficient: coolant 52 / 58 %, oil 21 / 30 %.",
		"bands_over_limit": "its limit is 235 °F, passed after 5.0 min; over its limit in 62 % of 256 draws.",
	}
	all := lessons(t, plots.US)
	for name, part := range want {
		figure := svg(t, all[name])
		if about := texts(t, figure, "desc"); len(about) != 1 || !strings.Contains(about[0], part) {
			t.Errorf("%s is described %q", name, about)
		}
	}
}

func TestLessonsAreSound(t *testing.T) {
	t.Parallel()
	for name, fig := range lessons(t, plots.SI) {
		figure := svg(t, fig)
		texts(t, figure, "text") // well-formed
		if bad := regexp.MustCompile(`NaN|Inf`).FindString(figure); bad != "" {
			t.Errorf("%s: %s in the figure", name, bad)
		}
		checkSizes(t, name, figure)
		if most := 400_000; len(figure) > most {
			t.Errorf("%s has %d bytes", name, len(figure))
		}
	}
}

// A chart of many readings says how many it leaves out; one of few has all.
func TestThinningIsTold(t *testing.T) {
	t.Parallel()
	all := lessons(t, plots.SI)
	count := regexp.MustCompile(`Of (\d+) readings (\d+) are drawn`)
	for name, want := range map[string]string{"parity_log": "2280", "residuals_log": "2280", "parity_few": "", "residuals_few": "", "residuals_thirteen": ""} {
		told := count.FindStringSubmatch(strings.Join(texts(t, svg(t, all[name]), "text"), " "))
		switch {
		case want == "" && told != nil:
			t.Errorf("%s says %q", name, told[0])
		case want != "" && (told == nil || told[1] != want || len(told[2]) >= len(told[1])):
			t.Errorf("%s says %q of %s readings", name, told, want)
		}
	}
}

// A reading far off is not lost by thinning.
func TestNoExtremeIsLost(t *testing.T) {
	r := recordOf("log", 1200, 1200, 3)
	r.Oil = plots.GaugeReadings{}
	calm, err := plots.Residuals([]plots.FlightRecord{r}, plots.SI, caption)
	if err != nil {
		t.Fatal(err)
	}
	r.Coolant.Read = append([]float64(nil), r.Coolant.Read...)
	r.Coolant.Read[777] = r.Coolant.Model[777] + 12.5
	spiked, err := plots.Residuals([]plots.FlightRecord{r}, plots.SI, caption)
	if err != nil {
		t.Fatal(err)
	}
	if about := texts(t, svg(t, spiked), "desc")[0]; !strings.Contains(about, "to +12.5") {
		t.Errorf("described %q", about)
	}
	if svg(t, calm) == svg(t, spiked) {
		t.Error("the spike is not drawn")
	}
}

// Refused readings do not stretch the axes.
func TestRefusedReadingsKeepTheScale(t *testing.T) {
	good := recordOf("log", 40, 1200, 3)
	bad := recordOf("log", 40, 1200, 3)
	bad.Coolant.Read[10] += 300
	bad.Coolant.Refused[10] = true
	for name, chart := range map[string]func([]plots.FlightRecord, plots.Units, plots.Caption) (*plots.Figure, error){"parity": plots.Parity, "residuals": plots.Residuals} {
		var shown [2]string
		for i, r := range []plots.FlightRecord{good, bad} {
			fig, err := chart([]plots.FlightRecord{r}, plots.SI, caption)
			if err != nil {
				t.Fatal(err)
			}
			drawn := texts(t, svg(t, fig), "text")
			if has(drawn, "refused, beyond the frame") != (i == 1) {
				t.Errorf("%s %d: key %q", name, i, drawn)
			}
			for _, text := range drawn {
				if regexp.MustCompile(`^[−0-9.]+$`).MatchString(text) {
					shown[i] += text + " "
				}
			}
		}
		if shown[0] != shown[1] {
			t.Errorf("%s: axes %s and %s", name, shown[0], shown[1])
		}
	}
}

// Signs tell correlations apart without their shades, marks the circuits
// without colour.
func TestLessonsDoWithoutColour(t *testing.T) {
	t.Parallel()
	all := lessons(t, plots.US)
	signs := 0
	for _, text := range texts(t, svg(t, all["posterior_many"]), "text") {
		if text == "+" || text == "−" {
			signs++
		}
	}
	if signs < 100 {
		t.Errorf("%d signs in the triangle", signs)
	}
	for _, name := range []string{"differences_usual", "bands_over_limit", "bands_sensitivity"} {
		if !dashes("#D55E00", svg(t, all[name])) {
			t.Errorf("%s: oil is not dashed", name)
		}
	}
}

// Without bands charts are what they are: the goldens of History and
// Sensitivity say so. With them the bands are named and in the axis.
func TestBandsAreNamedAndInside(t *testing.T) {
	drawn := texts(t, svg(t, lessons(t, plots.SI)["bands_over_limit"]), "text")
	for _, name := range []string{"coolant 5 %", "coolant median", "coolant 95 %", "oil 5 %", "oil median", "oil 95 %", "over its limit in 62 % of 256 draws", "over its limit in 8 % of 256 draws"} {
		if !has(drawn, name) {
			t.Errorf("%q is not among %q", name, drawn)
		}
	}
	high := bandsOf(overLimit(), 100) // 95 % of the oil at 126 + 120·0.92 K
	fig, err := plots.History(overLimit().result(), plots.SI, caption, high...)
	if err != nil {
		t.Fatal(err)
	}
	if drawn := texts(t, svg(t, fig), "text"); !has(drawn, "200") {
		t.Errorf("the axis does not reach the band: %q", drawn)
	}
	longer := bandsOf(overLimit(), 3)[0]
	longer.Time[len(longer.Time)-1] = 2400 // s; the run ends at 840 s
	if fig, err = plots.History(overLimit().result(), plots.SI, caption, longer); err != nil {
		t.Fatal(err)
	}
	if drawn := texts(t, svg(t, fig), "text"); !has(drawn, "40") {
		t.Errorf("the axis of time does not reach the end of the band: %q", drawn)
	}
}

func TestBadLessonsAreRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	record := func(spoil func(*plots.FlightRecord)) error {
		r := recordOf("log", 5, 100, 1)
		spoil(&r)
		_, parity := plots.Parity([]plots.FlightRecord{r}, plots.US, caption)
		_, residuals := plots.Residuals([]plots.FlightRecord{r}, plots.US, caption)
		if fmt.Sprint(parity) != fmt.Sprint(residuals) {
			return fmt.Errorf("two errors: %v, %v", parity, residuals)
		}
		return parity
	}
	posterior := func(spoil func(*fit)) error {
		f := fit{}
		f.numbers, f.correlations = fitted(3)
		spoil(&f)
		_, err := plots.Posterior(f.numbers, f.correlations, caption)
		return err
	}
	difference := func(spoil func(*plots.Difference)) error {
		d := plots.Difference{Name: "louvers", Coolant: &plots.Interval{Value: 1, Low: 0, High: 2}}
		spoil(&d)
		_, err := plots.Differences([]plots.Difference{d}, "as built", plots.US, caption)
		return err
	}
	left := func(now plots.MarginDoubt, f plots.CandidateFlight) error {
		_, err := plots.DoubtLeft(now, []plots.CandidateFlight{f}, plots.US, caption)
		return err
	}
	share := func(s plots.ShareOfDoubt) error {
		_, err := plots.Shares([]plots.ShareOfDoubt{s}, caption)
		return err
	}
	band := func(spoil func(*plots.Band)) error {
		b := bandsOf(overLimit(), 3)[0]
		spoil(&b)
		_, err := plots.History(overLimit().result(), plots.US, caption, b)
		return err
	}
	margins := func(spoil func(*plots.SensitivityCurve)) error {
		s := banded()[0]
		spoil(&s)
		_, err := plots.Sensitivity([]plots.SensitivityCurve{s}, plots.US, caption)
		return err
	}
	_, noRecords := plots.Parity(nil, plots.US, caption)
	_, noResiduals := plots.Residuals(nil, plots.US, caption)
	_, noNumbers := plots.Posterior(nil, nil, caption)
	_, noDifferences := plots.Differences(nil, "as built", plots.US, caption)
	_, noBaseline := plots.Differences([]plots.Difference{{Name: "a", Oil: &plots.Interval{}}}, "", plots.US, caption)
	_, noFlights := plots.DoubtLeft(doubtNow, nil, plots.US, caption)
	_, noShares := plots.Shares(nil, caption)
	twice := bandsOf(overLimit(), 3)[:1]
	_, twiceGiven := plots.History(overLimit().result(), plots.US, caption, twice[0], twice[0])
	for _, c := range []struct {
		want string
		err  error
	}{
		{"no records", noRecords}, {"no records", noResiduals}, {"no fitted numbers", noNumbers}, {"no differences", noDifferences},
		{"the baseline of the differences has no name", noBaseline}, {"no flights", noFlights}, {"no shares", noShares},
		{"record 1 has no name", record(func(r *plots.FlightRecord) { r.Name = "" })},
		{"record log has no readings", record(func(r *plots.FlightRecord) { r.Coolant, r.Oil = plots.GaugeReadings{}, plots.GaugeReadings{} })},
		{"coolant of record log: 5 times, 4 readings, 5 values of the model", record(func(r *plots.FlightRecord) { r.Coolant.Read = r.Coolant.Read[:4] })},
		{"oil of record log: 5 readings, 2 of them told as refused or not", record(func(r *plots.FlightRecord) { r.Oil.Refused = r.Oil.Refused[:2] })},
		{"oil of record log: reading 2 has the value NaN", record(func(r *plots.FlightRecord) { r.Oil.Read[1] = nan })},
		{"oil of record log: the model at reading 3 has the value +Inf", record(func(r *plots.FlightRecord) { r.Oil.Model[2] = inf })},
		{"coolant of record log: the time of reading 5 has the value NaN", record(func(r *plots.FlightRecord) { r.Coolant.Time[4] = nan })},
		{"coolant of record log: reading 2 is earlier", record(func(r *plots.FlightRecord) { r.Coolant.Time[1] = -1 })},
		{"the noise of coolant of record log is negative", record(func(r *plots.FlightRecord) { r.Coolant.Noise = -1 })},
		{"the noise of oil of record log has the value NaN", record(func(r *plots.FlightRecord) { r.Oil.Noise = nan })},
		{"a fitted number has no name", posterior(func(f *fit) { f.numbers[1].Name = "" })},
		{"the prior of gauges.coolant.bias has the value NaN", posterior(func(f *fit) { f.numbers[2].Prior = nan })},
		{"the doubt after of gauges.coolant.bias has the value +Inf", posterior(func(f *fit) { f.numbers[2].After = inf })},
		{"a doubt of gauges.coolant.bias is negative", posterior(func(f *fit) { f.numbers[2].Doubt = -1 })},
		{"the way of gauges.coolant.bias in doubts before the fit", posterior(func(f *fit) { f.numbers[2].Doubt = 1e-300 })},
		{"2 rows of correlations for 3 numbers", posterior(func(f *fit) { f.correlations = f.correlations[:2] })},
		{"row 2 of the correlations has 1 values for 3 numbers", posterior(func(f *fit) { f.correlations[1] = f.correlations[1][:1] })},
		{"the correlation of exits.belly.pressure_coefficient with gauges.coolant.bias has the value NaN", posterior(func(f *fit) { f.correlations[0][2] = nan })},
		{"it lies between −1 and 1", posterior(func(f *fit) { f.correlations[0][1], f.correlations[1][0] = 1.1, 1.1 })},
		{"the other way round", posterior(func(f *fit) { f.correlations[0][1] = 0.9 })},
		{"with itself", posterior(func(f *fit) { f.correlations[1][1] = 0.5 })},
		{"a configuration has no name", difference(func(d *plots.Difference) { d.Name = "" })},
		{"configuration louvers has no difference", difference(func(d *plots.Difference) { d.Coolant = nil })},
		{"the difference of coolant of louvers has the value NaN", difference(func(d *plots.Difference) { d.Coolant.High = nan })},
		{"lies outside of its interval", difference(func(d *plots.Difference) { d.Coolant.Low = 1.5 })},
		{"the doubt of the margin of coolant now has the value NaN", left(plots.MarginDoubt{Coolant: nan}, plots.CandidateFlight{Name: "a"})},
		{"the doubt of the margin of oil after tape is negative", left(doubtNow, plots.CandidateFlight{Name: "tape", Left: plots.MarginDoubt{Oil: -1}})},
		{"flight 1 has no name", left(doubtNow, plots.CandidateFlight{})},
		{"a share of doubt has no name", share(plots.ShareOfDoubt{})},
		{"the share of a in the doubt of oil has the value NaN", share(plots.ShareOfDoubt{Name: "a", Oil: plots.Index{Total: nan}})},
		{"shares are from 0 to 1", share(plots.ShareOfDoubt{Name: "a", Coolant: plots.Index{First: 1e4}})},
		{"ends below its beginning", share(plots.ShareOfDoubt{Name: "a", Coolant: plots.Index{Low: 0.3, High: 0.2}})},
		{`the band of "cabin" belongs to no peak`, band(func(b *plots.Band) { b.Channel = "cabin" })},
		{"the band of coolant_out is empty", band(func(b *plots.Band) { b.Time = nil })},
		{"the band of coolant_out has 85 times, 85 low, 3 median and 85 high values", band(func(b *plots.Band) { b.Median = b.Median[:3] })},
		{"the band of coolant_out at time 4 has the value NaN", band(func(b *plots.Band) { b.High[3] = nan })},
		{"the band of coolant_out at time 4 does not rise", band(func(b *plots.Band) { b.Low[3] = 500 })},
		{"the band of coolant_out at time 2 is earlier", band(func(b *plots.Band) { b.Time[1] = -5 })},
		{"given twice", twiceGiven},
		{"the low edge of coolant over exits.belly.height: 2 margins for 7 values", margins(func(s *plots.SensitivityCurve) { s.CoolantBand.Low = s.CoolantBand.Low[:2] })},
		{"the high edge of oil over exits.belly.height: margin 2 has the value +Inf", margins(func(s *plots.SensitivityCurve) { s.OilBand.High[1] = inf })},
		{"margin 1 falls from low to high", margins(func(s *plots.SensitivityCurve) { s.OilBand.Low[0] = 99 })},
		{"margin 1 has one edge only", margins(func(s *plots.SensitivityCurve) { s.OilBand.Low[0] = nan })},
	} {
		if c.err == nil || !strings.Contains(c.err.Error(), c.want) {
			t.Errorf("want an error on %q, got %v", c.want, c.err)
		}
	}
	bad := plots.Units(7)
	for name, draw := range map[string]func() (*plots.Figure, error){
		"parity":      func() (*plots.Figure, error) { return plots.Parity(records()["one"], bad, caption) },
		"residuals":   func() (*plots.Figure, error) { return plots.Residuals(records()["one"], bad, caption) },
		"differences": func() (*plots.Figure, error) { return plots.Differences(differences()["one"], "a", bad, caption) },
		"doubt left":  func() (*plots.Figure, error) { return plots.DoubtLeft(doubtNow, candidates()["usual"], bad, caption) },
	} {
		if _, err := draw(); err == nil {
			t.Errorf("%s: unknown units were accepted", name)
		}
	}
}

func TestWordsOfTheUserCannotBreakLessons(t *testing.T) {
	bad := "<b> & \"c\" \x00\xff\uFFFE 日本\n"
	r := recordOf(bad, 3, 100, 1)
	numbers, correlations := fitted(2)
	numbers[0].Name, numbers[0].Unit, numbers[1].Held = bad, bad, bad
	bands := bandsOf(overLimit(), 3)
	bands[0].Chance = bad
	c := plots.Caption{Title: bad}
	for name, draw := range map[string]func() (*plots.Figure, error){
		"parity":    func() (*plots.Figure, error) { return plots.Parity([]plots.FlightRecord{r}, plots.US, c) },
		"residuals": func() (*plots.Figure, error) { return plots.Residuals([]plots.FlightRecord{r}, plots.US, c) },
		"posterior": func() (*plots.Figure, error) { return plots.Posterior(numbers, correlations, c) },
		"differences": func() (*plots.Figure, error) {
			return plots.Differences([]plots.Difference{{Name: bad, Note: bad, Oil: &plots.Interval{Verdict: bad}}}, bad, plots.US, c)
		},
		"doubt left": func() (*plots.Figure, error) {
			return plots.DoubtLeft(doubtNow, []plots.CandidateFlight{{Name: bad, Note: bad}}, plots.US, c)
		},
		"shares": func() (*plots.Figure, error) { return plots.Shares([]plots.ShareOfDoubt{{Name: bad}}, c) },
		"bands":  func() (*plots.Figure, error) { return plots.History(overLimit().result(), plots.US, c, bands...) },
	} {
		fig, err := draw()
		if err != nil {
			t.Fatal(name, err)
		}
		texts(t, svg(t, fig), "text")
	}
}

// A figure may be written by several at once.
func TestLessonsWrittenAtOnce(t *testing.T) {
	t.Parallel()
	all := lessons(t, plots.US)
	for _, name := range []string{"parity_six", "residuals_six", "posterior_four", "differences_usual", "doubt_left_usual", "shares_usual", "bands_over_limit"} {
		fig := all[name]
		want := svg(t, fig)
		var wait sync.WaitGroup
		for range 2 {
			wait.Go(func() {
				var got strings.Builder
				if err := fig.WriteSVG(&got); err != nil || got.String() != want {
					t.Errorf("%s: other bytes, or %v", name, err)
				}
			})
		}
		wait.Wait()
	}
}

func BenchmarkLessons(b *testing.B) {
	all := lessons(b, plots.US)
	for _, name := range []string{"parity_six", "residuals_six", "posterior_many", "differences_usual", "doubt_left_usual", "shares_many", "bands_climb"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := all[name].WriteSVG(io.Discard); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
