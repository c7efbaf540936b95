package calibrate

import (
	"cmp"
	"io"
	"slices"
	"strings"
	"unicode"
)

// Guess is a column that may hold a quantity, to be offered and not to be used
// unasked.
type Guess struct {
	Quantity Quantity
	Index    int    // of the column, from 0
	Column   Column // its Unit is "" where the file says none that is known
	Why      string // the word of the header that it is guessed by
}

// words are what headers call a quantity, the surest first. All words of an entry
// must be there.
var words = []struct {
	q     Quantity
	words []string
	not   []string // words that mean something else
}{
	{Time, []string{"elapsed", "time", "clock", "utc", "seconds"}, []string{"zone", "offset", "remaining", "engine", "tach"}},
	{Altitude, []string{"pressure altitude", "pressure alt", "press alt", "palt", "altp", "altitude", "alt"},
		[]string{"gps", "gnss", "density", "selected", "agl", "geometric", "target", "bug"}},
	{Speed, []string{"ias", "kias", "indicated airspeed", "cas", "kcas", "airspeed", "speed"},
		[]string{"ground", "gps", "true", "vertical", "wind", "engine", "prop", "selected"}},
	{Outside, []string{"oat", "outside air", "outside", "ambient"}, []string{"pressure", "humidity"}},
	{Power, []string{"brake power", "bhp", "power", "hp", "kw"}, []string{"%", "percent", "supply", "volt", "lever"}},
	{Coolant, []string{"coolant", "water temp", "clt", "h2o temp", "water"}, []string{"pressure", "press", "psi", "level", "flow", "spray"}},
	{Oil, []string{"oil temp", "oil t", "oil temperature", "oiltemp", "oilt", "oil"}, []string{"pressure", "press", "psi", "level", "bar"}},
	{RPM, []string{"engine rpm", "rpm", "revs"}, []string{"prop", "fan"}},
	{Spray, []string{"spray flow", "spray", "water flow"}, []string{"pressure", "level"}},
}

// GuessColumns offers columns by the words of their headers, with the units that
// the headers or the row of units say. The best guess of a quantity comes first,
// by quantity in the order of Quantities. units may be nil.
func GuessColumns(header, units []string) []Guess {
	var all []Guess
	for _, w := range words {
		type ranked struct {
			Guess
			rank int
		}
		var found []ranked
		for i, title := range header {
			below := ""
			if i < len(units) {
				below = units[i]
			}
			if rank := match(title+" "+below, title, w.words, w.not); rank >= 0 {
				column := Column{strings.TrimSpace(title), seenUnit(title, below, w.q)}
				found = append(found, ranked{Guess{w.q, i, column, w.words[rank]}, rank})
			}
		}
		slices.SortStableFunc(found, func(a, b ranked) int { return cmp.Compare(a.rank, b.rank) })
		for _, f := range found {
			all = append(all, f.Guess)
		}
	}
	return all
}

// match is the number of the first of the texts that a title has as whole words;
// -1 when it has none, or a word that the whole must not have.
func match(whole, title string, texts, not []string) int {
	has := " " + strings.Join(headerWords(title), " ") + " "
	all := " " + strings.Join(headerWords(whole), " ") + " "
	for _, word := range not {
		if strings.Contains(all, " "+word+" ") {
			return -1
		}
	}
	return slices.IndexFunc(texts, func(text string) bool { return strings.Contains(has, " "+text+" ") })
}

// headerWords cuts a header into lower-case words. A capital after a small letter
// begins a word.
func headerWords(text string) []string {
	var b strings.Builder
	small := false
	for _, r := range text {
		switch {
		case r == '%':
			b.WriteString(" % ")
		case !unicode.IsLetter(r) && !unicode.IsDigit(r):
			b.WriteByte(' ')
		default:
			if small && unicode.IsUpper(r) {
				b.WriteByte(' ')
			}
			b.WriteRune(unicode.ToLower(r))
		}
		small = unicode.IsLower(r)
	}
	return strings.Fields(b.String())
}

