package calibrate

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode/utf8"
)

// headLines is how many lines are looked at to find the headers and the signs.
const headLines = 200

// ErrDecimal says that LogSettings.Decimal is needed.
var ErrDecimal = errors.New("a comma in numbers could be the decimal sign or separate thousands; say which sign is the decimal one")

var delimiters = []byte{';', '\t', ',', '|'}

// dialect is how a file is written and where its columns stand.
type dialect struct {
	delimiter, decimal byte

	latin1 bool // the header is not UTF-8
	header int  // index of the header among the lines of the head, -1 for none
	units  int  // index of the row of units below it, -1 for none
	first  int  // index of the first row
	width  int  // cells of the header; 0 without one
	last   int  // the last column that is read
	index  [channels + 1]int
	titles [channels + 1]string // as in the file
	wants  [channels + 1]scale
	said   [channels + 1]string // the unit that the file itself says, "" for none
}

// headLine is a line near the start of a file.
type headLine struct {
	text   []byte
	number int
	long   bool
}

// readHead keeps the first lines.
func readHead(lines *lineReader) ([]headLine, error) {
	var head []headLine
	for len(head) < headLines {
		text, err := lines.next()
		if errors.Is(err, io.EOF) {
			return head, nil
		}
		if err != nil {
			return nil, err
		}
		head = append(head, headLine{bytes.Clone(text), lines.number, lines.long})
	}
	return head, nil
}

// findDialect finds the header by the texts that the map asks for.
func findDialect(head []headLine, columns ColumnMap, set LogSettings) (*dialect, error) {
	wants, err := columns.scales()
	if err != nil {
		return nil, err
	}
	tried := delimiters
	if set.Delimiter != 0 {
		tried = []byte{byte(set.Delimiter)}
	}
	most, lacks := -1, ""
	for _, delimiter := range tried {
		for i, line := range head {
			d := &dialect{delimiter: delimiter, header: i, units: -1, wants: wants}
			found, lack, err := d.place(line.text, columns)
			if err != nil {
				return nil, fmt.Errorf("line %d: %w", line.number, err)
			}
			if lack == "" {
				return d, d.finish(head, columns, set)
			}
			if found > most {
				most, lacks = found, fmt.Sprintf("; line %d lacks %s", line.number, lack)
			}
		}
	}
	switch {
	case len(head) == 0:
		return nil, fmt.Errorf("the file is empty")
	case most <= 0:
		lacks = ""
	}
	return nil, fmt.Errorf("none of the first %d lines has the headers of the columns%s", len(head), lacks)
}

// place looks for the columns in a line. lack names what it does not have, ""
// when it has all; found counts what it has.
func (d *dialect) place(line []byte, columns ColumnMap) (found int, lack string, err error) {
	cells, err := cutCells(line, d.delimiter, nil)
	if err != nil {
		return 0, "cells", nil
	}
	cells = withoutEmpty(cells)
	d.latin1 = !utf8.Valid(line)
	d.width, d.last = len(cells), 0
	names := false
	var lacks []string
	for k := range d.index {
		d.index[k] = -1
	}
	for _, q := range Quantities() {
		c, ok := columns[q]
		if !ok {
			continue
		}
		at, named, err := findHeader(cells, c.Header)
		if err != nil {
			return 0, "", err
		}
		names = names || named
		if at < 0 {
			lacks = append(lacks, strconv.Quote(c.Header))
			continue
		}
		found++
		k := slotOf(q)
		d.index[k], d.titles[k], d.last = at, c.Header, max(d.last, at)
	}
	if len(lacks) == 0 && !names {
		return found, d.asRow(cells), nil
	}
	return found, strings.Join(lacks, ", "), nil
}

// asRow says what a line lacks to be the first row of a file that has no header
// or whose header is not used: nothing, or a time.
func (d *dialect) asRow(cells [][]byte) string {
	for _, decimal := range []byte{'.', ','} {
		if _, err := readMoment(cells[d.index[clock]], decimal, d.wants[clock]); err == nil {
			d.header, d.width = -1, 0
			return ""
		}
	}
	return "a time"
}

