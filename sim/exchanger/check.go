package exchanger

import (
	"errors"
	"fmt"
	"math"
)

// Check refuses a core that cannot be rated: a missing part, areas without
// meaning, or a part that fails its own Check.
func (c *Core) Check() error {
	switch {
	case c.Air == nil || c.Liquid == nil || c.Resist == nil:
		return errors.New("core: air side, liquid side and resistance are all needed")
	case !(c.FreeArea > 0 && c.FreeArea <= c.FaceArea):
		return fmt.Errorf("core: free area %g m² must be above 0 and at most the face area %g m²", c.FreeArea, c.FaceArea)
	}
	return errors.Join(check("air side", c.Air), check("liquid side", c.Liquid), check("resistance", c.Resist))
}

// check runs the Check of a part that has one; the parts made by a constructor
// need none.
func check(name string, part any) error {
	checked, ok := part.(interface{ Check() error })
	if !ok {
		return nil
	}
	if err := checked.Check(); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// Check refuses values for which At has no meaning.
func (p Power) Check() error {
	if !(positive(p.UA) && positive(p.Flow) && p.Exponent >= 0 && p.Floor >= 0) {
		return fmt.Errorf("conductance %g W/K and its flow %g kg/s must be above 0, exponent %g and floor %g not below", p.UA, p.Flow, p.Exponent, p.Floor)
	}
	return nil
}

// Check refuses values for which Friction has no meaning.
func (b Bench) Check() error {
	if !(b.A >= 0 && b.B >= 0 && b.A+b.B > 0 && positive(b.Area)) {
		return fmt.Errorf("bench law: coefficients %g and %g must not be negative nor both 0, face area %g m² must be above 0", b.A, b.B, b.Area)
	}
	return nil
}

// Check refuses values for which Friction has no meaning.
func (p PowerLaw) Check() error {
	if !(positive(p.Drop) && positive(p.Flow) && positive(p.Density) && p.Exponent >= 1) {
		return fmt.Errorf("power law: drop %g Pa, flow %g kg/s and density %g kg/m³ must be above 0, exponent %g at least 1", p.Drop, p.Flow, p.Density, p.Exponent)
	}
	return nil
}

// positive reports whether x is a finite number above 0.
func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }
