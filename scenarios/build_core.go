package scenarios

import (
	"math"

	"hotclimb/sim"
	"hotclimb/sim/atmos"
	"hotclimb/sim/exchanger"
	"hotclimb/sim/fluid"
)

// Standard sea-level air, in which catalogue speeds and bench points are
// given: US Standard Atmosphere 1976.
const (
	standardDensity   = atmos.SeaLevelDensity // [kg/m³]
	standardViscosity = 1.7894e-5             // [Pa s]
)

func (b *builder) cores() {
	b.plant.Exchangers = make([]sim.Exchanger, len(b.layout.exchangers))
	for i, name := range b.layout.exchangers {
		x := b.sc.Exchangers[name]
		core, rated, err := b.core(x)
		if err != nil {
			b.tell(join("exchangers", name), err)
			continue
		}
		e := sim.Exchanger{Name: name, Oil: x.Serves == "oil", Core: core, Branch: sim.NoBranch, Share: 1, AirFlow: rated}
		if branch, inAir := b.layout.branch[name]; inAir {
			e.Branch = branch
		}
		b.plant.Exchangers[i] = e
	}
}

var arrangements = map[string]exchanger.Arrangement{
	"both_unmixed": exchanger.BothUnmixed, "one_row": exchanger.AirUnmixed,
	"counterflow": exchanger.Counterflow, "parallel_flow": exchanger.ParallelFlow,
}

// core makes the core of an exchanger and returns its rated air flow [kg/s],
// 0 when it has none.
func (b *builder) core(x *Exchanger) (*exchanger.Core, float64, error) {
	open := x.openShare()
	face := x.faceArea() * open
	core := &exchanger.Core{Arrangement: arrangements[x.Arrangement], FaceArea: face, FreeArea: face * x.FreeShare.Value}
	rated, err := b.sides(core, x)
	if err != nil {
		return nil, 0, err
	}
	if x.CooledBy == "coolant" {
		return core, 0, nil
	}
	if core.Resist == nil || x.PowerLaw != nil || len(x.Bench) > 0 { // measured beats computed
		if core.Resist, err = x.resist(face); err != nil {
			return nil, 0, err
		}
	}
	return core, rated * open, core.Check()
}

// leastOpen is the share of a face that the tape over all of it leaves open, so
// that a taped core is a core like any other. It passes some 1e-8 kg/s.
const leastOpen = 1e-6

func (x *Exchanger) openShare() float64 { return math.Max(x.OpenShare.Value, leastOpen) }

// sides fills both conductances of a core, and its resistance when geometry
// gives it. Taping a share of the face takes that share of both sides away.
func (b *builder) sides(core *exchanger.Core, x *Exchanger) (rated float64, err error) {
	switch {
	case x.Geometry != nil:
		return 0, b.geometry(core, x)
	case x.Conductance != nil:
		c := x.Conductance
		air := exchanger.Power{UA: c.Air.Value, Flow: c.AirFlow.Value, Exponent: c.AirExponent.Value}
		liquid := exchanger.Power{UA: c.Liquid.Value, Flow: c.LiquidFlow.Value * b.density(x.RatedWith), Exponent: c.LiquidExponent.Value}
		b.setSides(core, x, air, liquid)
		return c.AirFlow.Value, nil
	}
	r := x.Rating
	rated = r.AirFlow.Value
	if r.AirSpeed.Known {
		rated = r.AirSpeed.Value * standardDensity * x.faceArea()
	}
	rating := exchanger.Rating{
		Heat: r.Heat.Value, TemperatureDifference: r.Difference.Value, AirFlow: rated,
		LiquidFlow:         r.LiquidFlow.Value * b.density(x.RatedWith),
		LiquidHeatCapacity: b.heatCapacity(x.RatedWith),
		AirShare:           r.AirShare.Value, AirExponent: r.AirExponent.Value,
		LiquidExponent: r.LiquidExponent.Value, Arrangement: core.Arrangement,
	}
	if x.CooledBy == "coolant" {
		rating.AirHeatCapacity = b.heatCapacity("coolant")
	}
	air, liquid, err := rating.Sides()
	if err != nil {
		return 0, err
	}
	b.setSides(core, x, air, liquid)
	return rated, nil
}

// setSides stores both sides, for the part of the face that is open, and for
// the liquid the core is filled with.
func (b *builder) setSides(core *exchanger.Core, x *Exchanger, air, liquid exchanger.Power) {
	if x.RatedWith != x.Serves {
		usual := usualSides[x.Serves].liquidExponent.Value
		liquid.Flow *= b.density(x.Serves) / b.density(x.RatedWith)
		liquid.Exponent = usual
		if x.Serves == "coolant" {
			liquid.UA *= x.OtherLiquid.Value
		} else {
			liquid.UA /= x.OtherLiquid.Value
		}
	}
	open := x.openShare()
	air.UA, air.Flow = air.UA*open, air.Flow*open
	liquid.UA *= open
	core.Air, core.Liquid = air, liquid
}

