package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
)

// full is a stream that takes nothing, as a full disk does.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestResultThatCannotBeWritten(t *testing.T) {
	for _, args := range [][]string{{"run", "tug"}, {"run", "tug", "--format", "csv"}, {"run", "tug", "--format", "json"}, {"check", "tug"}} {
		var stderr bytes.Buffer
		status := app(context.Background(), args, full{}, &stderr)
		if status != exitFailed || !strings.Contains(stderr.String(), "hotclimb: cannot write the result: no space left\n") {
			t.Errorf("%v: exit status %d, %s", args, status, &stderr)
		}
	}
}

func TestInterrupted(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	var stdout, stderr bytes.Buffer
	status := app(ctx, []string{"run", "tug", "--set", "day.wind=0 mph"}, &stdout, &stderr)
	if status != exitFailed || stdout.Len() > 0 || stderr.String() != "hotclimb: interrupted\n" {
		t.Errorf("exit status %d\n%s%s", status, &stdout, &stderr)
	}
}

func TestConclude(t *testing.T) {
	tests := []struct {
		err    error
		status int
		says   string
	}{
		{nil, exitDone, ""},
		{errOverLimit, exitOverLimit, ""},
		{errors.New("the disk broke"), exitFailed, "hotclimb: the disk broke\n"},
		{badInputf("no such thing"), exitBadInput, "hotclimb: no such thing\n"},
		{fmt.Errorf("case a: %w", context.Canceled), exitFailed, "hotclimb: interrupted\n"},
	}
	for _, test := range tests {
		var stderr bytes.Buffer
		p := &program{out: newScreen(&bytes.Buffer{}), err: newScreen(&stderr)}
		if status := p.conclude(test.err); status != test.status || stderr.String() != test.says {
			t.Errorf("%v: exit status %d, %q", test.err, status, stderr.String())
		}
	}
}

func TestWarnEachOnce(t *testing.T) {
	var stderr bytes.Buffer
	p := &program{err: newScreen(&stderr)}
	p.warn([]warning{{"climb", "hot"}, {"taxi", "still"}, {"taxi", "hot"}, {"climb", "hot"}, {"", "of all"}})
	want := "hotclimb: warning: climb, taxi: hot\nhotclimb: warning: taxi: still\nhotclimb: warning: of all\n"
	if stderr.String() != want {
		t.Errorf("got\n%swant\n%s", &stderr, want)
	}
}
