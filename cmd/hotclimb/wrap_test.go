package main

import (
	"regexp"
	"strings"
	"testing"
)

// parted finds a number without its unit, or a sign without its number, at the end
// of a line.
var parted = regexp.MustCompile(`(\d\n(°F|K|%|mph|in²)[.,;:)]?[ \n])|±\n`)

// TestBroken: lines of a sentence are as wide as they may be, lose no word, and part
// no number from its unit, wherever the line ends.
func TestBroken(t *testing.T) {
	sentence := "oil gains 5.4 °F (± 1.4 °F), in 3 flights of 12 at 85 mph; 16 % of 100 in² say so: +1.4 °F. It is"
	for width := 14; width < 110; width++ {
		lines := broken(sentence, width)
		text := strings.Join(lines, "\n") + "\n"
		if parted.MatchString(text) {
			t.Errorf("width %d:\n%s", width, text)
		}
		if strings.Join(strings.Fields(text), " ") != sentence {
			t.Errorf("width %d: words are lost:\n%s", width, text)
		}
		for i, line := range lines {
			if n := len([]rune(line)); n > width {
				t.Errorf("width %d: a line of %d: %s", width, n, line)
			}
			if i > 0 && len([]rune(lines[i-1]+" "+inseparable(line)[0])) <= width {
				t.Errorf("width %d: %q had room in the line before", width, line)
			}
		}
	}
}

// TestBrokenColour: colour takes no width, and a word wider than a line is kept.
func TestBrokenColour(t *testing.T) {
	red := "\x1b[31mmind:\x1b[0m"
	if lines := broken(red+" the oil", 13); len(lines) != 1 {
		t.Errorf("broken into %q", lines)
	}
	wide := strings.Repeat("x", 20)
	if lines := broken("a "+wide+" b", 10); len(lines) != 3 || lines[1] != wide {
		t.Errorf("broken into %q", lines)
	}
	if lines := broken("", 10); len(lines) != 0 {
		t.Errorf("nothing is broken into %q", lines)
	}
}
