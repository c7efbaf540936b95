package calibrate

import (
	"fmt"
	"math"
	"slices"
	"time"
)

// Column is where a quantity stands in a record.
type Column struct {
	// Header is the text above the column, as the file has it but for the case of
	// letters and spaces at its ends. #4 stands for the fourth column, which serves
	// when two columns have the same text or the file has none.
	Header string
	// Unit is that of the numbers below, one that scenarios.Parse reads. Time may
	// have none: clock times and dates say their own, and bare numbers are seconds.
	Unit string
}

// ColumnMap says which column of a record holds what. Time is needed, and one more.
type ColumnMap map[Quantity]Column

// LogSettings says how to read a record. The zero value works.
type LogSettings struct {
	Delimiter rune // between cells: , ; | or tab; 0 means the one that finds the headers
	// Decimal is the decimal sign, a point or a comma; 0 means the one that most of
	// the first 200 lines use. Where it could as well separate thousands, reading
	// ends with an error that asks for it.
	Decimal rune
	// Gap is the length of an interval, in usual ones, that is reported; 0 means 5.
	Gap float64
	// Spike is how long [s] a reading may stay where it cannot have got to and still
	// count as a spike, not as a jump; 0 means 10.
	Spike float64
	// Rest is how long [s] a temperature may stay exactly the same while others
	// move; 0 means 60. See judgeStuck.
	Rest float64
}

// orDefaults returns the settings with their defaults put in.
func (s LogSettings) orDefaults() LogSettings {
	s.Gap = orDefault(s.Gap, 5)
	s.Spike = orDefault(s.Spike, 10)
	s.Rest = orDefault(s.Rest, 60)
	return s
}

// check returns what is wrong with the settings.
func (s LogSettings) check() error {
	switch {
	case !slices.Contains([]rune{0, ',', ';', '|', '\t'}, s.Delimiter):
		return fmt.Errorf("%q is not between cells; a comma, a semicolon, | or a tab may be", s.Delimiter)
	case !slices.Contains([]rune{0, '.', ','}, s.Decimal):
		return fmt.Errorf("%q is no decimal sign; a point or a comma is", s.Decimal)
	case !(s.Gap >= 0 && s.Spike >= 0 && s.Rest >= 0):
		return fmt.Errorf("a gap, a spike or a rest is negative")
	}
	return nil
}

// Log is the record of an engine monitor: the chosen columns in SI, with
// temperatures in °C. A row is an instant; not every quantity need have a
// reading there. It keeps 12 bytes for a row and 4 for each quantity in it.
type Log struct {
	Name    string    // of the file
	Start   time.Time // of the first row, where the file has dates; zero otherwise
	Columns ColumnMap
	Count   LogCount
	Faults  []Fault // everything that was refused or is doubtful, by line

	times  []float64            // since the first row [s], rising
	lines  []uint32             // of the file, from 1
	values [channels][]float32  // NaN where there is no reading; nil where there is no column
	titles [channels + 1]string // headers, for messages; time is the last
	set    LogSettings
}

// LogCount accounts for every line of a file:
//
//	Lines = Leading + Blank + Rows,  Rows = Used + Skipped
type LogCount struct {
	Lines   int // of the file
	Leading int // before the first row: comments, the header, the units below it
	Blank   int // empty lines behind the header
	Rows    int // read: all other lines
	Used    int // rows with a time and a reading
	Skipped int // rows with neither, each in Faults
}

// Len returns the number of rows used.
func (l *Log) Len() int { return len(l.times) }

// Time returns the time [s] of row i since the first row of the file that has one.
func (l *Log) Time(i int) float64 { return l.times[i] }

// Line returns the line of the file that row i stood in, from 1.
func (l *Log) Line(i int) int { return int(l.lines[i]) }

// Has reports whether the record has a column of q.
func (l *Log) Has(q Quantity) bool {
	k := channelOf(q)
	return k >= 0 && l.values[k] != nil
}

// Value returns the reading of q in row i, in SI with temperatures in °C, and
// whether there is one. Readings are kept to seven digits.
func (l *Log) Value(q Quantity, i int) (float64, bool) {
	k := channelOf(q)
	if k < 0 {
		return 0, false
	}
	return l.value(k, i)
}

// value is Value by number of the channel.
func (l *Log) value(k, i int) (float64, bool) {
	if l.values[k] == nil {
		return 0, false
	}
	return l.at(k, i)
}

// at is Value by number of the channel, which has a column.
func (l *Log) at(k, i int) (float64, bool) {
	v := float64(l.values[k][i])
	if math.IsNaN(v) {
		return 0, false
	}
	return v, true
}

// Refused returns how many readings of q the rows used lack: empty cells and
// those that a fault says are refused.
func (l *Log) Refused(q Quantity) int {
	k := channelOf(q)
	if k < 0 {
		return 0
	}
	n := 0
	for _, v := range l.values[k] {
		if v != v {
			n++
		}
	}
	return n
}

// usual is the median of the intervals between rows [s], of 4096 of them where
// there are more; 0 with fewer than two rows.
func (l *Log) usual() float64 {
	n := l.Len() - 1
	if n < 1 {
		return 0
	}
	step := 1 + (n-1)/4096
	var intervals []float64
	for i := 0; i < n; i += step {
		intervals = append(intervals, l.times[i+1]-l.times[i])
	}
	slices.Sort(intervals)
	return intervals[len(intervals)/2]
}
