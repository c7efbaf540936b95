package optimum

import (
	"context"
	"math"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// What goes together in the scenario does so in the margins that are kept: two
// numbers that heat the coolant spread it by a + b with ρ = 1, by a - b with -1.
func TestSpreadKeepsCorrelations(t *testing.T) {
	variance := map[float64]float64{}
	for _, rho := range []float64{-1, 0, 1} {
		s := sizing(t, "rotary", "hot_taxi", "exits.aft_ring.area", "50 in^2..300 in^2")
		if rho != 0 {
			c := &scenarios.Correlation{Name: "c", Of: "engine.heat_to_coolant", With: "engine.part_load_exponent"}
			c.Value.Value, c.Value.Written, c.Value.Known = rho, true, true
			s.Cases[0].Scenario.Correlations = []*scenarios.Correlation{c}
		}
		p, err := newSizer(context.Background(), &s)
		if err != nil {
			t.Fatal(err)
		}
		spread, err := p.spread(context.Background(), 0, []float64{0.1})
		if err != nil {
			t.Fatal(err)
		}
		variance[rho] = math.Pow(spread.Circuits[sweep.Coolant], 2)
	}
	if e := (variance[1]+variance[-1])/2/variance[0] - 1; math.Abs(e) > 1e-9 || math.Abs(variance[1]/variance[0]-1) < 0.1 {
		t.Errorf("variances %v: not even about that without correlation, or hardly another", variance)
	}
}
