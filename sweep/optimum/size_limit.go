package optimum

import (
	"math"

	"hotclimb/sweep"
)

// What a limit of a sizing bounds.
const (
	CoolantLimit = "coolant" // margin to the coolant limit
	OilLimit     = "oil"     // margin to the oil limit
	BoilLimit    = "boiling" // margin to boiling
	AirLimit     = "air"     // air goes forwards through a core
)

// Limit is one thing that a design must keep in one case.
type Limit struct {
	Case   int
	Kind   string
	Core   string  // of AirLimit
	Needs  float64 // the least that is allowed [K]
	Spread float64 // standard deviation that is in Needs [K]
	core   int     // of the exchangers of the flight
	change float64 // of Spread, the last [K]
}

// ofOil says that the limit is one of the oil; the others are the coolant's.
func (l *Limit) ofOil() bool { return l.Kind == OilLimit }

// airUnit weighs the air through a core against margins: one per cent of the air
// of all cores counts like 0.1 K.
const airUnit = 10.0

// value is what the limit bounds [K].
func (l *Limit) value(f *Flight) float64 {
	switch l.Kind {
	case CoolantLimit:
		return f.Circuits[sweep.Coolant].Margin
	case OilLimit:
		return f.Circuits[sweep.Oil].Margin
	case BoilLimit:
		return f.BoilMargin
	}
	if !f.Powered {
		return math.Inf(1)
	}
	sum := 0.0
	for _, x := range f.Exchangers {
		sum += math.Abs(x.AirFlow)
	}
	return airUnit * f.Exchangers[l.core].AirFlow / math.Max(sum, 1e-9)
}

// limitsOf lists what must be kept, in the order of the cases.
func (p *sizer) limitsOf(flights []Flight) []Limit {
	var list []Limit
	for k := range flights {
		list = append(list,
			Limit{Case: k, Kind: CoolantLimit, Needs: p.CoolantMargin},
			Limit{Case: k, Kind: OilLimit, Needs: p.OilMargin})
		if !math.IsInf(flights[k].BoilMargin, 1) {
			list = append(list, Limit{Case: k, Kind: BoilLimit, Needs: p.BoilMargin})
		}
		for i, x := range flights[k].Exchangers {
			if x.AirFlow != 0 {
				list = append(list, Limit{Case: k, Kind: AirLimit, Core: x.Name, core: i})
			}
		}
	}
	return list
}

// slack is how far a design is inside a limit [K].
func (d *Design) slack(limits []Limit, i int) float64 { return d.Values[i] - limits[i].Needs }

// short is the sum of what limits are missed by [K].
func (d *Design) short(limits []Limit) float64 {
	sum := 0.0
	for i := range limits {
		sum += math.Max(0, -d.slack(limits, i))
	}
	return sum
}
