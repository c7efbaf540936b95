package loop

import "math"

// Contact is a conductance between metal and liquid that grows with the flow
// of the liquid:
//
//	UA = UA_r·max(Floor, (V̇/V̇_r)^n)
//
// n is 0.8 in turbulent passages and near 0.3 in short laminar ones (from
// memory, high); wholes of jackets lie between (engineering judgement).
type Contact struct {
	UA       float64 // at the rated flow [W/K]
	Exponent float64 // n, not below 0; 0: the flow does not matter [-]
	Floor    float64 // least share: free convection in a liquid at rest [-]
}

// At returns the conductance [W/K] at a flow given over the rated one. A flow
// below 0 counts as none.
func (c *Contact) At(ratio float64) float64 {
	if c.Exponent == 0 {
		return c.UA
	}
	return c.UA * math.Max(c.Floor, math.Pow(math.Max(0, ratio), c.Exponent))
}
