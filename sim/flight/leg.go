package flight

import (
	"fmt"
	"sort"
)

// Kind is what is done in a leg.
type Kind int

// The kinds of leg. On the ground the speed of a leg is over the ground.
const (
	Idle Kind = iota
	Taxi
	RunUp
	TakeOff
	Climb
	Level
	Descend
	ShutDown
)

// Kinds lists the kinds of leg in order, as users write them.
func Kinds() []string {
	return []string{"idle", "taxi", "run_up", "take_off", "climb", "level", "descend", "shut_down"}
}

// KindOf returns the kind of a word.
func KindOf(word string) (Kind, error) {
	for i, w := range Kinds() {
		if w == word {
			return Kind(i), nil
		}
	}
	return 0, fmt.Errorf("flight: no kind of leg is called %q", word)
}

// OnGround reports whether the aircraft stands or rolls.
func (k Kind) OnGround() bool { return k == Idle || k == Taxi || k == RunUp || k == ShutDown }

// ClimbsAway reports whether the propeller works at its climb efficiency: in
// take-off and climb, and on the ground.
func (k Kind) ClimbsAway() bool { return k == TakeOff || k == Climb || k.OnGround() }

// SpeedKind says what the speed of a leg is.
type SpeedKind int

// The four airspeeds.
const (
	Indicated SpeedKind = iota
	Calibrated
	Equivalent
	True
)

// Leg is one part of a flight.
type Leg struct {
	Name        string
	Kind        Kind
	Speed       float64 // [m/s]
	SpeedKind   SpeedKind
	Throttle    float64 // share of the power available [-]
	Power       float64 // wanted power, used when Throttle is 0 [W]
	EngineSpeed float64 // [rad/s]; 0: from the power
	Prescribed  bool    // rate of climb is given
	RateOfClimb float64 // [m/s]
	OwnAir      bool    // the air is not that of the day
	AirOffset   float64 // but this much warmer than the standard day [K], when OwnAir

	ToAltitude  float64 // ends here [m], when HasAltitude
	HasAltitude bool
	Duration    float64 // ends after this [s]; 0: no such end
	Settled     bool    // ends when all temperatures have settled
	AfterPeak   float64 // ends this long after the highest temperatures [s]; 0: no such end
}

// Output returns the engine power [W] of the leg where available [W] is at
// hand: throttle·available, or else the wanted power as far as it is available.
// An engine that is shut down gives none.
func (l *Leg) Output(available float64) float64 {
	switch {
	case l.Kind == ShutDown:
		return 0
	case l.Throttle > 0:
		return l.Throttle * available
	}
	return min(l.Power, available)
}

// StabilisedRate is the rate of change below which a temperature counts as
// settled [K/s]: 2 °F a minute. Source: 14 CFR 25.1045.
const StabilisedRate = 2.0 / 1.8 / 60

// Stabilised reports whether a temperature that changes at rate [K/s] counts
// as settled: it is below StabilisedRate, warming or cooling.
func Stabilised(rate float64) bool { return rate < StabilisedRate && rate > -StabilisedRate }

// AirspeedPoint is one point of a position-error table [m/s].
type AirspeedPoint struct{ Indicated, Calibrated float64 }

// AirspeedTable turns indicated into calibrated airspeed. Its points must be in
// order of indicated speed.
type AirspeedTable []AirspeedPoint

// Sort orders the table by indicated speed.
func (t AirspeedTable) Sort() {
	sort.Slice(t, func(i, j int) bool { return t[i].Indicated < t[j].Indicated })
}

// Calibrated returns the calibrated airspeed [m/s] of an indicated one by
// linear interpolation of the error, which is held beyond the ends. An empty
// table has no error.
func (t AirspeedTable) Calibrated(indicated float64) float64 {
	n := len(t)
	if n == 0 {
		return indicated
	}
	i := sort.Search(n, func(i int) bool { return t[i].Indicated >= indicated })
	switch i {
	case 0:
		return indicated + t[0].Calibrated - t[0].Indicated
	case n:
		return indicated + t[n-1].Calibrated - t[n-1].Indicated
	}
	a, b := t[i-1], t[i]
	share := (indicated - a.Indicated) / (b.Indicated - a.Indicated)
	ea, eb := a.Calibrated-a.Indicated, b.Calibrated-b.Indicated
	return indicated + ea + share*(eb-ea)
}
