package plots

import (
	"slices"

	"gonum.org/v1/plot/vg"
)

// tag is a text that belongs to a place along the time axis and hangs on a
// line from there, in the lowest row that has room.
type tag struct {
	words
	at   vg.Length // of its line
	left vg.Length // of the text, set by stack
	row  int       // set by stack; −1: there was no room
}

const (
	rowHeight vg.Length = 11
	tagGap    vg.Length = 2.5 // between the line and its text
)

// stacker gives tags their rows.
type stacker struct {
	rows        int
	left, right vg.Length // ends of the room
	shorten     bool      // shorten texts that find no row
	bothSides   bool      // texts may lie left of their lines
}

// stack gives every tag a row, the earlier in the list the lower, so that no
// text lies on another or on a line that passes. Texts without room are
// dropped.
func (s stacker) stack(tags []tag) {
	shares := []vg.Length{1}
	if s.shorten {
		shares = []vg.Length{1, 0.7, 0.45}
	}
	for i := range tags {
		t, whole := &tags[i], tags[i].words
		for _, share := range shares {
			t.words = whole.fit(share * whole.width())
			if s.seat(t, tags[:i]) {
				break
			}
		}
	}
}

// seat finds the lowest row for t beside those placed before it.
func (s stacker) seat(t *tag, placed []tag) bool {
	sides := []vg.Length{min(t.at+tagGap, s.right-t.width())}
	if s.bothSides {
		sides = append(sides, max(t.at-tagGap-t.width(), s.left))
	}
	for _, t.left = range sides {
		for t.row = 0; t.row < s.rows; t.row++ {
			if !slices.ContainsFunc(placed, func(o tag) bool { return t.disturbs(&o) }) {
				return true
			}
		}
	}
	t.row = -1
	return false
}

// disturbs says whether two tags in their rows lie on each other.
func (t *tag) disturbs(o *tag) bool {
	const clear = 4 // pt between texts of one row
	switch {
	case o.row < 0:
		return false
	case t.row == o.row:
		return t.left < o.right()+clear && o.left < t.right()+clear
	case t.row < o.row:
		return t.covers(o.at)
	}
	return o.covers(t.at)
}

func (t *tag) right() vg.Length { return t.left + t.width() }

// covers says whether a line at x passes through the text.
func (t *tag) covers(x vg.Length) bool { return t.left-1 < x && x < t.right()+1 }

// depth returns the number of rows in use.
func depth(tags []tag) int {
	n := 0
	for _, t := range tags {
		n = max(n, t.row+1)
	}
	return n
}
