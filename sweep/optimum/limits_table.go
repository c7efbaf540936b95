package optimum

import (
	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sweep"
)

// LimitTable is the answer to a LimitStudy.
type LimitTable struct {
	Case, Title string
	Leg         string      // the climb
	Filed       FiledClimb  // the flight as it is filed
	Own         LimitRow    // at its own speed and elevation
	Rows        []LimitRow  // every speed at the first elevation, then at the next
	Slowest     []SlowClimb // one per elevation
	Spray       *SprayClimb // nil when the scenario has no spray
	Doubt       float64     // standard deviations kept on top of every margin, but not in Filed
	Above       []float64   // steps above the highest temperature at which times are given [K]

	// Hottest is the case as the own climb flies it at its highest temperature; nil
	// when there is no such temperature.
	Hottest *scenarios.Scenario
	Flights int // flown for all of it
}

// FiledClimb is the flight of the case as it is filed, spray included.
type FiledClimb struct {
	Speed       float64 // [m/s]
	Elevation   float64 // [m]
	Temperature float64 // at the field [°C]
	Gain        float64 // height gained in the climb [m]
	Status      sim.Status
	Margin      float64 // least of coolant, oil and boiling [K]
	By          string  // which of them
	Trouble     string  // why the flight is none, "" when it is one
	Warnings    []string
}

// LimitRow is what holds for one speed and elevation, without spray.
type LimitRow struct {
	Speed     float64 // [m/s]
	Elevation float64 // [m]
	Ceiling
	Spread    *sweep.Spread // one standard deviation of its margins; nil when no doubt is kept, or there is no climb
	ClimbTime float64       // how long the climb takes at that temperature [s]; NaN when there is none
	Above     []TimeAbove   // one per step of the table; nil when there is no such temperature
}

// Ceiling is the highest field temperature of an unlimited climb.
type Ceiling struct {
	Temperature float64 // [°C]; HottestField or ColdestField when the bound is passed
	Bound       TemperatureBound
	By          string // what limits: one of ByCoolant to ByFault; "" when nothing does
	Trouble     string // why there is no climb, "" when there is one
}

// TemperatureBound says whether a highest temperature was found.
type TemperatureBound string

// What a search for a highest temperature comes to.
const (
	Found   TemperatureBound = "found"
	Hotter  TemperatureBound = "above"    // no limit up to HottestField
	Colder  TemperatureBound = "below"    // a limit even at ColdestField
	NoClimb TemperatureBound = "no climb" // see Trouble
)

// TimeAbove is how long a climb may last on a hotter day.
type TimeAbove struct {
	Temperature float64 // at the field [°C]
	Time        float64 // from the start of the climb to the limit, 0 when it is passed before [s]; NaN when unknown
	By          string  // whose limit; climb when none is passed, but the top is not reached
	Leg         string  // in which it is reached
}

// The three limits, and what else may end a climb.
const (
	ByCoolant = "coolant"
	ByOil     = "oil"
	ByBoiling = "boiling"
	ByClimb   = "climb" // the aircraft does not reach the end of a leg
	ByStall   = "stall" // the climb is slower than the aircraft can fly
	ByFault   = "fault" // a flight could not be computed
)

// Elsewhere is the leg in which the limit is passed just above the highest
// temperature of the own climb, and whether it comes before the climb; "" when
// it is the climb itself. Another speed does not change what comes before.
func (t *LimitTable) Elsewhere() (leg string, before bool) {
	if len(t.Own.Above) == 0 || t.Own.Above[0].Leg == t.Leg {
		return "", false
	}
	return t.Own.Above[0].Leg, t.Own.Above[0].Time == 0
}
