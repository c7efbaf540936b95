package plots_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"image/png"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"hotclimb/plots"
	"hotclimb/sim"
)

func svgOf(t *testing.T, res *sim.Result, u plots.Units, c plots.Caption) string {
	t.Helper()
	fig, err := plots.History(res, u, c)
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	if err := fig.WriteSVG(&out); err != nil {
		t.Fatal(err)
	}
	return out.String()
}

// texts returns the character data of the elements of a name; it fails if the
// figure is not well-formed XML.
func texts(t *testing.T, svg, element string) []string {
	t.Helper()
	var found []string
	d := xml.NewDecoder(strings.NewReader(svg))
	for inside := false; ; {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return found
		}
		if err != nil {
			t.Fatalf("not XML: %v", err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			inside = e.Name.Local == element
		case xml.EndElement:
			inside = false
		case xml.CharData:
			if inside {
				found = append(found, string(e))
			}
		}
	}
}

func has(list []string, want string) bool {
	for _, s := range list {
		if s == want {
			return true
		}
	}
	return false
}

func TestEveryAxisNamesItsUnit(t *testing.T) {
	want := map[plots.Units][]string{
		plots.US: {"Coolant and oil, °F", "Altitude, ft", "Outside air, °F", "Air through each exchanger, lb/min", "Time, min"},
		plots.SI: {"Coolant and oil, °C", "Altitude, m", "Outside air, °C", "Air through each exchanger, kg/s", "Time, min"},
	}
	for u, labels := range want {
		drawn := texts(t, svgOf(t, overLimit().result(), u, caption), "text")
		for _, label := range labels {
			if !has(drawn, label) {
				t.Errorf("units %d: no axis label %q in %q", u, label, drawn)
			}
		}
	}
}

// The limits of the made-up run are 113 and 116 °C: 235.4 and 240.8 °F.
func TestUnitsOfNotesAndNames(t *testing.T) {
	want := map[plots.Units][]string{
		plots.US: {"coolant limit 235", "oil limit 241", "coolant caution 219"},
		plots.SI: {"coolant limit 113", "oil limit 116", "coolant caution 104"},
	}
	for u, names := range want {
		drawn := texts(t, svgOf(t, overLimit().result(), u, caption), "text")
		for _, name := range names {
			if !has(drawn, name) {
				t.Errorf("units %d: %q is not among %q", u, name, drawn)
			}
		}
	}
}

func TestPeaksCrossingsLegsAndCaptionAreTold(t *testing.T) {
	drawn := texts(t, svgOf(t, overLimit().result(), plots.SI, caption), "text")
	// Coolant: 122 − 36·exp(−750/150) = 121.8 °C at the end, 840 s; it passes
	// 113 °C at 90 + 150·ln 4 = 298 s. Oil: 128 − 46·exp(−750/240) = 126.0 °C; it
	// passes 116 °C at 90 + 240·ln(46/12) = 412.5 s.
	for _, want := range []string{
		"coolant peak 122 °C, 14.0 min", "oil peak 126 °C, 14.0 min",
		"coolant passes its limit, 5.0 min", "oil passes its limit, 6.9 min",
		"settled", "climb", "coolant boils", "radiator", "oil cooler", "Hot climb – hot day, full load",
		"Made-up tug with two coolers · case hot day, full load · scenario 5f2b9c0d7e1a · version 0.1.0 · estimate; prove by flight test",
	} {
		if !has(drawn, want) {
			t.Errorf("%q is not among %q", want, drawn)
		}
	}
}

func TestRootElementServesReaders(t *testing.T) {
	svg := svgOf(t, overLimit().result(), plots.SI, caption)
	root := svg[:strings.Index(svg, ">")]
	for _, want := range []string{`viewBox="0 0 540 `, `role="img"`, "sans-serif"} {
		if !strings.Contains(root, want) {
			t.Errorf("root element %s> lacks %s", root, want)
		}
	}
	if title := texts(t, svg, "title"); !has(title, "Hot climb – hot day, full load") {
		t.Errorf("title is %q", title)
	}
	want := "The oil peaks at 126 °C after 14.0 min; its limit is 116 °C, passed after 6.9 min."
	if about := texts(t, svg, "desc"); len(about) != 1 || !strings.Contains(about[0], want) {
		t.Errorf("description is %q", about)
	}
}

func TestTextIsLargeEnough(t *testing.T) {
	figure := svgOf(t, climb().result(), plots.US, caption)
	if n := len(texts(t, figure, "text")); n < 30 {
		t.Errorf("only %d texts found", n)
	}
	checkSizes(t, "history", figure)
}

// textSize is the size of a text in a figure.
var textSize = regexp.MustCompile(`<text [^>]*font-size="([^"]*)"`)

