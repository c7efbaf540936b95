package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
	"hotclimb/sweep/uncertainty"
)

func TestPercent(t *testing.T) {
	for share, want := range map[float64]string{
		0: "0 %", 0.004: "<1 %", 0.005: "<1 %", 0.0051: "1 %", 0.374: "37 %", 0.9949: "99 %", 0.995: ">99 %", 1: "100 %", -0.1: "0 %", 1.2: "100 %",
	} {
		if got := percent(share); got != want {
			t.Errorf("%g is %s, want %s", share, got, want)
		}
	}
	// The ends of an interval are rounded outwards.
	if got := chance(uncertainty.Estimate{Value: 0.373, Lo: 0.3249, Hi: 0.4211}); got != "37 % (32 to 43)" {
		t.Error(got)
	}
	if got := chance(uncertainty.Estimate{Value: 1.02, Lo: -0.1, Hi: 1.4}); got != "100 % (0 to 100)" {
		t.Error(got)
	}
}

func TestWhereDoubtComesFrom(t *testing.T) {
	share := func(name string, total float64, inputs ...int) uncertainty.Share {
		return uncertainty.Share{Name: name, Inputs: inputs, Total: uncertainty.Estimate{Value: total}}
	}
	for _, test := range []struct {
		sigma  float64
		shares []uncertainty.Share
		want   string
	}{
		{2, []uncertainty.Share{share("exits.ring.pressure", 0.44, 0), share("engine.heat", 0.31, 1), share("oil.flow", 0.2, 2)},
			"Most of the doubt of the oil margin in tow comes from exits.ring.pressure (44 %) and engine.heat (31 %)."},
		{2, []uncertainty.Share{share("a", 0.8, 0), share("b", 0.3, 1)}, "Most of the doubt of the oil margin in tow comes from a (80 %)."},
		{2, []uncertainty.Share{share("a and b", 0.7, 0, 1), share("c", 0.3, 2)},
			"Most of the doubt of the oil margin in tow comes from a and b together, as their correlations tie them (70 %)."},
		{2, []uncertainty.Share{share(uncertainty.AllOthers, 0.6, 3, 4), share("a", 0.12, 0), share("b", 0.1, 1), share("c", 0.09, 2), share("d", 0.08, 5)},
			"The doubt of the oil margin in tow comes from many numbers; most do a (12 %), b (10 %) and c (9 %)."},
		{2, []uncertainty.Share{share(uncertainty.AllOthers, 1, 3, 4)},
			"The doubt of the oil margin in tow comes from many numbers, none of which does much."},
		{0, []uncertainty.Share{share("a", 0, 0)}, "No doubtful number moves the oil margin in tow."},
	} {
		s := source{
			&caseSource{flown: &flown{name: "tow"}},
			&uncertainty.MarginSources{Limit: uncertainty.OilLimit, Origin: uncertainty.Origin{Deviation: test.sigma, Shares: test.shares}},
		}
		if got := s.sentence(); got != test.want {
			t.Errorf("%s\nwant %s", got, test.want)
		}
	}
}

// The cases that are asked where their doubt comes from are those with the least
// margins, once each.
func TestLeastMarginsAreAsked(t *testing.T) {
	k := func(coolant, oil float64) *flown {
		return &flown{flight: &flight{result: &sim.Result{Peaks: []sim.Peak{{Margin: coolant}, {Margin: oil}}}}}
	}
	for _, test := range []struct {
		cases []*flown
		want  string
	}{
		{[]*flown{k(3, 4), k(5, 6)}, "0 coolant oil"},
		{[]*flown{k(3, 4), k(5, 2)}, "0 coolant, 1 oil"},
		{[]*flown{k(3, 4), k(3, 4), k(-1, 1)}, "2 coolant oil"},
	} {
		var d doubt
		d.choose(test.cases)
		var got []string
		for _, s := range d.sources {
			for i, k := range test.cases {
				if s.flown == k {
					got = append(got, string(rune('0'+i))+" "+strings.Join(s.limits, " "))
				}
			}
		}
		if strings.Join(got, ", ") != test.want {
			t.Errorf("%v, want %s", got, test.want)
		}
	}
}

