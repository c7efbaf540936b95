package main

import (
	"io"
	"os"

	"golang.org/x/term"
)

// screen is an output stream and what it can show. Anything but a terminal
// gets plain text, without colour and 80 columns wide.
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

// newScreen finds out what a stream can show. This is the one place that
// decides on colour: a terminal, NO_COLOR unset or empty, TERM not dumb.
func newScreen(w io.Writer) *screen {
	s := &screen{Writer: w, width: usualWidth}
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return s
	}
	s.terminal = true
	s.colour = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	if columns, _, err := term.GetSize(int(f.Fd())); err == nil && columns > 0 {
		s.width = min(max(columns, leastWidth), greatestWidth)
	}
	return s
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
