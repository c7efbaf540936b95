package sim

// Entries of the state vector. The last three are accumulators that nothing
// depends on.
const (
	metal       = iota // temperature of the metal [°C]
	coolantHot         // [°C]
	coolantCold        // [°C]
	oilHot             // [°C]
	oilCold            // [°C]
	coolantOpen        // opening of the coolant thermostat [-]
	oilOpen            // opening of the oil cooler thermostat [-]
	altitude           // [m]
	water              // spray water left [kg]
	heatIn             // heat given off so far [J]
	heatOut            // heat carried away so far [J]
	states
	accumulators = 3
)

// side is one of the two circuits.
type side int

const (
	coolant side = iota
	oil
)

func (s side) String() string { return [...]string{"coolant", "oil"}[s] }

// hot, cold and open return the state entries of a circuit.
func (s side) hot() int  { return coolantHot + 2*int(s) }
func (s side) cold() int { return coolantCold + 2*int(s) }
func (s side) open() int { return coolantOpen + int(s) }

// sensed returns the state entry that the gauge of a circuit shows.
func (s side) sensed(c *Circuit) int {
	if c.Sensor == ColdLeg {
		return s.cold()
	}
	return s.hot()
}
