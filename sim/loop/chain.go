package loop

// Member is one exchanger in a circuit.
type Member struct {
	Core  int     // number of the exchanger in the plant
	Share float64 // of the flow of its bank [-]; the shares of a bank add up to 1
}

// Bank is a set of exchangers side by side in the liquid.
type Bank []Member

// Chain is the way of the liquid through the exchangers of one circuit: banks
// one after the other.
type Chain []Bank

// Heat carries the liquid through the chain. It enters at t [°C] with heat
// flow capacity ṁ·cp [W/K]; exchanger i with conductance K = ε·C_min [W/K] and
// air entering at air [°C] takes out
//
//	Q = K·(T_liquid,in − T_air,in)
//
// and a bank lowers the liquid, mixed again behind it, by ΣQ/(ṁ·cp). K is that
// at the member's own share of the flow; property changes on the way through
// the bank are left out. Liquid that does not flow (a capacity of 0, where
// every K must be 0 too) keeps its temperature.
//
// Heat writes Q [W] and the liquid temperature entering each exchanger [°C],
// and returns the sum of Q.
func (c Chain) Heat(t, capacity float64, x []Exchange) float64 {
	sum := 0.0
	for _, bank := range c {
		out := 0.0
		for _, m := range bank {
			e := &x[m.Core]
			e.LiquidIn, e.Q = t, e.K*(t-e.AirIn)
			out += e.Q
		}
		if capacity > 0 {
			t -= out / capacity
		}
		sum += out
	}
	return sum
}

// Exchange is what one exchanger of a plant does.
type Exchange struct {
	K        float64 // ε·C_min [W/K]
	AirIn    float64 // air entering [°C]
	LiquidIn float64 // liquid entering [°C]
	Q        float64 // heat taken out of the liquid [W]
}
