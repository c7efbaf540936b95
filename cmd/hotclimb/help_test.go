package main

import (
	"bytes"
	"context"
	"io"
	"strings"
	"testing"

	"github.com/spf13/cobra"
)

// TestHelpExamples runs every example of every help as printed, those of one
// command one after the other in an empty folder.
func TestHelpExamples(t *testing.T) {
	p := &program{out: newScreen(&bytes.Buffer{}), err: newScreen(&bytes.Buffer{})}
	root := p.root()
	for _, cmd := range append(root.Commands(), root) {
		if cmd.Name() == "help" {
			continue
		}
		t.Run(cmd.Name(), func(t *testing.T) { runExamples(t, cmd) })
	}
}

func runExamples(t *testing.T, cmd *cobra.Command) {
	if cmd.Example == "" {
		t.Fatalf("%s has no example", cmd.CommandPath())
	}
	t.Chdir(t.TempDir())
	for line := range strings.Lines(cmd.Example) {
		args := words(line)
		if args[0] != name || cmd.HasParent() && args[1] != cmd.Name() {
			t.Errorf("%q is no example of %s", line, cmd.CommandPath())
		}
		var stdout, stderr bytes.Buffer
		ctx, stop := context.WithCancel(context.Background())
		var out io.Writer = &stdout
		if cmd.Name() == "serve" {
			out = writerThen{&stdout, stop} // it would not end by itself
		}
		status := app(ctx, args[1:], out, &stderr)
		stop()
		if status != exitDone && status != exitOverLimit || stdout.Len() == 0 {
			t.Errorf("%sexit status %d\n%s%s", line, status, &stdout, &stderr)
		}
	}
}

// writerThen is a writer and what is done after every write.
type writerThen struct {
	io.Writer
	then func()
}

func (w writerThen) Write(text []byte) (int, error) {
	defer w.then()
	return w.Writer.Write(text)
}

// words splits a line as a shell does: at spaces outside double quotes.
func words(line string) []string {
	quoted := false
	fields := strings.FieldsFunc(strings.TrimSpace(line), func(r rune) bool {
		if r == '"' {
			quoted = !quoted
		}
		return r == ' ' && !quoted
	})
	for i := range fields {
		fields[i] = strings.ReplaceAll(fields[i], `"`, "")
	}
	return fields
}

// Every flag that a command has is told in its help, with a meaning.
func TestFlagsHaveMeanings(t *testing.T) {
	var stdout bytes.Buffer
	app(context.Background(), []string{"run", "--help"}, &stdout, &bytes.Buffer{})
	for _, flag := range []string{"--set PATH=VALUE", "--over FILE", "--case NAME", "--out DIR", "--format WORD", "--workers N", "--seed N", "--no-progress"} {
		_, rest, ok := strings.Cut(stdout.String(), flag)
		meaning, _, _ := strings.Cut(rest, "\n")
		if !ok || len(strings.TrimSpace(meaning)) < 10 {
			t.Errorf("the help of run does not explain %s", flag)
		}
	}
}
