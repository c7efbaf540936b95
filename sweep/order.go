package sweep

// InOrder takes the rows of a shard in the order in which they are finished and
// passes them on in the order of their numbers. It holds those that came before
// their turn: never more than a run has under way, see Run. A row that comes
// twice is passed on once, since both are the same.
type InOrder struct {
	Shard Shard
	Pass  func(cells []string) error

	next    int // position; so many are passed on
	pending map[int][]string
}

// Add takes a row.
func (o *InOrder) Add(row int, cells []string) error {
	position := o.Shard.position(row)
	if position < o.next {
		return nil
	}
	if o.pending == nil {
		o.pending = map[int][]string{}
	}
	o.pending[position] = cells
	for {
		cells, ok := o.pending[o.next]
		if !ok {
			return nil
		}
		delete(o.pending, o.next)
		o.next++
		if err := o.Pass(cells); err != nil {
			return err
		}
	}
}
