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

func svg(t testing.TB, fig *plots.Figure) string {
	t.Helper()
	var out strings.Builder
	if err := fig.WriteSVG(&out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

func TestStudiesNameUnitsAndSources(t *testing.T) {
	want := map[string]map[plots.Units][]string{
		"sensitivity_two": {
			plots.US: {"Least margin over the cases, °F", "exits.belly.height, in", "coolant", "oil", "over the limit", "present value", "run failed"},
			plots.SI: {"Least margin over the cases, K"},
		},
		// 3 K are 5.4 °F.
		"contour_valley": {
			plots.US: {"inlets.chin.height, in", "exits.belly.height, in", "coolant keeps 5.4 °F", "oil keeps 5.4 °F", "optimum (5.15, 9.30)", "present (5.60, 8.50)", "a margin is too small"},
			plots.SI: {"coolant keeps 3 K"},
		},
		// 9.4 K are 16.9 °F.
		"tornado_few": {
			plots.US: {"Gain of the least margin, °F", "auxiliary serves oil", "fixes oil by spoiling coolant", "+16.9", "−9.5", "0.0"},
			plots.SI: {"Gain of the least margin, K", "+9.4", "−5.3"},
		},
		// 4900 W are 6.57 hp, 0.104 m² are 161.2 in².
		"front_trade": {
			plots.US: {"Cooling-drag power, hp", "Area of all openings, in²", "Least margin of coolant and oil over the cases, °F", "present, 6.57 hp", "present, 161 in²"},
			plots.SI: {"Cooling-drag power, kW", "Area of all openings, cm²", "present, 4.90 kW", "present, 1040 cm²"},
		},
	}
	drawnIn := map[plots.Units]map[string]*plots.Figure{plots.US: studies(t, plots.US), plots.SI: studies(t, plots.SI)}
	for name, systems := range want {
		for u, labels := range systems {
			drawn := texts(t, svg(t, drawnIn[u][name]), "text")
			for _, label := range append(labels, "Made-up tug with two coolers · scenario 5f2b9c0d7e1a · version 0.1.0 · estimate; prove by flight test") {
				if !has(drawn, label) {
					t.Errorf("%s in units %d: %q is not among %q", name, u, label, drawn)
				}
			}
		}
	}
}

func TestStudiesServeReaders(t *testing.T) {
	want := map[string]string{
		"sensitivity_one":    "exits.belly.height from 6.00 to 12.0 in: coolant −7.2 to +18.0, oil +3.6 to +14.4.",
		"contour_valley":     "The optimum is at 5.15 and 9.30.",
		"contour_level":      "25 of 25 flown designs hold both margins.",
		"contour_all_failed": "0 of 12 flown designs hold both margins.",
		"tornado_few":        "Gain of the least margin by 4 single changes, in °F, the greatest first. auxiliary serves oil: coolant −9.5, oil +16.9. spray 0.8 L/min: coolant +11.2, oil +0.5.",
		"front_trade":        "The present design: +1.4 °F of margin for 6.57 hp and 161.2 in².",
	}
	all := studies(t, plots.US)
	for name, part := range want {
		figure := svg(t, all[name])
		if about := texts(t, figure, "desc"); len(about) != 1 || !strings.Contains(about[0], part) {
			t.Errorf("%s is described %q", name, about)
		}
		if root := figure[:strings.Index(figure, ">")]; !strings.Contains(root, `role="img"`) {
			t.Errorf("%s: root element %s", name, root)
		}
	}
}

func TestContourTellsWhatItCannotShow(t *testing.T) {
	want := map[string]string{
		"contour_valley":     "Lines, 2 °F apart: lesser margin of coolant and oil over the cases, less what is required (coolant 5.4 °F, oil 5.4 °F).",
		"contour_level":      "Lesser margin of coolant and oil over the cases, less",
		"contour_outside":    "The present (3.00, 20.0) lies outside.",
		"contour_all_failed": "No run gave a margin of coolant.",
		"contour_feasible":   "The coolant holds everywhere here. The oil holds everywhere here.",
		"contour_infeasible": "The coolant holds nowhere here. The oil holds nowhere here.",
	}
	all := studies(t, plots.US)
	for name, part := range want {
		if drawn := strings.Join(texts(t, svg(t, all[name]), "text"), " "); !strings.Contains(drawn, part) {
			t.Errorf("%s lacks %q: %s", name, part, drawn)
		}
	}
}

func TestStudiesAreSound(t *testing.T) {
	t.Parallel()
	for name, fig := range studies(t, plots.SI) {
		figure := svg(t, fig)
		texts(t, figure, "text") // well-formed
		if bad := regexp.MustCompile(`NaN|Inf|e\+[0-9]`).FindString(figure); bad != "" {
			t.Errorf("%s: %s in the figure", name, bad)
		}
		checkSizes(t, name, figure)
		if most := 400_000; len(figure) > most {
			t.Errorf("%s has %d bytes", name, len(figure))
		}
	}
}

// The greatest effect comes first, whichever circuit has it.
func TestTornadoIsSorted(t *testing.T) {
	gains := []plots.Gain{{Name: "c", Coolant: 1}, {Name: "a", Oil: -3}, {Name: "b", Coolant: 2, Oil: 1}}
	fig, err := plots.Tornado(gains, plots.SI, plots.Caption{})
	if err != nil {
		t.Fatal(err)
	}
	names := ""
	for _, text := range texts(t, svg(t, fig), "text") {
		if len(text) == 1 && strings.Contains("abc", text) {
			names += text
		}
	}
	if names != "abc" || gains[0].Name != "c" {
		t.Errorf("order %s; the gains given begin with %s", names, gains[0].Name)
	}
}

// Dashes and patterns tell circuits apart without colour.
func TestStudiesDoWithoutColour(t *testing.T) {
	all := studies(t, plots.US)
	for _, name := range []string{"sensitivity_two", "contour_valley"} {
		figure := svg(t, all[name])
		if !dashes("#D55E00", figure) {
			t.Errorf("%s: oil is not dashed", name)
		}
		if dashes("#0072B2", figure) {
			t.Errorf("%s: coolant is dashed", name)
		}
	}
	if n := strings.Count(svg(t, all["tornado_few"]), `stroke="#D55E00"`); n < 50 {
		t.Errorf("oil bars have %d strokes of a pattern", n)
	}
}

func TestBadStudiesAreRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	curve := func(spoil func(*plots.SensitivityCurve)) error {
		s := over("exits.belly.height", "in", even(6, 12, 3), 1, 1)
		spoil(&s)
		_, err := plots.Sensitivity([]plots.SensitivityCurve{s}, plots.US, caption)
		return err
	}
	table := func(spoil func(*plots.ContourData)) error {
		d := valley(3, 3, 0)
		spoil(&d)
		_, err := plots.Contour(d, plots.US, caption)
		return err
	}
	gain := func(g plots.Gain) error {
		_, err := plots.Tornado([]plots.Gain{{Name: "good"}, g}, plots.US, caption)
		return err
	}
	front := func(p, present plots.FrontPoint) error {
		_, err := plots.Front([]plots.FrontPoint{{}, p}, present, plots.US, caption)
		return err
	}
	_, noCurves := plots.Sensitivity(nil, plots.US, caption)
	_, noGains := plots.Tornado(nil, plots.US, caption)
	_, noPoints := plots.Front(nil, present, plots.US, caption)
	_, noTable := plots.Contour(plots.ContourData{}, plots.US, caption)
	for _, c := range []struct {
		want string
		err  error
	}{
		{"no sensitivity curves", noCurves}, {"no gains", noGains}, {"no points", noPoints}, {"axis has no label", noTable},
		{"axis exits.belly.height has no values", curve(func(s *plots.SensitivityCurve) { s.Values = nil })},
		{"value 2 of axis exits.belly.height has the value NaN", curve(func(s *plots.SensitivityCurve) { s.Values[1] = nan })},
		{"value 3 of axis exits.belly.height does not rise", curve(func(s *plots.SensitivityCurve) { s.Values[2] = 9 })},
		{"at most 1e+09", curve(func(s *plots.SensitivityCurve) { s.Values[2] = 1e10 })},
		{"coolant over exits.belly.height: 2 margins for 3 values", curve(func(s *plots.SensitivityCurve) { s.Coolant = s.Coolant[:2] })},
		{"oil over exits.belly.height: margin 1 has the value +Inf", curve(func(s *plots.SensitivityCurve) { s.Oil[0] = inf })},
		{"the present value of exits.belly.height", curve(func(s *plots.SensitivityCurve) { s.Present = inf })},
		{"axis inlets.chin.height has one value", table(func(d *plots.ContourData) { d.X.Values = d.X.Values[:1] })},
		{"coolant: 2 rows of margins for 3 values of exits.belly.height", table(func(d *plots.ContourData) { d.Coolant = d.Coolant[:2] })},
		{"oil, row 2: 1 margins for 3 values", table(func(d *plots.ContourData) { d.Oil[1] = d.Oil[1][:1] })},
		{"oil, row 3: margin 2 has the value -Inf", table(func(d *plots.ContourData) { d.Oil[2][1] = -inf })},
		{"the margin required of oil", table(func(d *plots.ContourData) { d.NeedOil = nan })},
		{"the optimum", table(func(d *plots.ContourData) { d.Optimum = &[2]float64{nan, 1} })},
		{"the gain of oil of tape", gain(plots.Gain{Name: "tape", Oil: nan})},
		{"the gain of coolant of tape", gain(plots.Gain{Name: "tape", Coolant: inf})},
		{"the drag power of point 2 of the front", front(plots.FrontPoint{DragPower: nan}, present)},
		{"the margin of point 2 of the front", front(plots.FrontPoint{Margin: nan}, present)},
		{"the area of the present design", front(plots.FrontPoint{}, plots.FrontPoint{Area: inf})},
	} {
		if c.err == nil || !strings.Contains(c.err.Error(), c.want) {
			t.Errorf("want an error on %q, got %v", c.want, c.err)
		}
	}
	if _, err := plots.Tornado([]plots.Gain{{Name: "a"}}, plots.Units(7), caption); err == nil {
		t.Error("unknown units were accepted")
	}
	if err := front(plots.FrontPoint{}, plots.FrontPoint{Margin: nan}); err != nil {
		t.Errorf("no present design: %v", err)
	}
}

func TestWordsOfTheUserCannotBreakStudies(t *testing.T) {
	bad := "<b> & \"c\" \x00\xff\uFFFE 日本\n"
	s := over(bad, bad, even(1, 2, 3), 1, 1)
	fig, err := plots.Sensitivity([]plots.SensitivityCurve{s}, plots.US, plots.Caption{Title: bad})
	if err != nil {
		t.Fatal(err)
	}
	texts(t, svg(t, fig), "text")
	if fig, err = plots.Tornado([]plots.Gain{{Name: bad, Note: bad}}, plots.US, plots.Caption{Cases: []string{bad}}); err != nil {
		t.Fatal(err)
	}
	texts(t, svg(t, fig), "text")
}

func BenchmarkStudies(b *testing.B) {
	for _, name := range []string{"sensitivity_twelve", "contour_valley", "tornado_forty", "front_trade"} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if err := one(name).WriteSVG(io.Discard); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// one draws one study anew.
func one(name string) *plots.Figure {
	var fig *plots.Figure
	var err error
	switch kind, of, _ := strings.Cut(name, "_"); kind {
	case "sensitivity":
		fig, err = plots.Sensitivity(sensitivities()[of], plots.US, caption)
	case "contour":
		fig, err = plots.Contour(contours()[of], plots.US, caption)
	case "tornado":
		fig, err = plots.Tornado(tornados()[of], plots.US, caption)
	case "front":
		fig, err = plots.Front(fronts()[of], present, plots.US, caption)
	}
	if err != nil {
		panic(fmt.Sprint(name, ": ", err))
	}
	return fig
}

// A figure may be written by several at once.
func TestStudiesWrittenAtOnce(t *testing.T) {
	for _, name := range []string{"sensitivity_two", "contour_holes", "tornado_few", "front_trade"} {
		fig := one(name)
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
