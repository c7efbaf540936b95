package sim_test

import (
	"math"
	"slices"
	"testing"

	"hotclimb/sim"
)

// TestAfresh: what a plant was asked before leaves no trace in an evaluation
// afresh, the report of the peak, with and without a plate exchanger.
func TestAfresh(t *testing.T) {
	for file, leg := range map[string]string{"tug": "hot_tow", "rotary": "hot_climb", "seaplane": "hot_climb"} {
		p := probe(t, file, leg, 2)
		state := func() []float64 {
			f := p.Field()
			return slices.Concat(f.Flow, f.Temperature, f.Pressure, p.Heats())
		}
		afresh := func() []float64 {
			if err := p.Afresh(); err != nil {
				t.Fatal(err)
			}
			return state()
		}
		first := afresh()
		if err := p.Derivative(); err != nil {
			t.Fatal(err)
		}
		if slices.Equal(state(), first) {
			t.Errorf("%s: nothing has changed on the way, so this test shows nothing", file)
		}
		if again := afresh(); !slices.Equal(again, first) {
			t.Errorf("%s: first %v, then %v", file, first, again)
		}
	}
}

// TestPumpFollowsEngine: flow and contact of the coolant are those of the engine
// speed of the leg, whatever it was before.
func TestPumpFollowsEngine(t *testing.T) {
	fly := func(speeds ...float64) *sim.Result {
		p := cowled().build(t)
		p.Coolant.Electric, p.Metal.ToCoolant.Exponent = false, 0.8
		leg := p.Legs[0]
		p.Legs = nil
		for _, speed := range speeds {
			leg.EngineSpeed, leg.Duration = speed, 7200
			p.Legs = append(p.Legs, leg)
		}
		return run(t, p, sim.Settings{Sample: 3600, RelTol: 1e-6})
	}
	changed, same, slow := fly(250, 500), fly(500, 500), fly(250, 250)
	for _, channel := range []string{"coolant_out_degC", "metal_degC"} {
		want := at(t, same, channel, 14400)
		near(t, channel, at(t, changed, channel, 14400), want, 1e-5)
		if off := at(t, slow, channel, 14400) - want; !(math.Abs(off) > 1) {
			t.Errorf("half the engine speed changes %s by %g K, too little for this test", channel, off)
		}
	}
}
