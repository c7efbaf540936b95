package scenarios

import "slices"

// exchangers tells cores that are not described far enough to be computed.
func (c *checker) exchangers() {
	drawn := map[string]bool{} // exchangers another one draws its air from
	for _, x := range c.sc.Exchangers {
		drawn[x.From] = true
	}
	c.coolant, c.oil = c.sc.fills()
	for name, x := range sorted(c.sc.Exchangers) {
		at := join("exchangers", name)
		if x.Rating == nil && x.Conductance == nil && x.Geometry == nil {
			c.tell(at, "does not say how much heat it moves", "give rating, conductance or geometry")
		}
		if r := x.Rating; r != nil && !r.AirFlow.Known && !r.AirSpeed.Known {
			c.tell(join(at, "rating"), "does not say at which air flow", "give air_flow or air_speed")
		}
		if x.LiquidDrop.Known != x.LiquidDropFlow.Known {
			c.tell(at, "liquid_drop and liquid_drop_flow go together", "give both or none")
		}
		c.ratings(at, x)
		if x.CooledBy == "air" {
			c.airCore(at, x, drawn[name])
		} else {
			c.plate(at, x)
		}
	}
}

// airCore tells what is missing of a core with air through it.
func (c *checker) airCore(at string, x *Exchanger, drawn bool) {
	if x.From == "" {
		c.torn = true
		c.tell(join(at, "from"), "is missing: the core is fed from nowhere", "name an inlet, a compartment or another exchanger")
	}
	if x.Into == "" && !drawn {
		c.torn = true
		c.tell(join(at, "into"), "is missing: the core blows nowhere", "name a compartment or an exit")
	}
	if !x.FaceArea.Known {
		c.rectangle(at, x.Width.Known, x.Height.Known, "has no face size", "give face_area, or width and height")
	}
	if len(x.Bench) == 0 && x.PowerLaw == nil && x.Geometry == nil {
		c.tell(at, "does not say its pressure drop on the air side", "give bench, power_law or geometry")
	}
	c.fins(at, x.Geometry)
}

// fins tells what louvered fins need beyond other fins.
func (c *checker) fins(at string, g *Geometry) {
	if g == nil || g.Fin != "louvered" {
		return
	}
	if !g.LouverLength.Known {
		c.tell(join(at, "geometry.louver_length"), "is missing", "louvered fins need it")
	}
	if !g.LouverAngle.Known {
		c.tell(join(at, "geometry.louver_angle"), "is missing", "louvered fins need it")
	}
}

// plate tells what does not fit a plate exchanger.
func (c *checker) plate(at string, x *Exchanger) {
	if x.Serves == "coolant" {
		c.tell(join(at, "cooled_by"), "coolant cannot cool coolant", "an exchanger cooled by coolant must serve oil")
	}
	if x.Geometry != nil {
		c.tell(join(at, "geometry"), "fins and tubes describe no plate exchanger", "give rating or conductance")
	}
	if x.From != "" {
		c.tell(join(at, "from"), "no air flows through an exchanger cooled by coolant", "remove it")
	}
	if x.Into != "" {
		c.tell(join(at, "into"), "no air flows through an exchanger cooled by coolant", "remove it")
	}
}

// spray tells a spray that would wet nothing.
func (c *checker) spray() {
	s := c.sc.Spray
	if s == nil {
		return
	}
	if x := c.sc.Exchangers[s.Onto]; x != nil && x.CooledBy != "air" {
		c.tell("spray.onto", "no air flows through exchangers."+s.Onto, "spray a core that is cooled by air")
	}
	if legs := c.sc.legNames(); s.Leg != "" && !slices.Contains(legs, s.Leg) {
		c.tell("spray.leg", "there is no leg "+s.Leg+" in any flight", didYouMean(s.Leg, legs))
	}
}
