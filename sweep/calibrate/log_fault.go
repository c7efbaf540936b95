package calibrate

import (
	"cmp"
	"fmt"
	"slices"
)

// FaultKind is what is wrong with a part of a record.
type FaultKind int

// The kinds of fault, by what becomes of the row or reading.
const (
	BadText  FaultKind = iota // NUL bytes, not UTF-8, an open quote, an endless line: row skipped
	BadShape                  // too few cells or too many, the header again, a comment: row skipped
	BadTime                   // no time, or one that does not rise: row skipped
	Unusable                  // no reading in the row is usable: row skipped

	NotNumber  // reading refused
	Missing    // empty cell: no reading
	OutOfRange // reading refused
	Spike      // reading refused
	Stuck      // reading refused

	Gap         // a long interval, rows used
	Jump        // an impossible change that stays, readings used
	Wrap        // the clock passed midnight or a full hour, rows used
	DoubtedUnit // the unit looks wrong, readings used
	OtherText   // the file is not UTF-8 and is read as Latin-1
)

var kindNames = [...]string{
	BadText: "bad_text", BadShape: "bad_shape", BadTime: "bad_time", Unusable: "unusable",
	NotNumber: "not_number", Missing: "missing", OutOfRange: "out_of_range", Spike: "spike", Stuck: "stuck",
	Gap: "gap", Jump: "jump", Wrap: "wrap", DoubtedUnit: "doubted_unit", OtherText: "other_text",
}

// String is the name of a kind.
func (k FaultKind) String() string { return kindNames[k] }

// Skips reports whether rows with this fault are skipped.
func (k FaultKind) Skips() bool { return k <= Unusable }

// Refuses reports whether readings with this fault are not used.
func (k FaultKind) Refuses() bool { return k > Unusable && k <= Stuck }

// Fault is one thing wrong with a record, in one row or in many that follow each
// other.
type Fault struct {
	File    string
	Line    int    // first line, from 1; 0 for the file as a whole
	Last    int    // last line
	Rows    int    // rows with the fault; fewer than the lines where faults are gathered
	Column  string // header of the column, "" for the row as a whole
	Kind    FaultKind
	Message string // what is wrong, in the first of the rows
}

// Error prints the fault as file: lines first-last: column: what is wrong.
func (f Fault) Error() string {
	text := f.Message
	if f.Column != "" {
		text = f.Column + ": " + text
	}
	switch {
	case f.Last > f.Line && f.Rows > 0 && f.Rows < f.Last-f.Line+1:
		text = fmt.Sprintf("lines %d-%d (%d of them): %s", f.Line, f.Last, f.Rows, text)
	case f.Last > f.Line:
		text = fmt.Sprintf("lines %d-%d: %s", f.Line, f.Last, text)
	case f.Line > 0:
		text = fmt.Sprintf("line %d: %s", f.Line, text)
	}
	if f.File != "" {
		text = f.File + ": " + text
	}
	return text
}

// mostFaults is how many faults of a kind in a column are told apart. Later ones
// are counted in the last, so that the list of a bad file stays short.
const mostFaults = 200

// faultList gathers the faults of a file.
type faultList struct {
	file string
	list []Fault
	open map[faultKey]openFault
}

type faultKey struct {
	kind   FaultKind
	column string
}

// openFault is the last fault of a kind in a column.
type openFault struct {
	index int // in the list
	row   int // its last row, by number
	count int // faults so far
}

// extend adds a row to the last fault of its kind when it follows that, or when
// there are too many already. It reports whether it did.
func (l *faultList) extend(kind FaultKind, column string, row, line int) bool {
	key := faultKey{kind, column}
	open, ok := l.open[key]
	if !ok || row != open.row+1 && open.count < mostFaults {
		return false
	}
	l.list[open.index].Last = max(l.list[open.index].Last, line)
	l.list[open.index].Rows++
	open.row = row
	l.open[key] = open
	return true
}

// add appends a fault whose last row has a number.
func (l *faultList) add(row int, f Fault) {
	f.File = l.file
	if l.open == nil {
		l.open = map[faultKey]openFault{}
	}
	key := faultKey{f.Kind, f.Column}
	open := l.open[key]
	if open.count >= mostFaults {
		l.list[open.index].Last = max(l.list[open.index].Last, f.Last)
		l.list[open.index].Rows += f.Rows
		return
	}
	l.list = append(l.list, f)
	l.open[key] = openFault{len(l.list) - 1, row, open.count + 1}
}

// sorted returns the faults by line.
func (l *faultList) sorted() []Fault {
	slices.SortStableFunc(l.list, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Last, b.Last))
	})
	return l.list
}
