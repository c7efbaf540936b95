package calibrate

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"slices"
	"unicode/utf8"
)

// ReadLog reads the record of an engine monitor: comma-separated values, or
// values separated by semicolons, tabs or |, with a decimal point or comma; lines
// may end in LF, CR LF or CR. Comments may stand above the header and a row of
// units below it. name is for messages.
//
// Rows and readings that cannot be used are skipped by rules, and each is told in
// Log.Faults; see FaultKind. Log.Count accounts for every line. An error means
// that there is no record: the columns are not found, the file is not text, no
// row is usable, or r fails.
//
// The file is read once. Besides the record (see Log) memory does not grow.
func ReadLog(r io.Reader, name string, columns ColumnMap, set LogSettings) (*Log, error) {
	l, err := readLog(r, name, columns, set)
	if err != nil {
		if name != "" {
			err = fmt.Errorf("%s: %w", name, err)
		}
		return nil, err
	}
	return l, nil
}

func readLog(r io.Reader, name string, columns ColumnMap, set LogSettings) (*Log, error) {
	if err := errors.Join(columns.check(), set.check()); err != nil {
		return nil, err
	}
	set = set.orDefaults()
	lines, err := newLineReader(r)
	if err != nil {
		return nil, err
	}
	head, err := readHead(lines)
	if err != nil {
		return nil, err
	}
	d, err := findDialect(head, columns, set)
	if err != nil {
		return nil, err
	}
	g := newLogReader(name, columns, set, d)
	if d.header >= 0 {
		g.again = head[d.header].text
	}
	for _, line := range head[min(d.first, len(head)):] {
		g.row(line.text, line.number, line.long)
	}
	for {
		text, err := lines.next()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, fmt.Errorf("after line %d: %w", lines.number, err)
		}
		g.row(text, lines.number, lines.long)
	}
	g.log.Count.Leading = min(d.first, len(head))
	g.log.Count.Lines = lines.number
	return g.finish(head)
}

// logReader turns rows into a record.
type logReader struct {
	*dialect
	log    *Log
	faults faultList
	line   timeline
	cells  [][]byte
	again  []byte // the text of the header, to know it again
	sample [channels]sampler
}

func newLogReader(name string, columns ColumnMap, set LogSettings, d *dialect) *logReader {
	l := &Log{Name: name, Columns: columns, titles: d.titles, set: set}
	for k := range channels {
		if d.index[k] >= 0 {
			l.values[k] = []float32{}
		}
	}
	return &logReader{dialect: d, log: l, faults: faultList{file: name}}
}

// row reads one line behind the header.
func (g *logReader) row(text []byte, line int, long bool) {
	if len(bytes.TrimSpace(text)) == 0 && !long {
		g.log.Count.Blank++
		return
	}
	g.log.Count.Rows++
	kind, message := g.shape(text, long)
	if message != "" {
		g.skip(kind, "", line, message)
		return
	}
	t, ok := g.time(line)
	if !ok {
		return
	}
	g.log.times = append(g.log.times, t)
	g.log.lines = append(g.log.lines, uint32(line))
	for k, at := range g.index[:channels] {
		if at >= 0 {
			g.log.values[k] = append(g.log.values[k], g.reading(k, g.cells[at], line))
		}
	}
}

// skip tells why a row is skipped.
func (g *logReader) skip(kind FaultKind, column string, line int, message string) {
	g.log.Count.Skipped++
	g.tell(kind, column, line, message)
}

// tell tells a fault of one row.
func (g *logReader) tell(kind FaultKind, column string, line int, message string) {
	row := g.log.Count.Rows
	if !g.faults.extend(kind, column, row, line) {
		g.faults.add(row, Fault{Line: line, Last: line, Rows: 1, Column: column, Kind: kind, Message: message})
	}
}

// shape cuts a row into cells and says what is wrong with it as a whole.
func (g *logReader) shape(text []byte, long bool) (kind FaultKind, message string) {
	switch {
	case long:
		return BadText, fmt.Sprintf("the line is longer than %d bytes", longestLine)
	case bytes.IndexByte(text, 0) >= 0:
		return BadText, "NUL bytes"
	case !g.latin1 && !utf8.Valid(text):
		return BadText, "not UTF-8"
	case text[0] == '#' || bytes.HasPrefix(text, []byte("//")):
		return BadShape, "a comment"
	case g.again != nil && bytes.Equal(text, g.again):
		return BadShape, "the header again"
	}
	var err error
	if g.cells, err = cutCells(text, g.delimiter, g.cells[:0]); err != nil {
		return BadText, err.Error()
	}
	n := len(g.cells)
	switch {
	case n <= g.last, n < g.width && n == g.last+1:
		return BadShape, fmt.Sprintf("%d cells are too few", n)
	case g.width > 0 && len(withoutEmpty(g.cells)) > g.width:
		return BadShape, fmt.Sprintf("%d cells, and the header has %d", n, g.width)
	}
	return 0, ""
}

