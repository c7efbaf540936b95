package plots_test

import (
	"context"
	"io"
	"path/filepath"
	"strings"
	"testing"

	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sim"
)

// cowlOf flies a case of a scenario.
func cowlOf(t testing.TB, file, name string) (*sim.Plant, *sim.Result) {
	t.Helper()
	sc, err := scenarios.LoadFile(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases([]string{name}, nil)
	if err != nil {
		t.Fatal(err)
	}
	plant, err := cases[0].Scenario.Build()
	if err != nil {
		t.Fatal(err)
	}
	res, err := sim.Run(context.Background(), plant, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return plant, res
}

// Flown cowls are drawn as wide as a page, and say of every core what the result
// says.
func TestCowlOfFlights(t *testing.T) {
	for file, name := range map[string]string{"tug": "hot_tow", "rotary": "hot_climb", "seaplane": "hot_climb", "../testdata/scenarios/highwing.yaml": "climb"} {
		plant, res := cowlOf(t, file, name)
		fig, err := plots.Cowl(plant, res, plots.US, caption)
		if err != nil {
			t.Fatal(file, err)
		}
		drawing := svg(t, fig)
		if !strings.Contains(drawing, `viewBox="0 0 540 `) || len(drawing) > 60e3 {
			t.Errorf("%s: %d bytes, %.120s", file, len(drawing), drawing)
		}
		drawn := texts(t, drawing, "text")
		for i, e := range res.Exchangers {
			if want := plots.Heat.Show(plots.US, e.Heat); !has(drawn, want) {
				t.Errorf("%s: %s of %s is not told", file, want, e.Name)
			}
			if want := plots.AirFlow.Show(plots.US, e.AirFlow); plant.Exchangers[i].Branch != sim.NoBranch && !has(drawn, want) {
				t.Errorf("%s: %s of %s is not told", file, want, e.Name)
			}
		}
		if *look != "" {
			save(t, fig, filepath.Join(*look, "cowl_"+filepath.Base(file)+".png"))
		}
	}
}

func BenchmarkCowl(b *testing.B) {
	plant, res := cowlOf(b, "tug", "hot_tow")
	b.ReportAllocs()
	for b.Loop() {
		fig, err := plots.Cowl(plant, res, plots.US, caption)
		if err != nil {
			b.Fatal(err)
		}
		if err := fig.WriteSVG(io.Discard); err != nil {
			b.Fatal(err)
		}
	}
}
