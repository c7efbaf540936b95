package scenarios

import (
	"cmp"
	"fmt"
	"slices"

	"hotclimb/sim/fluid"
)

// ratings tells what a single number of a core cannot show to be impossible.
func (c *checker) ratings(at string, x *Exchanger) {
	c.bench(join(at, "bench"), x.Bench)
	if x.Geometry != nil {
		c.geometry(join(at, "geometry"), x.Geometry)
	}
	if x.Rating != nil {
		c.rating(join(at, "rating"), x)
	}
}

// bench tells pressure drops that do not rise with the speed.
func (c *checker) bench(at string, points map[string]*BenchPoint) {
	var names []string
	for name := range sorted(points) {
		names = append(names, name)
	}
	slices.SortStableFunc(names, func(a, b string) int {
		return cmp.Compare(points[a].Speed.Value, points[b].Speed.Value)
	})
	for i := 1; i < len(names); i++ {
		slow, fast := points[names[i-1]], points[names[i]]
		if fast.Drop.Value <= slow.Drop.Value || fast.Speed.Value <= slow.Speed.Value {
			c.tell(join(at, names[i]), fmt.Sprintf("%s at %s, but %s at %s: the drop must rise with the speed",
				fast.Drop, fast.Speed, slow.Drop, slow.Speed), "")
		}
	}
}

// geometry tells fins and tubes that leave no passage.
func (c *checker) geometry(at string, g *Geometry) {
	bigger := func(key string, a float64, text fmt.Stringer, than float64, what fmt.Stringer, of string) {
		if a >= than {
			c.tell(join(at, key), fmt.Sprintf("%s is too much for a %s of %s", text, of, what), "")
		}
	}
	bigger("tube_wall", 2*g.TubeWall.Value, g.TubeWall, g.TubeHeight.Value, g.TubeHeight, "tube_height")
	bigger("tube_wall", 2*g.TubeWall.Value*g.TubeRows.Value, g.TubeWall, g.Depth.Value, g.Depth, "depth")
	bigger("fin_thickness", g.FinThickness.Value, g.FinThickness, g.FinHeight.Value, g.FinHeight, "fin_height")
	bigger("louver_pitch", g.LouverPitch.Value, g.LouverPitch, g.Depth.Value, g.Depth, "depth")
	if g.Fin == "louvered" {
		bigger("fin_thickness", g.FinThickness.Value, g.FinThickness, g.FinPitch.Value, g.FinPitch, "fin_pitch")
		bigger("louver_length", g.LouverLength.Value, g.LouverLength, g.FinHeight.Value, g.FinHeight, "fin_height")
	}
}

// rating tells a catalogue point that moves more heat than one of its streams
// can carry, Q ≥ (ṁ·c_p)_min·ΔT: its effectiveness would be 1 or more.
func (c *checker) rating(at string, x *Exchanger) {
	r := x.Rating
	if c.coolant == nil || !r.LiquidFlow.Known || !r.Heat.Known || !r.Difference.Known {
		return
	}
	liquid, t := c.coolant, usualCoolant
	if x.RatedWith == "oil" {
		liquid, t = c.oil, usualOil
	}
	air, name := standardDensity*x.faceArea()*r.AirSpeed.Value*fluid.AirHeatCapacity, "air"
	if r.AirFlow.Known {
		air = r.AirFlow.Value * fluid.AirHeatCapacity
	}
	if x.CooledBy == "coolant" {
		air, name = r.AirFlow.Value*c.coolant.HeatCapacity(usualCoolant), "coolant"
	}
	carried := r.LiquidFlow.Value * liquid.Density(t) * liquid.HeatCapacity(t)
	if air > 0 && air < carried {
		carried = air
	} else {
		name = "liquid"
	}
	if most := carried * r.Difference.Value; r.Heat.Value >= most {
		c.tell(join(at, "heat"), fmt.Sprintf("%s is more than its %s can carry: at most %s at that flow and temperature difference",
			r.Heat, name, Format(most, r.Heat.Unit, power)), "")
	}
}

// fills are the liquids of both circuits; nil while a fault keeps one from being
// known.
func (sc *Scenario) fills() (coolant, oil *fluid.Liquid) {
	if sc.Coolant.Mixture == "constant" && sc.Coolant.Constant == nil || sc.Oil.Grade == "constant" && sc.Oil.Constant == nil {
		return nil, nil
	}
	coolant, err := sc.Coolant.liquid()
	if err != nil {
		return nil, nil
	}
	if oil, err = sc.Oil.liquid(); err != nil {
		return nil, nil
	}
	return coolant, oil
}
