package scenarios

// Number is one number of a scenario: its value in SI, its doubt, and how the
// user wrote it.
type Number struct {
	Value  float64 // SI; temperatures in °C
	Doubt  float64 // one standard deviation, SI; 0 is taken as known
	Unit   string  // the unit it was written in, "" for a bare number
	Text   string  // as written, "" unless Written
	Source string  // where a default comes from, "" when Written

	Written bool // by the user, in a file, by --set, by a change
	Known   bool // written or filled by a default
}

// Kind is a kind of quantity: a zero-size type that names its dimension.
type Kind interface {
	dimension() *Dimension
}

// Quantity is a number of one kind, such as Quantity[Area].
type Quantity[K Kind] struct {
	Number
}

// quantity is what the loader, the paths and the schema see of any Quantity.
type quantity interface {
	number() *Number
	dimension() *Dimension
}

func (q *Quantity[K]) number() *Number { return &q.Number }

func (q *Quantity[K]) dimension() *Dimension { return DimensionOf[K]() }

// String prints the number and its doubt for people, in the unit it was
// written in; "" when it is not known.
func (q Quantity[K]) String() string {
	if !q.Known {
		return ""
	}
	return q.Format(DimensionOf[K]())
}

// Exact prints the number and its doubt so that Parse finds them again.
func (q Quantity[K]) Exact() string { return q.Number.Exact(DimensionOf[K]()) }
