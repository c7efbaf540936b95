package main

import (
	"context"
	"errors"
	"fmt"

	"hotclimb/scenarios"
)

// Exit statuses.
const (
	exitDone      = 0 // and within limits
	exitFailed    = 1
	exitBadInput  = 2
	exitOverLimit = 3
)

// errOverLimit says that the result is printed and a limit is exceeded in it.
var errOverLimit = errors.New("a limit is exceeded")

// badInput is an error that the user can mend in what was given.
type badInput struct{ error }

func (b badInput) Unwrap() error { return b.error }

// badInputf is a badInput with a text.
func badInputf(format string, args ...any) error {
	return badInput{fmt.Errorf(format, args...)}
}

// conclude says what went wrong, if anything did, and returns the exit status.
func (p *program) conclude(err error) int {
	var faults scenarios.Faults
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, errOverLimit):
		return exitOverLimit
	case errors.Is(err, context.Canceled):
		p.say("interrupted")
		return exitFailed
	case errors.As(err, &faults):
		p.complain(faults)
		return exitBadInput
	}
	p.say(err.Error())
	if errors.As(err, new(badInput)) {
		return exitBadInput
	}
	return exitFailed
}

// say prints one sentence on standard error.
func (p *program) say(sentence string) { fmt.Fprintf(p.err, "%s: %s\n", name, sentence) }

// complain prints faults on standard error. Those that stand in a file start
// with their place, so that editors find it.
func (p *program) complain(faults scenarios.Faults) {
	inFiles := 0
	for _, f := range faults {
		if f.File == "" {
			p.say(f.Error())
			continue
		}
		inFiles++
		fmt.Fprintln(p.err, f.Error())
	}
	if inFiles > 0 {
		p.say("nothing was run: " + counted(inFiles, "fault"))
	}
}

// counted is a number of things, as in 1 fault, 2 faults.
func counted(n int, thing string) string {
	if n != 1 {
		thing += "s"
	}
	return fmt.Sprintf("%d %s", n, thing)
}