// checkSizes fails unless every text of a figure has a size of 9 or more.
func checkSizes(t *testing.T, name, svg string) {
	t.Helper()
	sizes := textSize.FindAllStringSubmatch(svg, -1)
	if n := strings.Count(svg, "<text "); n == 0 || len(sizes) != n {
		t.Errorf("%s: %d of %d texts have a size", name, len(sizes), n)
	}
	for _, s := range sizes {
		if size, err := strconv.ParseFloat(s[1], 64); err != nil || size < 9 {
			t.Errorf("%s: text of size %s", name, s[1])
		}
	}
}

// dashes finds a line of a colour with dashes.
func dashes(color, svg string) bool {
	return regexp.MustCompile(`stroke="` + color + `"[^>]*stroke-dasharray`).MatchString(svg)
}

func TestCurvesAreThinned(t *testing.T) {
	f := climb()
	f.every = 0.1
	for _, path := range regexp.MustCompile(` d="([^"]*)"`).FindAllStringSubmatch(svgOf(t, f.result(), plots.US, caption), -1) {
		if n := strings.Count(path[1], "L") + 1; n > 600 {
			t.Errorf("a path has %d points", n)
		}
	}
}

func TestSameBytesEveryTime(t *testing.T) {
	want := svgOf(t, climb().result(), plots.US, caption)
	var wait sync.WaitGroup
	for range 8 {
		wait.Go(func() {
			fig, err := plots.History(climb().result(), plots.US, caption)
			if err != nil {
				t.Error(err)
				return
			}
			for range 2 { // writing changes nothing
				var got strings.Builder
				if err := fig.WriteSVG(&got); err != nil {
					t.Error(err)
				}
				if got.String() != want {
					t.Error("the same result gave other bytes")
				}
			}
		})
	}
	wait.Wait()
}

func TestBadNumbersAreRefused(t *testing.T) {
	nan := math.NaN()
	spoilt := map[string]func(*sim.Result){
		"coolant_out_degC":       func(r *sim.Result) { r.Trajectory.Find("coolant_out_degC").Values[5] = nan },
		"oil_in_degC":            func(r *sim.Result) { r.Trajectory.Find("oil_in_degC").Values[0] = math.Inf(1) },
		"radiator_air_kg_s":      func(r *sim.Result) { r.Trajectory.Find("radiator_air_kg_s").Values[3] = nan },
		"altitude_m":             func(r *sim.Result) { r.Trajectory.Find("altitude_m").Values[3] = nan },
		"boil_degC":              func(r *sim.Result) { r.Trajectory.Find("boil_degC").Values[3] = nan },
		"time_s":                 func(r *sim.Result) { r.Trajectory.Find("time_s").Values[3] = nan },
		"earlier":                func(r *sim.Result) { r.Trajectory.Find("time_s").Values[3] = 0 },
		"outside_degC":           func(r *sim.Result) { r.Trajectory.Find("outside_degC").Values = nil },
		"no channel altitude_m":  func(r *sim.Result) { r.Trajectory.Find("altitude_m").Name = "height_m" },
		"peak of oil_sump":       func(r *sim.Result) { r.Peaks[1].Value = nan },
		"the peak of coolant":    func(r *sim.Result) { r.Peaks[0].Limit = math.Inf(1) },
		"leg climb":              func(r *sim.Result) { r.Legs[1].Start = nan },
		"event coolant reaches":  func(r *sim.Result) { r.Events[0].Time = nan },
		"no trajectory":          func(r *sim.Result) { r.Trajectory = nil },
		"no peaks":               func(r *sim.Result) { r.Peaks = nil },
		"run was not sampled":    func(r *sim.Result) { r.Trajectory.Channels = nil },
		"no channel oil_sump_de": func(r *sim.Result) { r.Trajectory.Find("oil_sump_degC").Name = "x" },
	}
	for want, spoil := range spoilt {
		res := overLimit().result()
		spoil(res)
		if _, err := plots.History(res, plots.US, caption); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("want an error on %q, got %v", want, err)
		}
	}
	if _, err := plots.History(nil, plots.US, caption); err == nil {
		t.Error("no result was accepted")
	}
	if _, err := plots.History(overLimit().result(), plots.Units(7), caption); err == nil {
		t.Error("unknown units were accepted")
	}
}

