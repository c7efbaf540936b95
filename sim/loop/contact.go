package loop

import "math"

// Contact is a conductance between metal and liquid that grows with the flow
// of the liquid.
type Contact struct {
	UA       float64 // at the rated flow [W/K]
	Exponent float64 // [-]
	Floor    float64 // least share: free convection in a liquid at rest [-]
}

// At returns the conductance [W/K] at a flow given over the rated one.
func (c *Contact) At(ratio float64) float64 {
	if c.Exponent == 0 {
		return c.UA
	}
	return c.UA * math.Max(c.Floor, math.Pow(math.Max(0, ratio), c.Exponent))
}
