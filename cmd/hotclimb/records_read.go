package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"hotclimb/scenarios"
	"hotclimb/sweep/calibrate"
)

// logReader reads the records of flights and gathers what is wrong with them.
type logReader struct {
	ctx      context.Context
	scenario *scenarios.Scenario
	settings []scenarios.Setting
	decimal  rune

	faults   scenarios.Faults
	unmapped []unmapped // each with a fault too
	stopped  error
}

// unmapped is a log of which nobody said what its columns hold.
type unmapped struct {
	test *scenarios.Test
	file string
	head calibrate.LogHead
}

// record reads the record of a test; nil when something is wrong.
func (r *logReader) record(t *scenarios.Test) *calibrate.Record {
	flown, err := r.scenario.AsFlown(t, r.settings)
	if err != nil {
		r.faults = addFaults(r.faults, err)
		return nil
	}
	var log *calibrate.Log
	if t.Log != "" {
		if log = r.log(t); log == nil {
			return nil
		}
	}
	record, err := calibrate.NewRecord(flown, t, log)
	if err != nil {
		r.tell(t, strings.TrimPrefix(err.Error(), "test "+t.Name+": "), "")
		return nil
	}
	return record
}

// log reads the log of a test; nil when something is wrong.
func (r *logReader) log(t *scenarios.Test) *calibrate.Log {
	file := r.file(t)
	in, err := r.open(t)
	if err != nil {
		r.tell(t, fmt.Sprintf("cannot read %s: %v", file, reason(err)), "put the file there, or correct its name")
		return nil
	}
	defer func() { _ = in.Close() }() // it was only read
	text := &interruptible{r.ctx, in}
	columns := calibrate.ColumnsOf(t.Columns)
	if len(columns) == 0 {
		head, err := calibrate.ReadLogHead(text)
		switch {
		case r.ctx.Err() != nil:
			r.stopped = r.ctx.Err()
		case err != nil:
			r.tell(t, fmt.Sprintf("cannot read %s: %v", file, reason(err)), "")
		default:
			u := unmapped{t, file, head}
			r.unmapped = append(r.unmapped, u)
			r.tell(t, "it is not said what the columns of "+file+" hold", u.short())
		}
		return nil
	}
	log, err := calibrate.ReadLog(text, file, columns, calibrate.LogSettings{Decimal: r.decimal})
	if r.ctx.Err() != nil {
		r.stopped = r.ctx.Err()
		return nil
	}
	if err != nil {
		r.tell(t, strings.TrimPrefix(err.Error(), file+": "), r.remedy(t, err))
		return nil
	}
	return log
}

// remedy is what helps when a log cannot be read.
func (r *logReader) remedy(t *scenarios.Test, err error) string {
	if errors.Is(err, calibrate.ErrDecimal) {
		return "--decimal point, or --decimal comma"
	}
	in, err := r.open(t)
	if err != nil {
		return ""
	}
	defer func() { _ = in.Close() }() // it was only read
	head, err := calibrate.ReadLogHead(in)
	if err != nil || len(head.Header) == 0 {
		return "look at " + r.file(t)
	}
	return fmt.Sprintf("%s has on line %d: %s", r.file(t), head.Line, strings.Join(quotedAll(head.Header), ", "))
}

// ofFile says that a test stands in the scenario file, not in --log.
func (r *logReader) ofFile(t *scenarios.Test) bool {
	return slices.Contains(r.scenario.TestNames(), t.Name)
}

// file is where the log of a test lies, for messages.
func (r *logReader) file(t *scenarios.Test) string {
	if r.ofFile(t) {
		return r.scenario.LogFile(t)
	}
	return t.Log
}

// open opens the log of a test.
func (r *logReader) open(t *scenarios.Test) (io.ReadCloser, error) {
	if r.ofFile(t) {
		return r.scenario.OpenLog(t)
	}
	return os.Open(t.Log)
}

// tell notes what is wrong with a test, where its log is named.
func (r *logReader) tell(t *scenarios.Test, message, hint string) {
	f := scenarios.Fault{Path: "--log " + t.Log, Message: message, Hint: hint}
	if r.ofFile(t) {
		f = r.scenario.LogFault(t, message, hint)
	}
	r.faults = append(r.faults, f)
}

// err is everything that is wrong. Where that is only what columns hold, it offers
// lines to copy.
func (r *logReader) err() error {
	switch {
	case r.stopped != nil:
		return r.stopped
	case len(r.faults) == 0:
		return nil
	case len(r.faults) == len(r.unmapped):
		return badInput{errors.New(offers(r.unmapped))}
	}
	return r.faults
}

// interruptible reads until its context ends.
type interruptible struct {
	ctx context.Context
	io.Reader
}

func (r *interruptible) Read(p []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	return r.Reader.Read(p)
}