// degenerate runs: one sample, all flat at one value, no legs, no exchangers.
func TestTinyAndFlatRuns(t *testing.T) {
	t.Parallel()
	single := sim.Result{
		Peaks: []sim.Peak{{Channel: "coolant_out", Value: 90, Caution: 90, Limit: 90}, {Channel: "oil_in", Value: 90, Caution: 90, Limit: 90}},
		Trajectory: &sim.Trajectory{Channels: []sim.Channel{
			{Name: "time_s", Values: []float64{0}}, {Name: "altitude_m", Values: []float64{0}}, {Name: "outside_degC", Values: []float64{90}},
			{Name: "coolant_out_degC", Values: []float64{90}}, {Name: "oil_in_degC", Values: []float64{90}}, {Name: "boil_degC", Values: []float64{0}},
		}},
	}
	flat := overLimit()
	flat.altitude = func(float64) float64 { return 0 }
	flat.flow = func(float64) float64 { return 0 }
	flat.coolant, flat.oil = flat.flow, flat.flow
	flat.exchangers = []sim.ExchangerState{{Name: "radiator", Serves: "coolant"}}
	noTime := overLimit().result()
	for i := range noTime.Trajectory.Channels {
		c := &noTime.Trajectory.Channels[i]
		c.Values = []float64{c.Values[0], c.Values[0], c.Values[0]}
	}
	noTime.Legs, noTime.Events, noTime.Peaks[0].Exceeded, noTime.Peaks[1].Exceeded = nil, nil, false, false
	noTime.Peaks[0].Time, noTime.Peaks[1].Time = 0, 0
	for name, res := range map[string]*sim.Result{"single": &single, "flat": flat.result(), "no time": noTime} {
		fig, err := plots.History(res, plots.US, plots.Caption{})
		if err != nil {
			t.Fatal(name, err)
		}
		svg := svgOf(t, res, plots.US, plots.Caption{})
		texts(t, svg, "text")
		if bad := regexp.MustCompile(`NaN|Inf|e\+[0-9]`).FindString(svg); bad != "" {
			t.Errorf("%s: %s in the figure", name, bad)
		}
		var out bytes.Buffer
		if err := fig.WritePNG(&out); err != nil {
			t.Fatal(name, err)
		}
		if img, err := png.Decode(&out); err != nil || img.Bounds().Dx() != 1440 { // 540 pt at 192 dpi
			t.Errorf("%s: PNG %v, %v", name, img.Bounds(), err)
		}
		if *look != "" {
			save(t, fig, *look+"/"+strings.ReplaceAll(name, " ", "_")+".png")
		}
	}
}

func TestWordsOfTheUserCannotBreakTheFigure(t *testing.T) {
	c := plots.Caption{Title: "a <b> & \"c\" \x00\xff\uFFFE 日本", Cases: []string{strings.Repeat("long case ", 40)}, Scenario: strings.Repeat("W", 300), Hash: "é", Version: "\n"}
	res := climb().result()
	res.Legs[2].Name = strings.Repeat("a leg with a very long name ", 9)
	res.Exchangers[0].Name, res.Trajectory.Channels[8].Name = "<&>", "<&>_air_kg_s"
	svg := svgOf(t, res, plots.US, c)
	drawn := texts(t, svg, "text")
	if !has(drawn, "estimate; prove by flight test") && !strings.Contains(strings.Join(drawn, "|"), "estimate; prove by flight test") {
		t.Error("a long caption lost its reminder")
	}
	for _, want := range []string{"radiator"} {
		if has(drawn, want) {
			t.Errorf("%q was drawn under its old name", want)
		}
	}
}

func TestCSV(t *testing.T) {
	var out strings.Builder
	run := &sim.Trajectory{Channels: []sim.Channel{
		{Name: "time_s", Values: []float64{0, 1.5}}, {Name: "oil, sump_degC", Values: []float64{80, 1.0 / 3}},
	}}
	if err := plots.CSV(&out, run); err != nil {
		t.Fatal(err)
	}
	if want := "time_s,\"oil, sump_degC\"\n0,80\n1.5,0.333333\n"; out.String() != want {
		t.Errorf("got %q, want %q", out.String(), want)
	}
	out.Reset()
	run.Channels[1].Values[1] = math.NaN()
	if err := plots.CSV(&out, run); err == nil || out.Len() > 0 {
		t.Errorf("NaN: error %v, written %q", err, out.String())
	}
	run.Channels[1].Values = run.Channels[1].Values[:1]
	if err := plots.CSV(&out, run); err == nil || !strings.Contains(err.Error(), "1 samples") {
		t.Errorf("channels of unequal length: %v", err)
	}
	if err := plots.CSV(&out, nil); err == nil {
		t.Error("no trajectory was accepted")
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, errors.New("disk full") }

func TestWriteErrorsComeBack(t *testing.T) {
	res := ground().result()
	fig, err := plots.History(res, plots.SI, caption)
	if err != nil {
		t.Fatal(err)
	}
	for name, err := range map[string]error{
		"SVG": fig.WriteSVG(broken{}), "PNG": fig.WritePNG(broken{}), "CSV": plots.CSV(broken{}, res.Trajectory),
	} {
		if err == nil || !strings.Contains(err.Error(), "disk full") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func BenchmarkHistory(b *testing.B) {
	res := climb().result()
	b.ReportAllocs()
	for b.Loop() {
		fig, err := plots.History(res, plots.US, caption)
		if err != nil {
			b.Fatal(err)
		}
		if err := fig.WriteSVG(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