// density returns that of the liquid of a circuit at its usual temperature.
func (b *builder) density(circuit string) float64 {
	if circuit == "oil" {
		return b.plant.Oil.Liquid.Density(usualOil)
	}
	return b.plant.Coolant.Liquid.Density(usualCoolant)
}

func (b *builder) heatCapacity(circuit string) float64 {
	if circuit == "oil" {
		return b.plant.Oil.Liquid.HeatCapacity(usualOil)
	}
	return b.plant.Coolant.Liquid.HeatCapacity(usualCoolant)
}

func (b *builder) liquidOf(circuit string) *fluid.Liquid {
	if circuit == "oil" {
		return b.plant.Oil.Liquid
	}
	return b.plant.Coolant.Liquid
}

// resist makes the air resistance of a core from bench points or a power law.
// A single bench point is carried on with the square of the speed.
func (x *Exchanger) resist(face float64) (exchanger.Drop, error) {
	if p := x.PowerLaw; p != nil {
		return exchanger.PowerLaw{
			Drop: p.Drop.Value, Flow: p.Speed.Value * standardDensity * face,
			Exponent: p.Exponent.Value, Density: standardDensity,
		}, nil
	}
	var points []exchanger.BenchPoint
	for _, name := range sortedKeys(x.Bench) {
		points = append(points, exchanger.BenchPoint{Speed: x.Bench[name].Speed.Value, Drop: x.Bench[name].Drop.Value})
	}
	if len(points) == 1 {
		p := points[0]
		return exchanger.Bench{B: p.Drop / (standardDensity * p.Speed * p.Speed), Area: face}, nil
	}
	return exchanger.BenchFrom(points, standardDensity, standardViscosity, face)
}

// geometry fills a core from fins and tubes.
func (b *builder) geometry(core *exchanger.Core, x *Exchanger) error {
	g := x.Geometry
	face := core.FaceArea
	width := x.Width.Value
	if g.TubeLength.Known {
		width = g.TubeLength.Value
	}
	pitch := g.FinHeight.Value + g.TubeHeight.Value
	if g.Fin == "offset_strip" {
		free := g.FinPitch.Value * (g.FinHeight.Value - g.FinThickness.Value) / ((g.FinPitch.Value + g.FinThickness.Value) * pitch)
		strip, err := exchanger.NewOffsetStrip(exchanger.StripGeometry{
			Spacing: g.FinPitch.Value, Height: g.FinHeight.Value - g.FinThickness.Value, Thickness: g.FinThickness.Value,
			Strip: g.LouverPitch.Value, Depth: g.Depth.Value, FreeArea: free * face, FaceArea: face,
			FinConductivity: g.FinMaterial.Value,
		}, nil)
		if err != nil {
			return err
		}
		core.Air, core.Resist, core.FreeArea = strip, strip, free*face
	} else {
		fin, err := exchanger.NewLouveredFin(exchanger.LouverGeometry{
			FinPitch: g.FinPitch.Value, LouverPitch: g.LouverPitch.Value, LouverLength: g.LouverLength.Value,
			LouverAngle: g.LouverAngle.Value, FinLength: g.FinHeight.Value, FinDepth: g.Depth.Value,
			TubeDepth: g.Depth.Value, TubePitch: pitch, TubeThickness: g.TubeHeight.Value,
			FinThickness: g.FinThickness.Value, FinConductivity: g.FinMaterial.Value, FaceArea: face,
		})
		if err != nil {
			return err
		}
		core.Air, core.Resist, core.FreeArea = fin, fin, fin.FreeArea()
	}
	tubes, err := b.tubes(g, face, width, pitch, x.Serves)
	core.Liquid = tubes
	return err
}

// tubes makes the liquid side of a core with flat tubes: rectangular passages
// as high as the tube less its walls and as deep as the core shared by its
// rows.
func (b *builder) tubes(g *Geometry, face, width, pitch float64, serves string) (*exchanger.Tube, error) {
	if width <= 0 {
		width = math.Sqrt(face)
	}
	inner := g.TubeHeight.Value - 2*g.TubeWall.Value
	deep := g.Depth.Value/g.TubeRows.Value - 2*g.TubeWall.Value
	count := face / (width * pitch) * g.TubeRows.Value
	aspect := min(inner, deep) / max(inner, deep)
	return exchanger.NewTube(exchanger.TubeGeometry{
		Diameter: 2 * inner * deep / (inner + deep), Length: width * g.LiquidPasses.Value,
		FlowArea: count * inner * deep / g.LiquidPasses.Value, WettedArea: count * 2 * (inner + deep) * width,
		Developed: exchanger.NusseltWall(aspect),
	}, b.liquidOf(serves))
}
