package scenarios

import (
	"cmp"
	"math"
	"slices"

	"hotclimb/sim/exchanger"
	"hotclimb/sim/loop"
)

// order returns the exchangers in the order of their circuits: by their place
// where they have one, else as the file lists them.
func (sc *Scenario) order() []string {
	names := sortedKeys(sc.Exchangers)
	rank := func(name string) float64 {
		if p := sc.Exchangers[name].Place; p.Known {
			return p.Value
		}
		return 100 + float64(slices.Index(sc.exchangerOrder, name))
	}
	slices.SortStableFunc(names, func(a, b string) int { return cmp.Compare(rank(a), rank(b)) })
	return names
}

// circuits joins the exchangers of each circuit into its chain.
func (b *builder) circuits() {
	for _, serves := range []string{"coolant", "oil"} {
		var chain loop.Chain
		for i, name := range b.layout.exchangers {
			x := b.sc.Exchangers[name]
			if x.Serves != serves {
				continue
			}
			member := loop.Member{Core: i, Share: 1}
			if x.Liquid == "parallel" && len(chain) > 0 {
				last := len(chain) - 1
				chain[last] = append(chain[last], member)
			} else {
				chain = append(chain, loop.Bank{member})
			}
		}
		b.shareFlow(chain)
		if serves == "oil" {
			b.plant.Oil.Chain = chain
		} else {
			b.plant.Coolant.Chain = chain
		}
	}
}

// turbulent is the exponent of liquid pressure drop against flow: turbulent
// flow in smooth tubes.
const turbulent = 1.75

// shareFlow splits the flow of every bank by the resistances of its members.
func (b *builder) shareFlow(chain loop.Chain) {
	for _, bank := range chain {
		resistance, share := make([]float64, len(bank)), make([]float64, len(bank))
		for i, m := range bank {
			resistance[i] = b.resistance(b.plant.Exchangers[m.Core].Name)
		}
		if err := exchanger.Split(resistance, turbulent, share); err != nil {
			b.tell(join("exchangers", b.plant.Exchangers[bank[0].Core].Name), err)
			continue
		}
		for i := range bank {
			bank[i].Share = share[i]
			b.plant.Exchangers[bank[i].Core].Share = share[i]
		}
	}
}

// resistance returns R of Δp = R·V̇^1.75. A core whose liquid drop is not
// given takes 10 kPa at its rated liquid flow, so that parallel cores share in
// proportion to their ratings.
func (b *builder) resistance(name string) float64 {
	x := b.sc.Exchangers[name]
	drop, flow := 10e3, x.ratedLiquidFlow()
	if x.LiquidDrop.Known && x.LiquidDropFlow.Known {
		drop, flow = x.LiquidDrop.Value, x.LiquidDropFlow.Value
	}
	return math.Max(drop, 1) / math.Pow(flow, turbulent)
}

// ratedLiquidFlow returns the liquid flow [m³/s] of the rating, or a flow in
// proportion to the face where there is none.
func (x *Exchanger) ratedLiquidFlow() float64 {
	switch {
	case x.Rating != nil:
		return x.Rating.LiquidFlow.Value
	case x.Conductance != nil:
		return x.Conductance.LiquidFlow.Value
	}
	return flowPerFace * x.faceArea()
}

const flowPerFace = 0.01 // m³/s of liquid per m² of face, a usual radiator
