package calibrate

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

var errQuote = errors.New("a quote is open or ends inside its cell")

// cutCells appends the cells of a line to cells, without spaces around them and
// without quotes. A quoted cell may hold the delimiter, and a quote written
// twice. Quotes do not reach over the end of a line.
func cutCells(line []byte, delimiter byte, cells [][]byte) ([][]byte, error) {
	for {
		rest := bytes.TrimLeft(line, " ")
		if len(rest) > 0 && rest[0] == '"' {
			cell, behind, ok := cutQuoted(rest[1:])
			behind = bytes.TrimLeft(behind, " ")
			if !ok || len(behind) > 0 && behind[0] != delimiter {
				return cells, errQuote
			}
			cells = append(cells, bytes.TrimSpace(cell))
			if len(behind) == 0 {
				return cells, nil
			}
			line = behind[1:]
			continue
		}
		end := bytes.IndexByte(line, delimiter)
		if end < 0 {
			return append(cells, bytes.TrimSpace(line)), nil
		}
		cells = append(cells, bytes.TrimSpace(line[:end]))
		line = line[end+1:]
	}
}

// cutQuoted cuts text at its closing quote.
func cutQuoted(text []byte) (cell, behind []byte, ok bool) {
	doubled := false
	for i := 0; i < len(text); i++ {
		if text[i] != '"' {
			continue
		}
		if i+1 < len(text) && text[i+1] == '"' {
			doubled = true
			i++
			continue
		}
		cell = text[:i]
		if doubled {
			cell = bytes.ReplaceAll(cell, []byte(`""`), []byte(`"`))
		}
		return cell, text[i+1:], true
	}
	return nil, nil, false
}

// withoutEmpty drops empty cells at the end.
func withoutEmpty(cells [][]byte) [][]byte {
	for len(cells) > 0 && len(cells[len(cells)-1]) == 0 {
		cells = cells[:len(cells)-1]
	}
	return cells
}

// nothing reports whether a cell says that there is no reading.
func nothing(cell []byte) bool {
	switch string(cell) {
	case "", "-", "--", "---", "----", "nan", "NaN", "NAN", "null", "NULL", "n/a", "N/A", "na", "NA":
		return true
	}
	return false
}

// readNumber reads a finite number with that decimal sign.
func readNumber(cell []byte, decimal byte) (float64, error) {
	var scratch [40]byte
	if len(cell) > len(scratch) {
		return 0, fmt.Errorf("%.20q... is not a number", cell)
	}
	text := scratch[:copy(scratch[:], cell)]
	for i, c := range text {
		switch {
		case c == decimal:
			text[i] = '.'
		case c == '.' || c == ',':
			return 0, fmt.Errorf("%q has a %s, and the decimal sign is a %s", cell, signName(c), signName(decimal))
		case !('0' <= c && c <= '9' || c == '+' || c == '-' || c == 'e' || c == 'E'):
			return 0, fmt.Errorf("%q is not a number", cell)
		}
	}
	x, err := strconv.ParseFloat(string(text), 64)
	if err != nil || !finite(x) {
		return 0, fmt.Errorf("%q is not a number", cell)
	}
	return x, nil
}

// looksNumber reports whether a cell is a number with either decimal sign.
func looksNumber(cell []byte) bool {
	if _, err := readNumber(cell, '.'); err == nil {
		return true
	}
	_, err := readNumber(cell, ',')
	return err == nil
}

func signName(c byte) string {
	if c == ',' {
		return "comma"
	}
	return "point"
}
