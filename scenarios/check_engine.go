package scenarios

import (
	"fmt"
	"strings"

	"hotclimb/sim/engine"
	"hotclimb/sim/fluid"
)

// heat tells an engine that gives off more heat and power than its fuel holds.
func (c *checker) heat() {
	e := &c.sc.Engine
	fuel := engine.RatioFromFuel(1, e.FuelConsumption.Value, e.FuelEnergy.Value)
	sum := e.HeatToCoolant.Value + e.HeatToOil.Value + e.HeatToBay.Value
	if e.HeatBasis == "fuel_energy" {
		sum *= fuel
	}
	if share := (1 + sum) / fuel; fuel > 0 && share > 1 {
		c.tell("engine.heat_to_coolant", fmt.Sprintf("coolant, oil, bay and brake power together take %.0f %% of the energy of the fuel", 100*share),
			"lower heat_to_coolant, heat_to_oil or heat_to_bay; see heat_basis")
	}
}

// airspeeds tells two errors of one indicated speed.
func (c *checker) airspeeds() {
	const at = "aircraft.airspeed_error"
	first := map[float64]string{}
	for name, p := range sorted(c.sc.Aircraft.AirspeedError) {
		if other, ok := first[p.Indicated.Value]; ok {
			c.tell(join(at, name), fmt.Sprintf("%s has the same indicated speed, %s", other, p.Indicated), "keep one")
		}
		first[p.Indicated.Value] = name
	}
}

// liquids tells contradictions in the coolant and oil sections.
func (c *checker) liquids() {
	coolant, oil := &c.sc.Coolant, &c.sc.Oil
	if coolant.Constant != nil && c.sc.filled["coolant.mixture"] {
		c.tell("coolant.constant", "is not used: the mixture is "+coolant.Mixture+" by default", "write mixture: constant")
	}
	if oil.Constant != nil && c.sc.filled["oil.grade"] {
		c.tell("oil.constant", "is not used: the grade is "+oil.Grade+" by default", "write grade: constant")
	}
	if coolant.Mixture == "constant" && coolant.Constant == nil {
		c.tell("coolant.mixture", "is constant, but there is no section coolant.constant", "give its density and heat_capacity")
	}
	if oil.Grade == "constant" && oil.Constant == nil {
		c.tell("oil.grade", "is constant, but there is no section oil.constant", "give its density and heat_capacity")
	}
	c.mixture()
	c.below("coolant.caution", coolant.Caution, "coolant.maximum", coolant.Maximum)
	c.below("oil.caution", oil.Caution, "oil.maximum", oil.Maximum)
	c.thermostat("coolant", coolant.Thermostat, coolant.Maximum)
	c.thermostat("oil", oil.Thermostat, oil.Maximum)
}

// mixture tells a share of glycol by volume within the range of shares, which
// by mass has no known properties.
func (c *checker) mixture() {
	coolant := &c.sc.Coolant
	if coolant.StrengthBy != "volume" || !strings.HasSuffix(coolant.Mixture, "_glycol") {
		return
	}
	if _, err := coolant.liquid(); err != nil {
		byMass, _ := fluid.MassFractionOfVolume(coolant.Mixture, coolant.Strength.Value)
		c.tell("coolant.strength", fmt.Sprintf("%s by volume is %.0f %% by mass, beyond the known properties", coolant.Strength, 100*byMass),
			"take less, or write strength_by: mass if it is by mass")
	}
}

func (c *checker) thermostat(circuit string, t *Thermostat, maximum Quantity[Temperature]) {
	if t == nil {
		return
	}
	at := circuit + ".thermostat"
	c.below(at+".opens", t.Opens, at+".full", t.Full)
	if t.Full.Known && maximum.Known && t.Full.Value > maximum.Value {
		c.tell(at+".full", fmt.Sprintf("%s is above %s.maximum, %s", t.Full, circuit, maximum), "the thermostat must be open before the limit is reached")
	}
}

// below tells a temperature that is not below another.
func (c *checker) below(pathA string, a Quantity[Temperature], pathB string, b Quantity[Temperature]) {
	if a.Known && b.Known && a.Value >= b.Value {
		c.tell(pathA, fmt.Sprintf("%s is not below %s, %s", a, pathB, b), "")
	}
}
