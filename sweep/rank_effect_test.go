package sweep

import (
	"math"
	"testing"

	"hotclimb/sim"
)

// TestEffectDamage: what a change newly breaks, and nothing that was broken
// before.
func TestEffectDamage(t *testing.T) {
	before := []Flown{flownAt(2, 3, Climb{}), flownAt(-1, 3, Climb{}), flownAt(5, 5, Climb{})}
	before[0].Exchangers = []sim.ExchangerState{{Name: "a", Reversed: true}, {Name: "b"}}
	before[2].Incomplete = "tow"
	after := []Flown{flownAt(-4, 6, Climb{}), flownAt(-3, 6, Climb{}), flownAt(5, 5, Climb{})}
	after[0].Exchangers = []sim.ExchangerState{{Name: "a", Reversed: true}, {Name: "b", Reversed: true}}
	after[1].Incomplete, after[2].Incomplete = "climb", "tow"
	before[1].Climb, after[1].Climb = Climb{1, 10, 4}, Climb{3, 50, 3} // of the worst case as it is; another one is it now
	base := standOf(before)
	e := effectOf(&base, after)
	near(t, "drag", e.Drag, 2)
	near(t, "drag power", e.DragPower, 40)
	near(t, "climb", e.Climb, -1)
	if len(e.NewOver) != 1 || e.NewOver[0] != 0 {
		t.Errorf("newly over: %v", e.NewOver)
	}
	if len(e.NewReversed) != 1 || e.NewReversed[0] != (Reversal{0, "b"}) {
		t.Errorf("newly reversed: %v", e.NewReversed)
	}
	if len(e.NewIncomplete) != 1 || e.NewIncomplete[0] != 1 {
		t.Errorf("newly incomplete: %v", e.NewIncomplete)
	}
	if over := e.Over(); len(over) != 2 {
		t.Errorf("over: %v", over)
	}
	near(t, "time", e.TimeGain(&base), -30)
}

// TestSpoils: help of one circuit by spoiling the other.
func TestSpoils(t *testing.T) {
	for _, c := range []struct {
		margin, gain [2]float64
		circuit      int
		spoils       bool
	}{
		{[2]float64{5, 5}, [2]float64{-0.6, 1}, Coolant, true},
		{[2]float64{5, 5}, [2]float64{1, -0.6}, Oil, true},
		{[2]float64{5, 5}, [2]float64{-0.4, 1}, 0, false},         // no gauge shows it
		{[2]float64{-0.1, 5}, [2]float64{-0.3, 1}, Coolant, true}, // over its limit
		{[2]float64{-0.5, 5}, [2]float64{-0.3, 1}, 0, false},      // it was over before
		{[2]float64{5, 5}, [2]float64{-1, -1}, 0, false},          // helps nothing
		{[2]float64{5, 5}, [2]float64{-1, 0.1}, 0, false},         // next to nothing
	} {
		e := Effect{Stand: Stand{Margin: c.margin}, Gain: c.gain}
		if circuit, ok := e.Spoils(); circuit != c.circuit || ok != c.spoils {
			t.Errorf("margins %v after gains %v: %d %v", c.margin, c.gain, circuit, ok)
		}
	}
}

// TestClimbOf: means over the legs that climb, in the air alone; a sample holds
// until the next one or the end of its leg.
func TestClimbOf(t *testing.T) {
	times := []float64{0, 5, 9, 10, 15, 20, 22, 25, 30}
	drag := []float64{9, 9, 9, 1, 2, 3, 99, 99, 99} // the climb lasts from 9 to 22, from 10 on in the air
	r := &sim.Result{
		Legs: []sim.LegSpan{{Name: "idle", Start: 0, End: 9}, {Name: "climb", Start: 9, End: 22}, {Name: "down", Start: 22, End: 30}},
		Trajectory: &sim.Trajectory{Channels: []sim.Channel{
			{Name: "time_s", Values: times}, {Name: "cooling_drag_N", Values: drag},
			{Name: "true_airspeed_m_s", Values: []float64{0, 0, 2, 40, 40, 40, 50, 50, 50}},
			{Name: "rate_of_climb_m_s", Values: []float64{0, 0, 0, 5, 5, 5, -6, -6, -6}},
		}},
	}
	c := climbOf(r, []string{"climb"})
	mean := (5*1 + 5*2 + 2*3) / 12.
	near(t, "drag", c.Drag, mean)
	near(t, "drag power", c.DragPower, 40*mean)
	near(t, "rate", c.Rate, 5)
	both := climbOf(r, []string{"climb", "down"})
	near(t, "rate of two legs", both.Rate, (12*5-8*6)/20.)
	if none := climbOf(r, []string{"idle"}); none != (Climb{}) {
		t.Errorf("on the ground: %+v", none)
	}
}

func TestPer(t *testing.T) {
	near(t, "of nothing", Per(1, 0), math.NaN())
	near(t, "of less than nothing", Per(1, -2), math.NaN())
	near(t, "loss", Per(-1, 2), -0.5)
	near(t, "drag of a tenth of a horsepower", (&Effect{LeastGain: 3, DragPower: 75}).PerDragPower(), 0.04)
	near(t, "climb lost", (&Effect{LeastGain: 3, Climb: -0.5}).PerClimb(), 6)
	near(t, "climb gained", (&Effect{LeastGain: 3, Climb: 0.5}).PerClimb(), math.NaN())
	near(t, "less climb", (&Effect{LeastGain: 3, Climb: -0.02}).PerClimb(), math.NaN())
	near(t, "less drag", (&Effect{LeastGain: 3, DragPower: 74}).PerDragPower(), math.NaN())
}