// sigmas are the deviations of the margins of small.yaml on its cool day.
func sigmas(t *testing.T, overlay string, set ...string) [2]float64 {
	t.Helper()
	over := filepath.Join(t.TempDir(), "over.yaml")
	if err := os.WriteFile(over, []byte(overlay), 0o644); err != nil {
		t.Fatal(err)
	}
	args := []string{"run", filepath.Join(scripts, "small.yaml"), "--over", over, "--case", "cool", "--doubt", "--draws", "64", "--format", "json"}
	for _, s := range set {
		args = append(args, "--set", s)
	}
	var stdout, stderr bytes.Buffer
	if status := app(context.Background(), args, &stdout, &stderr); status != exitDone {
		t.Fatalf("exit status %d: %s", status, &stderr)
	}
	var r struct {
		Cases []struct {
			Doubt struct {
				Limits []struct {
					Limit string  `json:"limit"`
					Sigma float64 `json:"margin_sigma_K"`
				} `json:"limits"`
			} `json:"doubt"`
		} `json:"cases"`
	}
	if err := json.Unmarshal(stdout.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return [2]float64{r.Cases[0].Doubt.Limits[0].Sigma, r.Cases[0].Doubt.Limits[1].Sigma}
}

// What a fit leaves behind, sharper numbers that go together, counts: the air
// through a hole goes by its area times its discharge coefficient, so that two
// such doubts against each other cancel, and two with each other add up.
func TestFittedDoubts(t *testing.T) {
	exit := "exits: {belly: {area: 80 in^2 ± 16 in^2, discharge: 0.62 ± 0.124}}\n"
	tied := func(rho string) string {
		return exit + "correlations:\n  - {name: exit, of: exits.belly.area, with: exits.belly.discharge, value: " + rho + "}\n"
	}
	known := sigmas(t, exit, "exits.belly.area=80 in^2", "exits.belly.discharge=0.62")
	free, against, with := sigmas(t, exit), sigmas(t, tied("-1")), sigmas(t, tied("1"))
	for c := range known {
		if math.Abs(against[c]/known[c]-1) > 0.05 {
			t.Errorf("margin %d: doubts that cancel leave %g K, without them %g K", c, against[c], known[c])
		}
		if !(against[c] < 0.95*free[c] && free[c] < 0.97*with[c]) {
			t.Errorf("margin %d: against each other %g K, free %g K, with each other %g K", c, against[c], free[c], with[c])
		}
	}
	wide := sigmas(t, "engine: {heat_to_coolant: 0.75 ± 0.1, heat_to_oil: 0.1 ± 0.025}\n")
	fitted := sigmas(t, "engine: {heat_to_coolant: 0.75 ± 0.03, heat_to_oil: 0.1 ± 0.008}\ncorrelations:\n"+
		"  - {name: heat, of: engine.heat_to_coolant, with: engine.heat_to_oil, value: -0.6}\n")
	for c := range wide {
		if fitted[c] > 0.9*wide[c] {
			t.Errorf("margin %d: %g K after the fit, %g K before", c, fitted[c], wide[c])
		}
	}
}

// A cut holds the least 5 and 95 % over the cases beside the least margin.
func TestCutsOfDoubt(t *testing.T) {
	s := tugSwept(t, "day.temperature=20 degC..40 degC:5")
	s.study.Draws = &sweep.DrawNote{Draws: 16, Sampling: sweep.SobolDesign, Seed: 1}
	s.manifest.Draws = s.study.Draws
	s.study.Evaluate = func(_ context.Context, trial sweep.Trial) (sweep.Outcome, error) {
		coolant, oil := formulaMargins(s.study.Factors, trial.Levels, trial.Case)
		if trial.Index == 4 {
			return sweep.Outcome{}, errors.New("no air")
		}
		wide := 3 + 12*float64(trial.Case) // the second case is 10 K cooler, and so much wider
		return sweep.Outcome{Circuits: [2]sweep.Circuit{{Margin: coolant}, {Margin: oil}}, Drawn: &sweep.Drawn{
			Margins: [3]sweep.DrawnMargin{{Low: coolant - wide, High: coolant + wide, Over: 0.25}, {Low: oil - 1, High: oil + 2}, {}}, Over: 0.25,
		}}, nil
	}
	c := newCutter(s)
	s.rows(t, c.take)
	for i, at := range []float64{20, 25, 30, 35, 40} {
		coolant, low, high, oil := at, at-5, at+3, at*at
		if i == 2 {
			coolant, low, high, oil = math.NaN(), math.NaN(), math.NaN(), math.NaN()
		}
		k := c.cuts[0]
		for _, cell := range []struct{ got, want float64 }{
			{k.margins[0][0][i], coolant}, {k.low[0][0][i], low}, {k.high[0][0][i], high},
			{k.margins[1][0][i], oil}, {k.low[1][0][i], oil - 1}, {k.high[1][0][i], oil + 2},
		} {
			if math.IsNaN(cell.got) != math.IsNaN(cell.want) || math.Abs(cell.got-cell.want) > 1e-6*(1+math.Abs(cell.want)) {
				t.Errorf("at %g °C %g, want %g", at, cell.got, cell.want)
			}
		}
	}
	tally := newTally(s)
	s.rows(t, tally.take)
	var text bytes.Buffer
	if err := tally.writeText(&text, newScreen(&bytes.Buffer{})); err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(text.String(), "  over %  ") || !strings.Contains(text.String(), "in 16 draws)\n") {
		t.Errorf("the text lacks the doubt:\n%s", &text)
	}
}

// A scenario in which every number is known has nothing to draw, which the user
// can mend.
func TestNothingToDraw(t *testing.T) {
	sc, err := scenarios.LoadFile(filepath.Join(scripts, "small.yaml"), nil)
	if err != nil {
		t.Fatal(err)
	}
	if sc, err = sc.Case("cool"); err != nil {
		t.Fatal(err)
	}
	n, err := doubtful("cool", sc)
	if err != nil || n < 20 {
		t.Fatalf("%d numbers, %v", n, err)
	}
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	for k, p := range doubts.Params {
		if err := p.Set(sc, doubts.Mean[k]); err != nil {
			t.Fatal(err)
		}
	}
	_, err = doubtful("cool", sc)
	if !errors.As(err, new(badInput)) || !strings.HasPrefix(err.Error(), "--doubt: case cool: no number of this scenario carries a doubt: ") {
		t.Error(err)
	}
}

// A sweep with doubt that is killed and resumed has the bytes of an undisturbed
// one.
func TestKilledSweepWithDoubtResumes(t *testing.T) {
	dir := t.TempDir()
	small, err := filepath.Abs(filepath.Join(scripts, "small.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	begin := func(out string, more ...string) *exec.Cmd {
		cmd := exec.Command(name, append([]string{"sweep", small, "--vary", "exits.belly.area=50 in^2..90 in^2:40",
			"--case", "cool", "--doubt", "--draws", "16", "--out", filepath.Join(dir, out)}, more...)...)
		cmd.Stderr = &bytes.Buffer{}
		return cmd
	}
	if err := begin("whole", "--workers", "1").Run(); err != nil {
		t.Fatal(err)
	}
	cmd := begin("broken", "--workers", "2")
	if there := stopAt(t, cmd, filepath.Join(dir, "broken", "sweep.csv.part"), 10, os.Kill); there >= 40 {
		t.Fatalf("it was not stopped, %d rows are there", there)
	}
	if cmd = begin("broken", "--workers", "2", "--resume"); cmd.Run() != nil || !strings.Contains(cmd.Stderr.(*bytes.Buffer).String(), " of 40 flights are there\n") {
		t.Fatalf("resumed: %s", cmd.Stderr)
	}
	for _, file := range []string{sweep.RowsFile, sweep.ManifestFile, "sensitivity.svg"} {
		sameBytes(t, filepath.Join(dir, "whole", file), filepath.Join(dir, "broken", file))
	}
}
