package main

import (
	"bytes"
	"context"
	"errors"
	"math"
	"strings"
	"testing"

	"hotclimb/plots"
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// standing is a stand of two cases, tow and taxi, by their margins to coolant
// and oil [K].
func standing(tow, taxi [2]float64) sweep.Stand {
	s := sweep.Stand{LimitTime: math.Inf(1), LimitCase: -1, Flown: make([]sweep.Flown, 2)}
	for i, m := range [][2]float64{tow, taxi} {
		f := &s.Flown[i]
		f.Status = sim.WithinLimits
		for c := range m {
			f.Circuits[c].Margin = m[c]
			if i == 0 || m[c] < s.Margin[c] {
				s.Margin[c], s.Case[c] = m[c], i
			}
			if m[c] < 0 {
				f.Status, s.LimitTime, s.LimitCase = sim.OverLimit, 60, i
			}
		}
	}
	return s
}

// tried is a change that brings the cases to a stand.
func tried(name string, base, s sweep.Stand, path string) sweep.Single {
	e := sweep.Effect{Stand: s, Applied: true, LeastGain: s.Least() - base.Least()}
	for c := range e.Gain {
		e.Gain[c] = s.Margin[c] - base.Margin[c]
	}
	return sweep.Single{
		Change: &scenarios.Change{Name: name, Title: "Title of " + name, Set: map[string]string{path: "1"}},
		Price:  sweep.Price{Weight: 2, Cost: 10, Hours: 4}, Effect: e,
	}
}

func rankingOf(base sweep.Stand, changes ...sweep.Single) *ranking {
	return &ranking{
		Ranked: &sweep.Ranked{Cases: []string{"tow", "taxi"}, Base: base, Changes: changes},
		origin: origin{scenario: &scenarios.Scenario{Title: "a test"}, units: plots.SI},
	}
}

// said is the text of the verdict, on one line.
func said(k *ranking) string {
	p := &rankPage{&page{screen: newScreen(&bytes.Buffer{}), units: k.units}, k}
	p.verdict()
	return strings.Join(strings.Fields(p.String()), " ")
}

func TestRankVerdict(t *testing.T) {
	over := standing([2]float64{-3, 2}, [2]float64{4, 9})
	base := standing([2]float64{2, 3}, [2]float64{4, 9})
	reversing := tried("scoop", base, standing([2]float64{3, 3}, [2]float64{4, -1}), "inlets.a.area")
	reversing.NewOver, reversing.NewReversed = []int{1}, []sweep.Reversal{{Case: 0, Exchanger: "cooler"}}
	reversing.NewIncomplete, reversing.Flown[0].Incomplete = []int{0}, "climb"
	faster := tried("faster", base, standing([2]float64{6, 7}, [2]float64{4, 9}), "flight.legs.tow.speed")
	exit := tried("exit", base, standing([2]float64{3, 4}, [2]float64{4, 9}), "exits.a.area")
	exit.DragPower = 1000
	failed := tried("odd", base, base, "exits.a.area")
	failed.Err = errors.New("failed")
	cured := rankingOf(over, tried("exit", over, standing([2]float64{1, 2}, [2]float64{4, 9}), "exits.a.area"))
	paired := rankingOf(over, tried("a", over, standing([2]float64{-2, 2}, [2]float64{4, 9}), "exits.a.area"),
		tried("b", over, standing([2]float64{-2.5, 2}, [2]float64{4, 9}), "exits.b.area"))
	paired.Pairs = []sweep.Pair{{First: 0, Second: 1, Effect: tried("", over, standing([2]float64{0.5, 2}, [2]float64{4, 9}), "").Effect}}
	for _, c := range []struct {
		name string
		k    *ranking
		says []string
	}{
		{"nothing helps", rankingOf(base, failed), []string{"No single change raises the least margin, 2.0 K (coolant, tow)."}},
		{"built", rankingOf(base, exit), []string{
			"The best single change is exit (Title of exit): the least margin goes from 2.0 K (coolant, tow) to 3.0 K (coolant, tow).",
			"most per kg exit: 0.50 K", "most per unit of cost exit: 0.10 K", "most per hour of work exit: 0.25 K", "most per kW of drag exit: 1.00 K",
		}},
		{"flown", rankingOf(base, faster, exit), []string{
			"It changes how the aircraft is flown, not what is built. The best that is built is exit: +1.0 K.",
			"mind: faster changes how the aircraft is flown, not what is built.",
		}},
		{"damage", rankingOf(base, exit, reversing), []string{
			"mind: scoop moves taxi over a limit (by 1.0 K).", "mind: scoop turns the air of cooler around in tow.",
			"mind: in tow with scoop, leg climb does not reach its end.",
			"mind: scoop helps the coolant (+1.0 K) by spoiling the oil (-4.0 K).",
		}},
		{"cured", cured, []string{"The limit that was reached after 1:00 is no longer reached.", "With it, every case stays within its limits."}},
		{"paired", paired, []string{
			"Alone it does not cure every case: tow is still over a limit.",
			"The best pair is a + b: least margin 0.5 K (coolant, tow).",
		}},
	} {
		text := said(c.k)
		for _, want := range c.says {
			if !strings.Contains(text, want) {
				t.Errorf("%s: no %q in\n%s", c.name, want, text)
			}
		}
	}
}

// TestRankVerdictSilence: what is not so is not said.
func TestRankVerdictSilence(t *testing.T) {
	base := standing([2]float64{2, 3}, [2]float64{4, 9})
	exit := tried("exit", base, standing([2]float64{3, 4}, [2]float64{4, 9}), "exits.a.area")
	exit.Price = sweep.Price{Weight: -1}
	text := said(rankingOf(base, exit))
	for _, never := range []string{"most per", "mind:", "limit was", "With it", "Alone", "pair"} {
		if strings.Contains(text, never) {
			t.Errorf("%q in\n%s", never, text)
		}
	}
}

func TestTimeGained(t *testing.T) {
	for _, c := range []struct {
		gain, limit float64
		want        string
	}{
		{math.NaN(), math.Inf(1), "-"}, {math.Inf(1), math.Inf(1), "no longer"}, {math.Inf(-1), 185, "now 3:05"},
		{65, 200, "+1:05"}, {-65, 200, "-1:05"}, {0.2, 200, "0:00"}, {-0.2, 200, "0:00"},
	} {
		if got := timeGained(c.gain, c.limit); got != c.want {
			t.Errorf("%g s: %q, want %q", c.gain, got, c.want)
		}
	}
}

func TestDigits(t *testing.T) {
	for x, want := range map[float64]string{0: "0.00", 0.094: "0.094", -0.00123: "-0.0012", 3.6e-5: "0.000036", 0.125: "0.12", 8.664: "8.66", 42.87: "42.9", 214.3: "214", -7.75: "-7.75", 12345: "12345"} {
		if got := digits(x); got != want {
			t.Errorf("%g: %s, want %s", x, got, want)
		}
	}
}

// TestRankCannotBeWritten: a full disk fails every format.
func TestRankCannotBeWritten(t *testing.T) {
	for _, format := range []string{"text", "json", "csv"} {
		var stderr bytes.Buffer
		status := app(context.Background(), []string{"rank", "tug", "--case", "cruise", "--pairs", "0", "--no-tenths", "--format", format}, full{}, &stderr)
		if status != exitFailed || !strings.Contains(stderr.String(), "hotclimb: cannot write the result: no space left\n") {
			t.Errorf("%s: exit status %d, %s", format, status, &stderr)
		}
	}
}
