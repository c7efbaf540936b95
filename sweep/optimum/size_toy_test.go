package optimum

import (
	"context"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// sizing is that of some paths of a built-in scenario: path, bounds, path, bounds.
func sizing(t *testing.T, name, onlyCase string, vary ...string) Sizing {
	t.Helper()
	sc, err := scenarios.LoadFile(name, nil)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases([]string{onlyCase}, nil)
	if err != nil {
		t.Fatal(err)
	}
	s := Sizing{Cases: cases, Minimise: OpeningArea, BoilMargin: 8, Workers: 2}
	for i := 0; i < len(vary); i += 2 {
		p, err := cases[0].Scenario.Compile(vary[i])
		if err != nil {
			t.Fatal(err)
		}
		f, err := scenarios.ParseVary(vary[i+1], p)
		if err != nil {
			t.Fatal(err)
		}
		s.Factors = append(s.Factors, f)
	}
	return s
}

// openingsByFormula is a sizing with flights by formula:
//
//	area = x₁ + x₂,  coolant margin = 40 − a/x₁ − b/x₂
//
// With a margin m to keep and M = 40 − m, the least area is (√a + √b)²/M at
// xᵢ = √cᵢ (√a + √b)/M, and one more kelvin costs (√a + √b)²/M² at the margin.
func openingsByFormula(t *testing.T, m float64) (Sizing, []float64, float64) {
	const a, b = 2.0, 4.5
	s := sizing(t, "tug", "hot_tow", "exits.belly.height", "10 cm..60 cm", "inlets.chin.height", "10 cm..60 cm")
	s.CoolantMargin = m
	s.Fly = func(_ context.Context, _ int, x []float64) (Flight, error) {
		if x == nil {
			x = []float64{0.3, 0.3}
		}
		f := Flight{Area: x[0] + x[1], AllArea: x[0] + x[1], MeanDrag: 1000}
		f.BoilMargin = math.Inf(1)
		f.Circuits[sweep.Coolant].Margin = 40 - a/x[0] - b/x[1]
		f.Circuits[sweep.Oil].Margin = 30
		return f, nil
	}
	root, left := math.Sqrt(a)+math.Sqrt(b), 40-m
	return s, []float64{math.Sqrt(a) * root / left, math.Sqrt(b) * root / left}, root * root / left
}

func TestSizeOfAFormula(t *testing.T) {
	const m = 12.0
	s, x, area := openingsByFormula(t, m)
	out, err := Size(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	if !out.Fits || math.Abs(out.Best.Area/area-1) > 1e-4 || math.Abs(out.Best.X[0]-x[0]) > 2e-3 || math.Abs(out.Best.X[1]-x[1]) > 2e-3 {
		t.Errorf("area %.6f at %v, want %.6f at %v", out.Best.Area, out.Best.X, area, x)
	}
	if out.KKT > 5e-3 {
		t.Errorf("the conditions of an optimum are missed by %g", out.KKT)
	}
	if len(out.Prices) != 1 || out.Limits[out.Prices[0].Limit].Kind != CoolantLimit {
		t.Fatalf("the limits that decide are %v, want that of the coolant", out.Prices)
	}
	price, left := out.Prices[0], 40-m
	// Forward differences over 1 % of the bounds see slopes 1 to 2 % too flat.
	if got, want := price.Multiplier*out.Start.Area, area/left; math.Abs(got/want-1) > 0.03 {
		t.Errorf("multiplier %.6f m²/K, want %.6f", got, want)
	}
	if got, want := price.Design.Area-out.Best.Area, area*left/(left-1)-area; math.Abs(got/want-1) > 0.02 {
		t.Errorf("one more kelvin costs %.6f m², want %.6f", got, want)
	}
	if c := out.Confirmation; !c.Fits || math.Abs(c.Difference) > 1e-3 {
		t.Errorf("the other method differs by %g: %+v", c.Difference, c)
	}
}

// A margin that the bounds cannot give: everything as wide as they allow, and
// short by what the formula says.
func TestNothingFitsAFormula(t *testing.T) {
	s, _, _ := openingsByFormula(t, 32)
	out, err := Size(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	short := 32 - (40 - 2/0.6 - 4.5/0.6)
	if out.Fits || out.Build != nil || len(out.Broken) != 1 || math.Abs(-out.Slack(&out.Best, out.Broken[0])-short) > 1e-3 {
		t.Errorf("fits %t, broken %v at %v, short %g, want %g", out.Fits, out.Broken, out.Best.X, -out.Slack(&out.Best, 0), short)
	}
	if len(out.AtBound) != 2 || !out.AtBound[0].High {
		t.Errorf("at bounds: %v, want both at the upper one", out.AtBound)
	}
}

// Boiling and air that goes backwards are limits as well: boiling with a margin of
// its own, air under power alone.
func TestBoilingAndAirDecide(t *testing.T) {
	const boils, turns = 0.3, 0.35 // the first opening, below which it comes near to it [m]
	tests := []struct {
		powered bool
		want    float64
		kind    string
	}{{true, turns, AirLimit}, {false, boils, BoilLimit}}
	for _, test := range tests {
		s, _, _ := openingsByFormula(t, 0)
		formula := s.Fly
		s.Fly = func(ctx context.Context, k int, x []float64) (Flight, error) {
			f, err := formula(ctx, k, x)
			f.Powered, f.BoilMargin = test.powered, 20
			flow := 1.0
			if x != nil {
				f.BoilMargin, flow = s.BoilMargin+10*(x[0]-boils), x[0]-turns
			}
			f.Exchangers = []sim.ExchangerState{{Name: "radiator", AirFlow: flow}, {Name: "cooler", AirFlow: 1}}
			return f, err
		}
		out, err := Size(context.Background(), s)
		if err != nil {
			t.Fatal(err)
		}
		decides := slices.ContainsFunc(out.Prices, func(c Price) bool { return out.Limits[c.Limit].Kind == test.kind })
		if !out.Fits || math.Abs(out.Best.X[0]-test.want) > 1e-3 || !decides {
			t.Errorf("power %t: x = %.4g, want %g, where %s decides (%t)", test.powered, out.Best.X, test.want, test.kind, decides)
		}
	}
}

// The front keeps on top of its margins what is kept for doubt.
func TestTradeKeepsDoubt(t *testing.T) {
	s, _, _ := openingsByFormula(t, 20)
	out, err := Size(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	out.sizer.Doubt = 0.5
	for i := range out.sizer.limits {
		out.sizer.limits[i].Spread = 6
	}
	points, err := out.Trade(context.Background())
	if err != nil || len(points) != tradePoints {
		t.Fatalf("%d points, %v", len(points), err)
	}
	for i := range points {
		if least := points[i].Design.leastMargin(); least < points[i].Margin+3-0.01 {
			t.Errorf("margin %.3f K for %.3f K and 3 K of doubt", least, points[i].Margin)
		}
	}
}

// A flight that keeps its margins as it does not get to its end is no answer.
func TestUnfinishedFlightsDoNotFit(t *testing.T) {
	for _, least := range []float64{0.4, 0.7} { // of the first opening to reach the end; it goes to 0.6
		s, at, _ := openingsByFormula(t, 20)
		formula := s.Fly
		s.Fly = func(ctx context.Context, k int, x []float64) (Flight, error) {
			f, err := formula(ctx, k, x)
			if x != nil && x[0] < least {
				f.Incomplete, f.Circuits[sweep.Coolant].Margin = "climb", 90
			}
			return f, err
		}
		out, err := Size(context.Background(), s)
		if least > 0.6 {
			if err == nil || !strings.Contains(err.Error(), "leg climb does not reach its end") {
				t.Errorf("no flight reaches its end: %v, %v", out, err)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		if at[0] > least || !out.Fits || out.Best.X[0] < least || out.Best.X[0] > least+0.02 {
			t.Errorf("x = %.4g, fits %t; %.4g without the end, which is reached from %g on", out.Best.X, out.Fits, at, least)
		}
	}
}

// The answer, to the last bit, and the number of flights do not depend on the
// number of workers.
func TestSizeWorkers(t *testing.T) {
	s := sizing(t, "rotary", "hot_taxi", "exits.aft_ring.area", "50 in^2..160 in^2", "inlets.armpit_right.area", "25 in^2..60 in^2")
	s.OilMargin = 3
	var outs []*Sized
	for _, workers := range []int{1, 4} {
		s.Workers = workers
		out, err := Size(context.Background(), s)
		if err != nil {
			t.Fatal(err)
		}
		outs = append(outs, out)
	}
	if a, b := outs[0].Flights(), outs[1].Flights(); a != b {
		t.Errorf("%d flights by one worker, %d by four", a, b)
	}
	outs[0].sizer, outs[1].sizer = nil, nil
	if !reflect.DeepEqual(outs[0], outs[1]) {
		t.Errorf("one worker: %+v\nfour: %+v", outs[0], outs[1])
	}
}

func TestSizingFaults(t *testing.T) {
	good := sizing(t, "tug", "hot_tow", "exits.belly.height", "4 in..14 in")
	list := sizing(t, "tug", "hot_tow", "exits.belly.height", "4 in, 14 in")
	for name, change := range map[string]func(*Sizing){
		"no case":    func(s *Sizing) { s.Cases = nil },
		"no factor":  func(s *Sizing) { s.Factors = nil },
		"a list":     func(s *Sizing) { s.Factors = list.Factors },
		"minimise":   func(s *Sizing) { s.Minimise = "weight" },
		"doubt from": func(s *Sizing) { s.DoubtFrom = "guesses" },
	} {
		s := good
		change(&s)
		if _, err := Size(context.Background(), s); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Size(ctx, good); err == nil {
		t.Error("a cancelled search gives an answer")
	}
}

func TestRounding(t *testing.T) {
	whole, sixteenths := even(1), even(sixteenth)
	whole.lo, whole.hi = 2, 9
	sixteenths.lo, sixteenths.hi = 0, 1
	tests := []struct {
		r     rounding
		x     float64
		steps int
		want  float64
	}{
		{whole, 6.2, 0, 6},
		{whole, 6.2, 1, 7},
		{whole, 6.2, 2, 8},
		{whole, 6.2, -1, 5},
		{whole, 6, 1, 6}, // it is whole
		{whole, 8.5, 2, 9},
		{whole, 2.5, -1, 2},
		{sixteenths, 8.01 * inch, 1, (8 + 1.0/16) * inch},
	}
	for _, test := range tests {
		if got := test.r.near(test.x, test.steps); math.Abs(got-test.want) > 1e-12 {
			t.Errorf("%g, %d steps: %g, want %g", test.x, test.steps, got, test.want)
		}
	}
	round := opening(0, sixteenth)
	round.lo, round.hi = 0, 1
	if got, want := round.near(0.01, 1), math.Pi/4*math.Pow(4.5*inch, 2); math.Abs(got-want) > 1e-12 {
		t.Errorf("a circle of 100 cm² becomes %g, want %g, 4 1/2 in across", got, want)
	}
	if s := round.shape(0.01); !s.Round || s.Width*s.Height < 0.01 || s.Width*s.Height > 0.0104 {
		t.Errorf("100 cm² as a rectangle: %+v", s)
	}
	slot := opening(10*inch, sixteenth)
	slot.lo, slot.hi = 0, 1
	if got, want := slot.near(0.02, 1), 10*inch*(3+2.0/16)*inch; math.Abs(got-want) > 1e-12 {
		t.Errorf("a slot 10 in wide of 200 cm² becomes %g, want %g, 3 1/8 in high", got, want)
	}
}

// Pieces are rounded up, and the rest is then as small as they leave it: 7.2 pieces
// of a needed height of 1 in come to 8 of them.
func TestPiecesRoundUp(t *testing.T) {
	s := sizing(t, "seaplane", "cruise", "exits.gills_left.count", "2..12", "exits.gills_left.height", "0.99 in..1.01 in")
	s.Fly = func(_ context.Context, _ int, x []float64) (Flight, error) {
		if x == nil {
			x = []float64{7, inch}
		}
		f := Flight{Area: x[0] * x[1], AllArea: x[0] * x[1], MeanDrag: 1000}
		f.BoilMargin = math.Inf(1)
		f.Circuits[sweep.Coolant].Margin = 10 * (x[0]*x[1]/inch - 7.2)
		return f, nil
	}
	out, err := Size(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(out.Best.Area/inch-7.2) > 1e-3 || !out.Build.Fits || out.Build.Design.X[0] != 8 || out.Build.Design.X[1] != inch {
		t.Errorf("area %g, built %+v", out.Best.Area/inch, out.Build)
	}
}

// Louvers flown for real: their count goes up, and the height then comes down to
// the least sixteenth with which so many of them keep the limit. It may be higher
// than what is found by less than that sixteenth: few high ones and many low ones
// have almost the same area, so that the count that is found may be nearly whole.
// That the area is the count times one of them says that all of it was flown.
func TestLouversAreFlown(t *testing.T) {
	const width = 7 * inch // of the file
	s := sizing(t, "seaplane", "hot_climb", "exits.gills_left.count", "2..12", "exits.gills_left.height", "0.8 in..2 in")
	s.CoolantMargin = 5 / 1.8
	out, err := Size(context.Background(), s)
	if err != nil {
		t.Fatal(err)
	}
	x := out.Build.Design.X
	if !out.Build.Fits || x[0] != math.Ceil(out.Best.X[0]) || x[0] == out.Best.X[0] || x[1]-sixteenth >= out.Best.X[1] {
		t.Errorf("%.4g are found and %.4g are to be built, fits %t", out.Best.X, x, out.Build.Fits)
	}
	built := flyApart(t, &s, x)
	if !keeps(&s, built) || math.Abs(out.Build.Design.Area-x[0]*width*x[1]) > 1e-12 {
		t.Errorf("built %.6g: coolant margin %.3f K, area %.6g m²", x, built.outcome.Circuits[sweep.Coolant].Margin, out.Build.Design.Area)
	}
	x = slices.Clone(x)
	if x[1] -= sixteenth; keeps(&s, flyApart(t, &s, x)) {
		t.Errorf("a sixteenth less height, %.4g m, is enough for %.0f pieces", x[1], x[0])
	}
}

// Numbers that are no openings keep three digits or so, and none is lost.
func TestRoundingOfOthers(t *testing.T) {
	s := sizing(t, "tug", "hot_tow", "exits.belly.flap_angle", "5 deg..30 deg", "flight.legs.tow.speed", "65 mph..80 mph")
	for i, f := range s.Factors {
		r := roundingOf(f.Param, s.Cases)
		r.lo, r.hi = f.Lo, f.Hi
		x := f.Lo + 0.4321*(f.Hi-f.Lo)
		if up := r.near(x, 1); up < x || up > x*1.01 {
			t.Errorf("%s: %g becomes %g", f.Param.Path, x, up)
		}
		if i == 0 && !slices.Contains([]string{"setting"}, f.Param.Made) {
			t.Errorf("%s is made as %q", f.Param.Path, f.Param.Made)
		}
	}
}
