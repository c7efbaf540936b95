package main

import (
	"io"
	"os"

	"golang.org/x/term"
)

// screen is an output stream and what it can show. Anything but a terminal, and
// a dumb one, gets plain text, without colour and 80 columns wide.
type screen struct {
	io.Writer
	terminal bool
	colour   bool
	width    int // columns
}

// Width of what is no terminal, and bounds of the width used on one.
const (
	usualWidth    = 80
	leastWidth    = 40
	greatestWidth = 120
)

// newScreen finds out what a stream can show.
func newScreen(w io.Writer) *screen {
	s := &screen{Writer: w, width: usualWidth}
	f, ok := w.(*os.File)
	if !ok {
		return s
	}
	s.terminal, s.colour = abilities(term.IsTerminal(int(f.Fd())), os.Getenv)
	if !s.terminal {
		return s
	}
	if columns, _, err := term.GetSize(int(f.Fd())); err == nil && columns > 0 {
		s.width = min(max(columns, leastWidth), greatestWidth)
	}
	return s
}

// abilities is the one place that decides on colour: on a terminal, with TERM not
// dumb and NO_COLOR unset or empty.
func abilities(isTerminal bool, env func(string) string) (terminal, colour bool) {
	terminal = isTerminal && env("TERM") != "dumb"
	return terminal, terminal && env("NO_COLOR") == ""
}

// colour is an ANSI escape sequence.
type colour string

const (
	red    colour = "\x1b[31m"
	green  colour = "\x1b[32m"
	yellow colour = "\x1b[33m"
	bold   colour = "\x1b[1m"
	plain  colour = "\x1b[0m"
)

// paint colours text on a screen that shows colour.
func (s *screen) paint(c colour, text string) string {
	if !s.colour {
		return text
	}
	return string(c) + text + string(plain)
}
