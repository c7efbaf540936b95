package exchanger

import (
	"fmt"

	"hotclimb/sim/fluid"
)

// TubeGeometry describes the liquid side of a core: all parallel passages of
// one pass together.
type TubeGeometry struct {
	Diameter   float64 // hydraulic diameter Dh [m]
	Length     float64 // heated length between mixings [m]
	FlowArea   float64 // free area of all passages [m²]
	WettedArea float64 // heat-transfer area of all passages [m²]
	Developed  float64 // developed laminar Nu [-]; default 3.66, round tube
}

// Tube is the liquid side of a core with plain tubes, see [Nusselt] for the
// laws and their range. It holds the liquid because its properties set Re and
// Pr. The wall-viscosity factor (μ/μ_w)^0.14 is left out. Make one with
// [NewTube].
type Tube struct {
	liquid *fluid.Liquid
	g      TubeGeometry
}

// NewTube checks the geometry and joins it with its liquid.
func NewTube(g TubeGeometry, liquid *fluid.Liquid) (*Tube, error) {
	if g.Developed == 0 {
		g.Developed = 3.66
	}
	switch {
	case liquid == nil:
		return nil, fmt.Errorf("tube: a liquid is needed")
	case !(g.Diameter > 0 && g.Length > 0 && g.FlowArea > 0 && g.WettedArea > 0 && g.Developed > 0):
		return nil, fmt.Errorf("tube: every size must be above 0: %+v", g)
	}
	return &Tube{liquid: liquid, g: g}, nil
}

// Reynolds returns Re [-] at flow [kg/s] and temperature t [°C].
func (u *Tube) Reynolds(flow, t float64) float64 {
	return flow * u.g.Diameter / (u.g.FlowArea * u.liquid.Viscosity(t))
}

// At returns hA [W/K] at flow [kg/s] and mean liquid temperature t [°C]. It
// tends to the conduction limit Nu = Developed as the flow tends to 0, and is 0
// at no flow.
func (u *Tube) At(flow, t float64) float64 {
	if !(flow > 0) {
		return 0
	}
	mu, k := u.liquid.Viscosity(t), u.liquid.Conductivity(t)
	pr := mu * u.liquid.HeatCapacity(t) / k
	re := flow * u.g.Diameter / (u.g.FlowArea * mu)
	return Nusselt(re, pr, u.g.Diameter/u.g.Length, u.g.Developed) * k / u.g.Diameter * u.g.WettedArea
}
