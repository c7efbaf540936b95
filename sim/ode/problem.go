package ode

import "math"

// Problem is an initial value problem y' = f(t, y), y(T0) = Y0, on T0 ≤ t ≤ T1.
// It is not changed by solving it.
type Problem struct {
	// Deriv writes f(t, y) to dydt and must not change y. An error or a value
	// that is not finite makes the solver try a smaller step; if that does not
	// help, the integration ends with an error.
	Deriv func(t float64, y, dydt []float64) error

	// Jacobian writes ∂f_i/∂y_j to dfdy[i*n+j]; dfdy comes in zeroed. Where it is
	// off, the order falls and steps become short. Nil: forward differences of
	// Deriv.
	Jacobian func(t float64, y, dfdy []float64) error

	T0, T1 float64   // first and last time, T0 ≤ T1
	Y0     []float64 // state at T0

	// Autonomous says that Deriv ignores t, which spares a call per Jacobian.
	Autonomous bool

	// Stops are times at which f may jump; any order, those not after T0 or past T1
	// are ignored. A step ends exactly on each and a new start is made there. Up to
	// a stop, Deriv is called only with t strictly less than it, from the stop on
	// only with t at or after it: it sees either side of the jump, never both.
	Stops []float64

	Events []Event

	// Passive is the number of trailing components that f does not depend on:
	// accumulators. They cost no Jacobian column and take no part in the error
	// test; they are integrated by the same formula, hence every linear relation
	// between their rates and the others' is kept to rounding.
	Passive int
}

// Event watches a function of the solution for changes of sign.
type Event struct {
	Name string

	// Value is the function g(t, y, y'); its changes of sign are located. In
	// a step y and dydt come from the dense output. A step is looked at in its
	// ends, its middle and the vertex of the parabola through these, so two
	// changes of sign very near to each other may pass unseen.
	Value func(t float64, y, dydt []float64) float64

	Direction int // +1 rising only, −1 falling only, 0 both

	// Action is called at the located time after the observer has seen the
	// solution up to it. It may change y (kept with Restart and Finish) and the
	// caller's own modes. Nil: the event is recorded only.
	Action func(t float64, y []float64) Verdict
}

// Verdict is what an event's action asks for.
type Verdict int

const (
	Continue Verdict = iota // go on as if nothing happened; a change of y is dropped
	Restart                 // drop the rest of the step, start anew from y
	Finish                  // end the integration here
)

// Method selects the integration formula.
type Method int

const (
	KapsRentrop   Method = iota // GRK4T, order 4, stiff problems
	Rodas4                      // RODAS, order 4, very stiff problems
	DormandPrince               // DOPRI5, order 5, not stiff, explicit
)

// Settings control an integration; the zero value works.
type Settings struct {
	RelTol float64   // relative error allowed per step [-]; 0: DefaultRelTol
	AbsTol []float64 // absolute error allowed per step, per component; nil: DefaultAbsTol each

	MaxStep   float64 // longest step; 0: no limit
	FirstStep float64 // step tried at T0 and after every new start; 0: chosen from f
	MaxSteps  int     // most step attempts; 0: DefaultMaxSteps
	Method    Method  // formula; zero: KapsRentrop

	// OnStep, if set, sees each accepted step, cut at events with an action,
	// before that action runs. The step is valid only during the call.
	OnStep func(s *Step)
}

// Values that replace zero fields of Settings. The tolerances are engineering
// judgement: for temperatures near 100 °C they allow about 1 mK per step.
const (
	DefaultRelTol   = 1e-5
	DefaultAbsTol   = 1e-6
	DefaultMaxSteps = 200_000
)

// Status tells how an integration ended.
type Status int

const (
	Aborted  Status = iota // an error was returned; T and Y are the last good point
	Reached                // T1 was reached
	Finished               // an event asked to finish
)

// String returns the status as a word.
func (s Status) String() string {
	switch s {
	case Reached:
		return "reached"
	case Finished:
		return "finished"
	}
	return "aborted"
}

// Hit is one located event.
type Hit struct {
	Event     int       // index in Problem.Events
	Name      string    // its name
	Direction int       // +1 rising, −1 falling
	T         float64   // located time
	Y         []float64 // state there, before the action
}

// Stats counts the work of an integration.
type Stats struct {
	Steps          int // accepted steps
	Rejected       int // attempts refused by the error test or a failing Deriv
	Evaluations    int // calls of Deriv, those for Jacobians included
	Jacobians      int // Jacobians formed
	Factorizations int // LU decompositions
}

// Solution is the end point of an integration and what happened on the way.
type Solution struct {
	T      float64
	Y      []float64
	Status Status
	Hits   []Hit // in order of time
	Stats  Stats
}

// notFinite returns the index of the first entry that is NaN or infinite, or −1.
func notFinite(v []float64) int {
	for i, x := range v {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return i
		}
	}
	return -1
}