// findHeader finds a column by its header or by its number, as in #4; named says
// that it was the header.
func findHeader(cells [][]byte, header string) (at int, named bool, err error) {
	header = strings.TrimSpace(header)
	if digits, ok := strings.CutPrefix(header, "#"); ok {
		if n, err := strconv.Atoi(digits); err == nil && n > 0 {
			if n > len(cells) {
				return -1, false, nil
			}
			return n - 1, false, nil
		}
	}
	at = -1
	for i, cell := range cells {
		if !strings.EqualFold(textOf(cell), header) {
			continue
		}
		if at >= 0 {
			return -1, true, fmt.Errorf("columns %d and %d are both %q; write #%d or #%d", at+1, i+1, header, at+1, i+1)
		}
		at = i
	}
	return at, true, nil
}

// textOf is a cell as a text; bytes that are not UTF-8 are read as Latin-1.
func textOf(cell []byte) string {
	if utf8.Valid(cell) {
		return strings.TrimSpace(string(cell))
	}
	var b strings.Builder
	for _, c := range cell {
		b.WriteRune(rune(c))
	}
	return strings.TrimSpace(b.String())
}

// finish finds the row of units, the first row and the decimal sign.
func (d *dialect) finish(head []headLine, columns ColumnMap, set LogSettings) error {
	d.first = d.header + 1
	if d.header < 0 {
		d.first = d.firstRow(head, columns)
	} else {
		header, _ := cutCells(head[d.header].text, d.delimiter, nil)
		d.findUnits(head)
		var units [][]byte
		if d.units >= 0 {
			units, _ = cutCells(head[d.units].text, d.delimiter, nil)
			d.latin1 = d.latin1 || !utf8.Valid(head[d.units].text)
			d.first = d.units + 1
		}
		for _, q := range Quantities() {
			k := slotOf(q)
			if at := d.index[k]; at >= 0 {
				d.said[k] = seenUnit(textOf(header[at]), textAt(units, at), q)
			}
		}
	}
	var err error
	d.decimal = byte(set.Decimal)
	if d.decimal == 0 {
		d.decimal, err = d.findDecimal(head)
	}
	return err
}

// firstRow is the first line with a time, in a file without a header.
func (d *dialect) firstRow(head []headLine, columns ColumnMap) int {
	for i, line := range head {
		again := *d
		if _, lack, err := again.place(line.text, columns); err == nil && lack == "" {
			return i
		}
	}
	return len(head)
}

// findUnits finds a row of units: the first line with text below the header, if
// it has no number where columns are read and a unit in one of them at least.
func (d *dialect) findUnits(head []headLine) {
	for i := d.header + 1; i < len(head); i++ {
		cells, err := cutCells(head[i].text, d.delimiter, nil)
		if err != nil {
			return
		}
		if len(withoutEmpty(cells)) == 0 {
			continue
		}
		units := false
		for _, q := range Quantities() {
			k := slotOf(q)
			if at := d.index[k]; at >= 0 && at < len(cells) {
				if looksNumber(cells[at]) {
					return
				}
				units = units || knownUnit(textOf(cells[at]), q) != ""
			}
		}
		if units {
			d.units = i
		}
		return
	}
}

func textAt(cells [][]byte, at int) string {
	if at >= len(cells) {
		return ""
	}
	return textOf(cells[at])
}

// findDecimal counts decimal points and commas in the columns that are read. A
// comma before three digits could separate thousands and decides nothing.
func (d *dialect) findDecimal(head []headLine) (byte, error) {
	points, commas, unclear := 0, 0, 0
	for _, line := range head[min(d.first, len(head)):] {
		cells, err := cutCells(line.text, d.delimiter, nil)
		if err != nil {
			continue
		}
		for _, at := range d.index {
			if at < 0 || at >= len(cells) || !looksNumber(cells[at]) {
				continue
			}
			switch cell := cells[at]; {
			case bytes.IndexByte(cell, '.') >= 0:
				points++
			case thousands(cell):
				unclear++
			case bytes.IndexByte(cell, ',') >= 0:
				commas++
			}
		}
	}
	switch {
	case commas > points:
		return ',', nil
	case points == 0 && unclear > 0:
		return 0, ErrDecimal
	}
	return '.', nil
}

// thousands reports whether a cell is of the form 1,234, which may be a number
// above a thousand or one with three decimals.
func thousands(cell []byte) bool {
	cell = bytes.TrimLeft(cell, "+-")
	whole, rest, ok := bytes.Cut(cell, []byte{','})
	_, digits := readDigits(rest)
	_, before := readDigits(whole)
	return ok && digits && before && len(rest) == 3 && len(whole) <= 3 && whole[0] != '0'
}