// time reads the time of a row, which must be later than that of the row before.
// Where the row before had run further ahead of its own forerunner than Gap times
// the way to this one, that row is skipped in place of this.
func (g *logReader) time(line int) (float64, bool) {
	column := g.titles[clock]
	m, err := readMoment(g.cells[g.index[clock]], g.decimal, g.wants[clock])
	if err != nil {
		g.skip(BadTime, column, line, err.Error())
		return 0, false
	}
	last := 0.0
	if n := g.log.Len(); n > 0 {
		last = g.log.times[n-1]
	}
	t, wraps, err := g.line.since(m, last)
	switch {
	case err != nil:
		g.skip(BadTime, column, line, err.Error())
		return 0, false
	case wraps:
		g.tell(Wrap, column, line, "the clock starts again")
	}
	n := g.log.Len()
	if n > 0 && t <= last && n > 1 && t > g.log.times[n-2] && last-g.log.times[n-2] > g.log.set.Gap*(t-g.log.times[n-2]) {
		g.skip(BadTime, column, g.log.Line(n-1), fmt.Sprintf("the time runs ahead of the next row by %.4g s", last-t))
		g.log.cut(n - 1)
		n--
		last = g.log.times[n-1]
	}
	switch {
	case n > 0 && t == last:
		g.skip(BadTime, column, line, "the time stands still")
		return 0, false
	case n > 0 && t < last:
		g.skip(BadTime, column, line, fmt.Sprintf("the time goes backwards by %.4g s", last-t))
		return 0, false
	}
	return t, true
}

// reading reads a cell of a channel.
func (g *logReader) reading(k int, cell []byte, line int) float32 {
	if nothing(cell) {
		g.tell(Missing, g.titles[k], line, "no reading")
		return missing
	}
	x, err := readNumber(cell, g.decimal)
	if err != nil {
		g.tell(NotNumber, g.titles[k], line, err.Error())
		return missing
	}
	c := &sensors[k]
	v := g.wants[k].of(x)
	g.sample[k].add(v)
	if !(v >= c.least && v <= c.most) {
		unit := g.log.Columns[c.quantity].Unit
		g.tell(OutOfRange, g.titles[k], line, fmt.Sprintf("%s %s is outside %s to %s", cell, unit,
			g.format(k, c.least), g.format(k, c.most)))
		return missing
	}
	return float32(v)
}

// finish judges the readings beside each other.
func (g *logReader) finish(head []headLine) (*Log, error) {
	l := g.log
	if g.latin1 {
		line := head[max(0, g.header)].number
		g.faults.add(0, Fault{Line: line, Last: line,
			Kind: OtherText, Message: "the head is not UTF-8; the file is read as Latin-1"})
	}
	if g.line.begun && g.line.first.shape == dateTime {
		l.Start = g.line.first.date
	}
	g.judgeUnits()
	g.judgeSpikes()
	g.judgeStuck()
	g.dropUnusable()
	g.judgeGaps()
	l.Count.Used = l.Len()
	l.Faults = g.faults.sorted()
	if l.Len() == 0 {
		return nil, fmt.Errorf("no row is usable%s", firstFault(l.Faults))
	}
	l.times, l.lines = slices.Clip(l.times), slices.Clip(l.lines)
	return l, nil
}

func firstFault(faults []Fault) string {
	for _, f := range faults {
		if f.Kind.Skips() || f.Kind.Refuses() {
			f.File = ""
			return ", for example " + f.Error()
		}
	}
	return ""
}

// dropUnusable skips rows that have no reading left.
func (g *logReader) dropUnusable() {
	l, kept := g.log, 0
	for i := range l.times {
		usable := false
		for k := range channels {
			usable = usable || l.values[k] != nil && l.values[k][i] == l.values[k][i]
		}
		if !usable {
			l.Count.Skipped++
			line := l.Line(i)
			if !g.faults.extend(Unusable, "", i, line) {
				g.faults.add(i, Fault{Line: line, Last: line, Rows: 1, Kind: Unusable, Message: "no reading is usable"})
			}
			continue
		}
		l.times[kept], l.lines[kept] = l.times[i], l.lines[i]
		for k := range channels {
			if l.values[k] != nil {
				l.values[k][kept] = l.values[k][i]
			}
		}
		kept++
	}
	l.cut(kept)
}

// cut drops all rows from i on.
func (l *Log) cut(i int) {
	l.times, l.lines = l.times[:i], l.lines[:i]
	for k := range channels {
		if l.values[k] != nil {
			l.values[k] = l.values[k][:i]
		}
	}
}
