package main

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"

	"hotclimb/sweep"
)

// taker takes the cells of one row; they are overwritten after it returns.
type taker func(cells []string) error

// printSwept writes what a sweep came to to standard output. pass hands over
// all rows, in order.
func (p *program) printSwept(s *swept, format string, pass func(taker) error) error {
	out := &output{w: bufio.NewWriter(p.out)}
	var err error
	switch format {
	case "csv":
		err = s.writeCSV(out, pass)
	case "json":
		err = s.writeJSON(out, pass)
	default:
		t := newTally(s)
		if err = pass(t.take); err == nil {
			err = t.writeText(out, p.out)
		}
	}
	if out.err == nil && err == nil {
		out.flush()
	}
	if out.err != nil {
		return fmt.Errorf("cannot write the result: %w", reason(out.err))
	}
	return err
}

// output is a buffered stream that remembers its error, so that it can be told
// from others.
type output struct {
	w   *bufio.Writer
	err error
}

func (o *output) Write(b []byte) (int, error) {
	n, err := o.w.Write(b)
	if err != nil {
		o.err = err
	}
	return n, err
}

func (o *output) flush() { o.err = o.w.Flush() }

// writeCSV writes the rows as a table.
func (s *swept) writeCSV(w io.Writer, pass func(taker) error) error {
	out := csv.NewWriter(w)
	if err := out.Write(sweep.Names(s.manifest.Columns())); err != nil {
		return err
	}
	err := pass(func(cells []string) error {
		err := out.Write(cells)
		out.Flush()
		return err
	})
	if err != nil {
		return err
	}
	out.Flush()
	return out.Error()
}

// writeJSON writes one object: what was swept, and the rows under the names of
// the columns.
func (s *swept) writeJSON(w io.Writer, pass func(taker) error) error {
	head, err := indented(s.manifest)
	if err != nil {
		return err
	}
	head = bytes.TrimSuffix(head, []byte("\n}\n"))
	if _, err := fmt.Fprintf(w, "%s,\n  \"rows\": [", head); err != nil {
		return err
	}
	columns, separator := s.manifest.Columns(), "\n"
	err = pass(func(cells []string) error {
		_, err := fmt.Fprintf(w, "%s    {%s}", separator, jsonRow(columns, cells))
		separator = ",\n"
		return err
	})
	if err != nil {
		return err
	}
	_, err = io.WriteString(w, "\n  ]\n}\n")
	return err
}

// jsonRow is a row as the inside of a JSON object.
func jsonRow(columns []sweep.Column, cells []string) []byte {
	var b bytes.Buffer
	for i, c := range columns {
		if i > 0 {
			b.WriteString(", ")
		}
		b.Write(jsonText(c.Name))
		b.WriteString(": ")
		switch {
		case c.Kind == sweep.Text:
			b.Write(jsonText(cells[i]))
		case cells[i] == "":
			b.WriteString("null")
		default:
			b.WriteString(cells[i])
		}
	}
	return b.Bytes()
}

// jsonText is a text in JSON, its letters as they are.
func jsonText(text string) []byte {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	_ = e.Encode(text) // any text has a JSON form
	return bytes.TrimRight(b.Bytes(), "\n")
}
