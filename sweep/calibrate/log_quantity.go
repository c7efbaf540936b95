package calibrate

import (
	"fmt"
	"math"
	"strings"

	"hotclimb/scenarios"
)

// Quantity names what a column of a record measures.
type Quantity string

// The quantities of a record.
const (
	Time     Quantity = "time"     // s
	Altitude Quantity = "altitude" // pressure altitude, m
	Speed    Quantity = "speed"    // indicated airspeed, m/s
	Outside  Quantity = "outside"  // outside air temperature, °C
	Power    Quantity = "power"    // brake power, W
	Coolant  Quantity = "coolant"  // at its sensor, °C
	Oil      Quantity = "oil"      // at its sensor, °C
	RPM      Quantity = "rpm"      // of the crankshaft, rad/s
	Spray    Quantity = "spray"    // water sprayed on a core, m³/s
)

// The numbers of the channels among the sensors.
const (
	altitude = iota
	speed
	outside
	power
	coolant
	oil
	rpm
	spray
	channels
	clock = channels // time has no channel; its header is kept behind theirs
)

// channel is what is known of a quantity beforehand, in SI. The limits are
// engineering judgement: readings beyond them are of a broken sensor or wire,
// whatever the flight.
type channel struct {
	quantity    Quantity
	dimension   *scenarios.Dimension
	least, most float64 // range of readings

	rate, step float64 // what bounds its changes, see reach; rate 0 means nothing does
	move       float64 // a change that moves other sensors; 0 means that it does not
}

var sensors = [channels]channel{
	altitude: {Altitude, scenarios.DimensionOf[scenarios.Length](), -400, 15000, 100, 30, 100},
	speed:    {Speed, scenarios.DimensionOf[scenarios.Speed](), 0, 130, 20, 10, 3},
	outside:  {Outside, scenarios.DimensionOf[scenarios.Temperature](), -60, 60, 2, 3, 0},
	power:    {Power, scenarios.DimensionOf[scenarios.Power](), 0, 1e6, 0, 0, 5e3},
	coolant:  {Coolant, scenarios.DimensionOf[scenarios.Temperature](), -40, 200, 5, 3, 3},
	oil:      {Oil, scenarios.DimensionOf[scenarios.Temperature](), -40, 220, 5, 3, 3},
	rpm:      {RPM, scenarios.DimensionOf[scenarios.Rotation](), 0, 1500, 500, 50, 15},
	spray:    {Spray, scenarios.DimensionOf[scenarios.VolumeFlow](), 0, 1e-3, 0, 0, 5e-6},
}

// reach is how far a reading may get from another in a time Δt [s]:
//
//	step + rate·(min(Δt, 6 s) + max(Δt - 6 s, 0)/20)
//
// For coolant that is 5 K/s when a thermostat sends a cold slug past the sensor, on
// top of 3 K of noise; 46 K in a minute, 106 K in five. All of it is engineering
// judgement: nothing true is as fast, and what a loose wire does often is.
func (c *channel) reach(dt float64) float64 {
	return c.step + c.rate*(min(dt, 6)+max(dt-6, 0)/20)
}

// channelOf is the number of a quantity among the sensors, -1 for time and others.
func channelOf(q Quantity) int {
	for k := range sensors {
		if sensors[k].quantity == q {
			return k
		}
	}
	return -1
}

// slotOf is the channel of a quantity, or clock for the time.
func slotOf(q Quantity) int {
	if q == Time {
		return clock
	}
	return channelOf(q)
}

// Dimension returns what a quantity measures; nil for a word that is none.
func (q Quantity) Dimension() *scenarios.Dimension {
	if q == Time {
		return scenarios.DimensionOf[scenarios.Time]()
	}
	if k := channelOf(q); k >= 0 {
		return sensors[k].dimension
	}
	return nil
}

// Quantities returns all quantities, time first.
func Quantities() []Quantity {
	all := []Quantity{Time}
	for k := range sensors {
		all = append(all, sensors[k].quantity)
	}
	return all
}

// scale turns numbers of a unit into SI: SI = zero + factor·number.
type scale struct{ zero, factor float64 }

// scaleOf is the scale of a unit of a dimension, read off two numbers in it.
func scaleOf(unit string, d *scenarios.Dimension) (scale, error) {
	const far = 1000
	zero, err := scenarios.Parse("0 "+unit, d)
	if err == nil && strings.Contains(unit, "±") {
		err = fmt.Errorf("%q is no unit", unit)
	}
	if err != nil {
		return scale{}, err
	}
	one, err := scenarios.Parse(fmt.Sprint(far, " ", unit), d)
	if err != nil {
		return scale{}, err
	}
	return scale{zero.Value, (one.Value - zero.Value) / far}, nil
}

func (s scale) of(x float64) float64 { return s.zero + s.factor*x }

// scales are those of all columns of a map, time last.
func (m ColumnMap) scales() (all [channels + 1]scale, err error) {
	for _, q := range Quantities() {
		c, ok := m[q]
		if !ok {
			continue
		}
		k := slotOf(q)
		if k == clock && c.Unit == "" {
			c.Unit = "s"
		}
		if c.Unit == "" {
			return all, fmt.Errorf("%s: column %q has no unit; write %s [UNIT]", q, c.Header, c.Header)
		}
		if all[k], err = scaleOf(c.Unit, q.Dimension()); err != nil {
			return all, fmt.Errorf("%s: %w", q, err)
		}
	}
	return all, nil
}

// check returns what is wrong with a map.
func (m ColumnMap) check() error {
	for q, c := range m {
		switch {
		case q.Dimension() == nil:
			return fmt.Errorf("%q is no quantity of a record; known: %v", string(q), Quantities())
		case strings.TrimSpace(c.Header) == "":
			return fmt.Errorf("%s has no header", q)
		}
	}
	if _, ok := m[Time]; !ok {
		return fmt.Errorf("no column is the time")
	}
	if len(m) < 2 {
		return fmt.Errorf("no column but the time is read")
	}
	return nil
}

var missing = float32(math.NaN())
