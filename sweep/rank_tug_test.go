package sweep

import (
	"context"
	"reflect"
	"testing"

	"hotclimb/scenarios"
)

func tugRanking(t *testing.T) Ranking {
	t.Helper()
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	cases, err := sc.EffectiveCases(nil, nil)
	if err != nil {
		t.Fatal(err)
	}
	return Ranking{Cases: cases, Changes: sc.Changes, Pairs: 3, Tenths: true, Workers: 2}
}

// TestRankTug: facts of the tug that any thermal model must give. A core moved
// from water to oil gives hot water and cold oil; a wider exit cools both for
// some drag and climb; a bigger oil inlet helps the oil; spray helps the
// coolant; and a core that is rated for more heat cools.
func TestRankTug(t *testing.T) {
	r := mustRank(t, tugRanking(t))
	moved := r.single(t, "auxiliary_to_oil")
	if circuit, ok := moved.Spoils(); !ok || circuit != Coolant || moved.Gain[Oil] < 2 || moved.Gain[Coolant] > -2 {
		t.Errorf("auxiliary core moved to the oil: %v, spoils %d %v", moved.Gain, circuit, ok)
	}
	exit := r.single(t, "wider_exit")
	if exit.Gain[Coolant] <= 0 || exit.Gain[Oil] <= 0 || exit.DragPower <= 0 || exit.Climb >= 0 {
		t.Errorf("wider exit: %+v", exit.Effect)
	}
	if got := r.single(t, "bigger_oil_inlet").Gain; got[Oil] < 2 {
		t.Errorf("bigger oil inlet: %v", got)
	}
	if got := r.single(t, "spray_water").Gain; got[Coolant] < 2 {
		t.Errorf("spray: %v", got)
	}
	for i := range r.Tenths {
		if k := &r.Tenths[i]; k.Up.Err != nil || k.Down.Err != nil {
			t.Errorf("%s: %v, %v", k.Param.Path, k.Up.Err, k.Down.Err)
		}
	}
	if len(r.Tenths) < 12 || len(r.Pairs) != 3 {
		t.Errorf("%d tenths, %d pairs", len(r.Tenths), len(r.Pairs))
	}
	if cooler := r.Tenths[0]; cooler.Up.LeastGain <= 0 || cooler.Down.LeastGain >= 0 {
		t.Errorf("%s: %g up, %g down", cooler.Param.Path, cooler.Up.LeastGain, cooler.Down.LeastGain)
	}
}

// TestRankWorkers: the number of workers does not show.
func TestRankWorkers(t *testing.T) {
	r := tugRanking(t)
	r.Tenths = false
	r.Workers = 1
	one := mustRank(t, r)
	r.Workers = 4
	four := mustRank(t, r)
	if !reflect.DeepEqual(one, four) {
		t.Error("1 and 4 workers differ")
	}
}

func BenchmarkRankTug(b *testing.B) {
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		b.Fatal(err)
	}
	cases, err := sc.EffectiveCases(nil, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Rank(context.Background(), Ranking{Cases: cases, Changes: sc.Changes, Pairs: 4, Tenths: true, Workers: 2}, func() {}); err != nil {
			b.Fatal(err)
		}
	}
}