// usualNames are ways to write a unit in a header, in lower case, beside those
// that scenarios.Parse reads.
var usualNames = map[string]string{
	"f": "degF", "deg f": "degF", "deg. f": "degF", "° f": "degF", "fahrenheit": "degF", "ºf": "degF",
	"c": "degC", "deg c": "degC", "deg. c": "degC", "° c": "degC", "celsius": "degC", "ºc": "degC",
	"degf": "degF", "degc": "degC", "°f": "degF", "°c": "degC", "k": "K",
	"feet": "ft", "metres": "m", "meters": "m", "msl": "", "kias": "kt", "knots": "kt", "kts": "kt", "mph": "mph",
	"kmh": "km/h", "kph": "km/h", "m/s": "m/s", "bhp": "hp", "hp": "hp", "kw": "kW", "w": "W", "ps": "PS", "rev/min": "rpm", "1/min": "rpm", "rpm": "rpm",
	"sec": "s", "secs": "s", "seconds": "s", "minutes": "min", "mins": "min", "hours": "h", "hrs": "h",
	"lpm": "L/min", "l/min": "L/min", "gpm": "gal/min", "gph": "gal/h", "lph": "L/h", "l/h": "L/h",
}

// knownUnit is a unit of a quantity as scenarios.Parse reads it, "" when text is
// none.
func knownUnit(text string, q Quantity) string {
	text = strings.Trim(strings.TrimSpace(text), "()[]")
	name, usual := usualNames[strings.ToLower(text)]
	if !usual {
		name = text
	}
	if name == "" || strings.ContainsAny(name[:1], "0123456789.+-") {
		return ""
	}
	if _, err := scaleOf(name, q.Dimension()); err != nil {
		return ""
	}
	return name
}

// seenUnit is the unit in the row of units, or else in brackets in the header, or
// else the last word of the header, which may be all of it.
func seenUnit(title, below string, q Quantity) string {
	if unit := knownUnit(below, q); unit != "" {
		return unit
	}
	if open := strings.LastIndexAny(title, "(["); open >= 0 {
		inside := title[open+1:]
		if end := strings.IndexAny(inside, ")]"); end >= 0 {
			inside = inside[:end]
		}
		return knownUnit(inside, q)
	}
	for _, gap := range []string{", ", "_", " ", "-"} {
		if at := strings.LastIndex(title, gap); at >= 0 {
			if unit := knownUnit(title[at+len(gap):], q); unit != "" {
				return unit
			}
		}
	}
	if len(title) < 2 { // a letter alone is a name
		return ""
	}
	return knownUnit(title, q)
}

// LogHead is the top of a record, for GuessColumns and for people to choose from.
type LogHead struct {
	Line      int // of the header, from 1; 0 when none is found
	Delimiter rune
	Header    []string
	Units     []string // the row of units below the header; nil when there is none
}

// ReadLogHead finds the header of a record without knowing its columns: the line
// with most cells, two at least, that has no number and no time in it and has a
// row with numbers and no more cells within two lines below it. What stands
// between, or the line itself, is the row of units.
func ReadLogHead(r io.Reader) (LogHead, error) {
	lines, err := newLineReader(r)
	if err != nil {
		return LogHead{}, err
	}
	head, err := readHead(lines)
	if err != nil {
		return LogHead{}, err
	}
	best := LogHead{}
	for _, delimiter := range delimiters {
		rows := make([][][]byte, 0, len(head))
		var numbers []int
		for _, line := range head {
			cells, err := cutCells(line.text, delimiter, nil)
			if cells = withoutEmpty(cells); err != nil || len(cells) == 0 {
				continue
			}
			rows = append(rows, cells)
			numbers = append(numbers, line.number)
		}
		for i := range rows {
			if n := headOf(rows[i:]); n > 0 && len(rows[i]) > len(best.Header) {
				best = LogHead{Line: numbers[i], Delimiter: rune(delimiter), Header: texts(rows[i])}
				if n == 2 {
					best.Units = texts(rows[i+1])
				}
			}
		}
	}
	return best, nil
}

// headOf returns how many rows the head takes that begins with the first: 2 with a
// row of units, 0 when it is no head.
func headOf(rows [][][]byte) int {
	width := len(rows[0])
	if width < 2 || valued(rows[0]) {
		return 0
	}
	for n := 1; n <= 2 && n < len(rows); n++ {
		if len(rows[n]) > width {
			return 0
		}
		if valued(rows[n]) {
			return n
		}
	}
	return 0
}

// valued reports whether a cell of a row is a number or a time.
func valued(cells [][]byte) bool {
	return slices.ContainsFunc(cells, func(cell []byte) bool {
		if looksNumber(cell) {
			return true
		}
		_, err := readMoment(cell, '.', scale{0, 1})
		return err == nil
	})
}

func texts(cells [][]byte) []string {
	all := make([]string, len(cells))
	for i, cell := range cells {
		all[i] = textOf(cell)
	}
	return all
}
