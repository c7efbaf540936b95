package main

import (
	"fmt"
	"io"
	"regexp"
	"strconv"
	"strings"

	"hotclimb/sweep/calibrate"
)

// mostFaults is how many faults of a log are printed; all are in faults.csv.
const mostFaults = 20

// faultsFile is the table of the faults of all logs, in the folder of --out.
const faultsFile = "faults.csv"

// warnings are what a reader must know of the records: what had to be supposed,
// what of their logs is not used, and that every line is accounted for.
func (s *recordSet) warnings() []warning {
	var list []warning
	for _, r := range s.records {
		for _, note := range r.Notes {
			list = append(list, warning{r.Name, note})
		}
		if r.Log == nil || len(r.Log.Faults) == 0 {
			continue
		}
		for i, f := range r.Log.Faults {
			if i == mostFaults {
				more := len(r.Log.Faults) - mostFaults
				list = append(list, warning{r.Name, fmt.Sprintf("%s: and %d more, see %s in the folder of correct --out", r.Log.Name, more, faultsFile)})
				break
			}
			list = append(list, warning{r.Name, fmt.Sprintf("%v (%s)", f, fate(f.Kind))})
		}
		list = append(list, warning{r.Name, r.Log.Name + ": " + accounted(r.Log)})
	}
	return list
}

// accounted says what became of every line of a log.
func accounted(l *calibrate.Log) string {
	c := l.Count
	return fmt.Sprintf("%d lines = %d above the first row + %d blank + %d rows; %d rows = %d used + %d skipped",
		c.Lines, c.Leading, c.Blank, c.Rows, c.Rows, c.Used, c.Skipped)
}

// fate says what becomes of what has a fault.
func fate(k calibrate.FaultKind) string {
	switch {
	case k.Skips():
		return "skipped"
	case k.Refuses():
		return "refused"
	}
	return "used"
}

// faultRow is a fault of the log of a test.
type faultRow struct {
	test string
	calibrate.Fault
}

var faultColumns = []column[faultRow]{
	{"test", func(r *faultRow) string { return r.test }},
	{"file", func(r *faultRow) string { return r.File }},
	{"first_line", func(r *faultRow) string { return strconv.Itoa(r.Line) }},
	{"last_line", func(r *faultRow) string { return strconv.Itoa(max(r.Line, r.Last)) }},
	{"rows", func(r *faultRow) string { return strconv.Itoa(r.Rows) }},
	{"column", func(r *faultRow) string { return r.Column }},
	{"kind", func(r *faultRow) string { return r.Kind.String() }},
	{"fate", func(r *faultRow) string { return fate(r.Kind) }},
	{"message", func(r *faultRow) string { return r.Message }},
}

// faults is the table of the faults of all logs.
func (s *recordSet) faults() outFile {
	return outFile{faultsFile, func(w io.Writer) error {
		var rows []faultRow
		for _, r := range s.records {
			if r.Log == nil {
				continue
			}
			for _, f := range r.Log.Faults {
				rows = append(rows, faultRow{r.Name, f})
			}
		}
		return writeTable(w, faultColumns, rows)
	}}
}

// offers says what the columns of logs may hold, in lines ready to copy.
func offers(list []unmapped) string {
	var b strings.Builder
	for i, u := range list {
		if i > 0 {
			b.WriteString("\n\n")
		}
		fmt.Fprintf(&b, "test %s: it is not said what the columns of %s hold", u.test.Name, u.file)
		guesses, others := u.guesses()
		if len(u.head.Header) == 0 {
			b.WriteString(", and it has no header: number them, as in \"coolant=#4 [degF]\"")
			continue
		}
		fmt.Fprintf(&b, ".\nIts headers (line %d): %s", u.head.Line, strings.Join(quotedAll(u.head.Header), ", "))
		if len(guesses) == 0 {
			b.WriteString("\nNone of them says what it holds.")
			continue
		}
		b.WriteString("\nIf these guesses are right, copy them into the test in the scenario:\n    columns:")
		for _, g := range guesses {
			fmt.Fprintf(&b, "\n      %s: %s", g.Quantity, inYAML(guessed(g)))
			if also := others[g.Quantity]; len(also) > 0 {
				fmt.Fprintf(&b, " # or %s", strings.Join(also, ", "))
			}
		}
		b.WriteString("\nor give them as flags:\n   ")
		for _, g := range guesses {
			b.WriteString(" --columns " + inShell(string(g.Quantity)+"="+guessed(g)))
		}
	}
	return b.String()
}

// short is the same in one line.
func (u *unmapped) short() string {
	var texts []string
	guesses, _ := u.guesses()
	for _, g := range guesses {
		texts = append(texts, fmt.Sprintf("%s: %s", g.Quantity, strconv.Quote(guessed(g))))
	}
	text := "headers: " + strings.Join(quotedAll(u.head.Header), ", ")
	if len(texts) > 0 {
		text += "; if the guesses are right: columns: {" + strings.Join(texts, ", ") + "}"
	}
	return text
}

// guesses are the best guess of each quantity, and the others.
func (u *unmapped) guesses() (best []calibrate.Guess, others map[calibrate.Quantity][]string) {
	others = map[calibrate.Quantity][]string{}
	for _, g := range calibrate.GuessColumns(u.head.Header, u.head.Units) {
		if n := len(best); n > 0 && best[n-1].Quantity == g.Quantity {
			others[g.Quantity] = append(others[g.Quantity], guessed(g))
			continue
		}
		best = append(best, g)
	}
	return best, others
}

// guessed is a guess as text; UNIT stands for one that the file does not say.
func guessed(g calibrate.Guess) string {
	if g.Column.Unit == "" && g.Quantity != calibrate.Time {
		g.Column.Unit = "UNIT"
	}
	return g.Column.String()
}

func quotedAll(texts []string) []string {
	quoted := make([]string, len(texts))
	for i, text := range texts {
		quoted[i] = strconv.Quote(text)
	}
	return quoted
}

var plainColumn = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9 _./()°\[\]-]*$`)

// inYAML is a column as a value in a YAML file.
func inYAML(text string) string {
	if plainColumn.MatchString(text) {
		return text
	}
	return strconv.Quote(text)
}

// inShell is a word of a command line.
func inShell(word string) string {
	if strings.ContainsAny(word, "\"$`\\!") {
		return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
	}
	return `"` + word + `"`
}
