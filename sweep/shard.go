package sweep

// Shard is one part of a study that several machines fly: of the rows numbered
// from 0, those whose number leaves Index when divided by Of. The zero value is
// the whole study.
type Shard struct {
	Index int `json:"index"` // from 0 to Of-1
	Of    int `json:"of"`
}

// step is how far the rows of the shard lie apart.
func (s Shard) step() int { return max(s.Of, 1) }

// Len is how many of rows belong to the shard.
func (s Shard) Len(rows int) int { return (rows - s.Index + s.step() - 1) / s.step() }

// Row is the number of the row at a position in the shard.
func (s Shard) Row(position int) int { return s.Index + position*s.step() }

// Has says that a row belongs to the shard.
func (s Shard) Has(row int) bool { return row >= 0 && row%s.step() == s.Index }

// position is the place of a row in its shard.
func (s Shard) position(row int) int { return row / s.step() }
