package optimum

// Status says how a search ended.
type Status int

const (
	// Converged: no step promises a gain that is worth it.
	Converged Status = iota
	// Stalled: no step within the least trust radius gave the gain that it
	// promised. The functions are noisy or have a kink here.
	Stalled
	// OutOfIterations: Settings.Iterations or Settings.Evaluations are used up.
	OutOfIterations
)

func (s Status) String() string {
	return [...]string{"converged", "stalled", "out of iterations"}[s]
}

// Solution is where a search ended.
type Solution struct {
	X []float64
	F float64
	G []float64

	// Multipliers are what F costs for each unit of g_i that is asked for beyond
	// 0 (dF/dg_i); 0 or more, and 0 for limits that do not act. They and KKT mean
	// nothing where not all limits can be kept.
	Multipliers []float64
	// BoundMultipliers are what F costs for each unit by which the bound that
	// X stands at is drawn in; 0 or more, and 0 between the bounds.
	BoundMultipliers []float64

	// Violation is the sum of what limits are missed by, in their units. Where
	// not all limits can be kept, it is the least that was found.
	Violation float64
	Feasible  bool // every limit is kept but for Settings.Shortfall

	Iterations  int // linear programs of Minimise, restarts of Confirm
	Evaluations int

	// KKT is what remains of the conditions of Karush, Kuhn and Tucker: the
	// largest of the slopes of the Lagrangian over the whole range of a variable
	// and of the products multiplier times limit, as a share of F at the start
	// or of the steepest slope of F, whichever is more.
	KKT    float64
	Status Status
}
