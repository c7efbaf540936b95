package uncertainty

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// rowsOf flies the toy over oil heats that are 0, 2 and 4 of its deviations above
// what it is, and returns the rows in order.
func rowsOf(t *testing.T, sc *scenarios.Scenario, f *toy, set FlightSettings, workers int) []sweep.Row {
	t.Helper()
	rows, _ := cellsOf(t, sc, f, set, workers)
	return rows
}

func cellsOf(t *testing.T, sc *scenarios.Scenario, f *toy, set FlightSettings, workers int) ([]sweep.Row, []string) {
	t.Helper()
	factor := sweep.Factor{Param: f.params[oilPath]}
	for i := range 3 {
		factor.Values = append(factor.Values, f.at[oilPath]+2*float64(i)*f.sigma[oilPath])
	}
	factor.Lo, factor.Hi = factor.Values[0], factor.Values[2]
	designs, err := sweep.Grid([]sweep.Factor{factor})
	if err != nil {
		t.Fatal(err)
	}
	study := &sweep.Study{
		Cases: []scenarios.CaseScenario{{Name: "hot_tow", Scenario: sc}}, Factors: []sweep.Factor{factor}, Designs: designs, Workers: workers,
	}
	set.Fly = f.fly
	DrawRows(study, set)
	rows, cells := make([]sweep.Row, 3), make([]string, 3)
	err = study.Run(t.Context(), sweep.Plan{}, func(r *sweep.Row) error {
		rows[r.Index] = *r
		cells[r.Index] = strings.Join(sweep.Cells(study.Columns(), r), ",")
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return rows, cells
}

// The doubts of heat (3 K) and pump (4 K) add up as ρ has it; the oil heat is set,
// and so known. Chances are those of the normal law, and of as many independent
// draws as one likes.
func TestRowsInClosedForm(t *testing.T) {
	for _, test := range []struct{ rho, coolant float64 }{{0, 5}, {1, 7}, {-1, 1}, {-0.5, math.Sqrt(9 + 16 - 12)}} {
		sc := tug(t, test.rho)
		f := newToy(t, sc)
		for i, r := range rowsOf(t, sc, f, FlightSettings{Draws: 256, Seed: 5}, 2) {
			if r.Err != nil || r.Drawn == nil || r.Drawn.Failed != 0 {
				t.Fatalf("%v, %+v", r.Err, r.Drawn)
			}
			oil := 20 - 8*float64(i)
			if c, o := r.Circuits[sweep.Coolant].Margin, r.Circuits[sweep.Oil].Margin; math.Abs(c-6) > 1e-9 || math.Abs(o-oil) > 1e-9 {
				t.Errorf("as it stands %g and %g", c, o)
			}
			for c, want := range []struct{ mean, sigma float64 }{{6, test.coolant}, {oil, 3}} {
				m := r.Drawn.Margins[c]
				if math.Abs(m.Deviation/want.sigma-1) > 0.03 {
					t.Errorf("ρ %g, margin %d: σ %g, want %g", test.rho, c, m.Deviation, want.sigma)
				}
				for _, end := range []struct{ got, z float64 }{{m.Low, -1.645}, {m.High, 1.645}} {
					if math.Abs(end.got-want.mean-end.z*want.sigma) > 0.1*want.sigma {
						t.Errorf("ρ %g, margin %d: %g, want %g", test.rho, c, end.got, want.mean+end.z*want.sigma)
					}
				}
				if chance := phi(-want.mean / want.sigma); math.Abs(m.Over-chance) > 0.012 {
					t.Errorf("ρ %g, margin %d: chance %g, want %g", test.rho, c, m.Over, chance)
				}
			}
			if any := countedOver(test.rho, oil); math.Abs(r.Drawn.Over-any) > 0.015 {
				t.Errorf("ρ %g: chance of any %g, %g by counting", test.rho, r.Drawn.Over, any)
			}
			if !math.IsNaN(r.Drawn.Margins[sweep.Boiling].Over) {
				t.Error("it cannot boil")
			}
		}
	}
}

// countedOver counts how many of 200 000 independent draws of the toy exceed
// either limit.
func countedOver(rho, oil float64) float64 {
	const n = 200000
	random := rand.New(rand.NewPCG(1, 2))
	over := 0
	for range n {
		heat, z := random.NormFloat64(), random.NormFloat64()
		pump := rho*heat + math.Sqrt(1-rho*rho)*z
		if 6-3*heat-4*pump <= 0 || oil-3*heat <= 0 {
			over++
		}
	}
	return float64(over) / n
}

// Every row has the same draws: what a factor does to a margin it does to all of
// its quantiles, to the last digits.
func TestRowsShareTheirDraws(t *testing.T) {
	sc := tug(t, 0.3)
	for _, sampling := range []string{sweep.SobolDesign, sweep.LatinDesign} {
		rows := rowsOf(t, sc, newToy(t, sc), FlightSettings{Draws: 64, Sampling: sampling, Seed: 3}, 2)
		first := rows[0].Drawn.Margins[sweep.Oil]
		for i, r := range rows {
			m := r.Drawn.Margins[sweep.Oil]
			step := -8 * float64(i)
			if math.Abs(m.Low-first.Low-step) > 1e-9 || math.Abs(m.High-first.High-step) > 1e-9 || math.Abs(m.Deviation-first.Deviation) > 1e-9 {
				t.Errorf("%s: row %d %+v, row 0 %+v", sampling, i, m, first)
			}
			if r.Drawn.Margins[sweep.Coolant] != rows[0].Drawn.Margins[sweep.Coolant] {
				t.Errorf("%s: the oil heat moves the coolant", sampling)
			}
		}
	}
}

func TestRowsOfAnyWorkers(t *testing.T) {
	sc := tug(t, -0.4)
	_, one := cellsOf(t, sc, newToy(t, sc), FlightSettings{Seed: 9}, 1)
	_, four := cellsOf(t, sc, newToy(t, sc), FlightSettings{Seed: 9}, 4)
	_, other := cellsOf(t, sc, newToy(t, sc), FlightSettings{Seed: 10}, 1)
	if !slices.Equal(one, four) {
		t.Errorf("1 worker:\n%v\n4 workers:\n%v", one, four)
	}
	if slices.Equal(one, other) {
		t.Error("the seed does nothing")
	}
	for _, row := range one {
		if strings.Contains(row, "NaN") || !strings.HasSuffix(row, ",0") {
			t.Errorf("row %s", row)
		}
	}
}

// Draws that fail are counted; a row of which hardly any is left keeps its flight.
func TestRowsWithFailures(t *testing.T) {
	sc := tug(t, 0)
	f := newToy(t, sc)
	f.fail = func(heat float64) error {
		if heat > 1 {
			return errors.New("too hot")
		}
		return nil
	}
	for _, r := range rowsOf(t, sc, f, FlightSettings{Draws: 256}, 1) {
		if d := r.Drawn; r.Err != nil || math.Abs(float64(d.Failed)-256*phi(-1)) > 2 || !(d.Margins[sweep.Coolant].Deviation > 3) {
			t.Errorf("%v, %+v", r.Err, d)
		}
	}
	f.fail = func(heat float64) error {
		if heat != 0 {
			return errors.New("too hot")
		}
		return nil
	}
	rows, cells := cellsOf(t, sc, f, FlightSettings{}, 1)
	for i, r := range rows {
		if d := r.Drawn; r.Err != nil || d.Failed != 64 || !math.IsNaN(d.Over) || math.Abs(r.Circuits[sweep.Coolant].Margin-6) > 1e-9 {
			t.Errorf("%v, %+v", r.Err, r.Drawn)
		}
		if !strings.HasSuffix(cells[i], ",,,,,,,,,,,64") {
			t.Errorf("cells %s", cells[i])
		}
	}
	f.fail = func(float64) error { return errors.New("no air") }
	rows, cells = cellsOf(t, sc, f, FlightSettings{}, 1)
	for i, r := range rows {
		if r.Err == nil || r.Err.Error() != "no air" || !strings.HasSuffix(cells[i], ",no air,,,,,,,,,,,") {
			t.Errorf("%v, %s", r.Err, cells[i])
		}
	}
}

// Where every number is known, margins are what they are.
func TestRowsWithoutDoubt(t *testing.T) {
	sc := tug(t, 0)
	f := newToy(t, sc)
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	sc, err = sc.Edit(func(sc *scenarios.Scenario) error {
		var all []error
		for k, p := range doubts.Params {
			all = append(all, p.Set(sc, doubts.Mean[k]))
		}
		return errors.Join(all...)
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := OfFlight(t.Context(), sc, FlightSettings{Fly: f.fly}); !errors.Is(err, ErrNoDoubt) {
		t.Fatal(err)
	}
	rows := rowsOf(t, sc, f, FlightSettings{}, 1)
	for i, r := range rows {
		oil := 20 - 8*float64(i)
		got := fmt.Sprintf("%.6f", []any{r.Drawn.Margins[0], r.Drawn.Margins[1], r.Drawn.Over})
		want := fmt.Sprintf("%.6f", []any{sweep.DrawnMargin{Low: 6, High: 6}, sweep.DrawnMargin{Low: oil, High: oil}, 0.0})
		if got != want {
			t.Errorf("row %d: %s, want %s", i, got, want)
		}
	}
	hot := sweep.Outcome{BoilMargin: -1, Circuits: [2]sweep.Circuit{{Margin: 2}, {Margin: 0}}}
	if d := certain(&hot); d.Over != 1 || d.Margins[sweep.Coolant].Over != 0 || d.Margins[sweep.Oil].Over != 1 || d.Margins[sweep.Boiling].Over != 1 {
		t.Errorf("%+v", d)
	}
}

// The peak of the coolant is 118 - 6 + 3 heat + 4 pump, whatever is known of the
// limit.
func TestPeaksInClosedForm(t *testing.T) {
	sc := tug(t, 0)
	f := newToy(t, sc)
	s, err := OfFlight(t.Context(), sc, FlightSettings{Draws: 512, Fly: f.fly, Workers: 2, Times: 20})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		channel string
		at      float64
	}{{"coolant_out", 112}, {"oil_in", 100}} {
		p := s.Peaks[i]
		if p.Channel != want.channel || math.Abs(p.Stated-want.at) > 1e-9 || math.Abs(p.Deviation-5) > 0.1 ||
			math.Abs(p.Low-(want.at-1.645*5)) > 0.5 || math.Abs(p.High-(want.at+1.645*5)) > 0.5 {
			t.Errorf("%+v", p)
		}
	}
}
