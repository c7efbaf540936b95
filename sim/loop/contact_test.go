package loop

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestContact(t *testing.T) {
	c := Contact{UA: 3000, Exponent: 0.6, Floor: 0.1}
	near(t, "at the rated flow", c.At(1), 3000, 0)
	near(t, "at half of it", c.At(0.5), 3000*math.Exp(0.6*math.Log(0.5)), 1e-9)
	near(t, "at rest", c.At(0), 300, 0)
	near(t, "backwards", c.At(-0.3), 300, 0)
	// The floor holds up to 0.1^(1/0.6) = 0.02154 of the flow.
	near(t, "below the end of the floor", c.At(0.0215), 300, 0)
	near(t, "above it", c.At(0.0216), 300*math.Pow(0.0216/0.0215443, 0.6), 0.01)

	fixed := Contact{UA: 250}
	near(t, "without an exponent, at rest", fixed.At(0), 250, 0)
	near(t, "without an exponent, at full flow", fixed.At(1), 250, 0)
}

// TestContactIsMonotone: no NaN, never below the floor, growing with flow.
func TestContactIsMonotone(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		c := Contact{
			UA:       3000,
			Exponent: rapid.Float64Range(0, 1).Draw(rt, "n"),
			Floor:    rapid.Float64Range(0, 0.3).Draw(rt, "floor"),
		}
		flow := rapid.Float64Range(-0.2, 1.5).Draw(rt, "flow")
		a, b := c.At(flow), c.At(flow+rapid.Float64Range(0, 0.5).Draw(rt, "more"))
		if !(a >= c.Floor*c.UA) || !(b >= a*(1-1e-15)) { // powers are rounded
			rt.Fatalf("%g, then %g", a, b)
		}
	})
}
