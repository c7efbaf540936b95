package main

import (
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"
)

// lineWidth is that of sentences.
const lineWidth = 80

// note adds a sentence, indented and broken to the width of a line.
func (p *page) note(sentence string) {
	if p.told != nil {
		p.told.sentence(sentence)
		return
	}
	for _, line := range broken(sentence, lineWidth-4) {
		p.line("    %s", line)
	}
}

// broken breaks a sentence at spaces into lines of a width. A number stays with its
// unit, and a sign with its number. What is wider than a line has one of its own.
// Colour takes no width.
func broken(sentence string, width int) []string {
	var lines []string
	room := 0
	for _, part := range inseparable(sentence) {
		wide := text.StringWidthWithoutEscSequences(part)
		if room <= wide {
			lines = append(lines, part)
			room = width - wide
			continue
		}
		lines[len(lines)-1] += " " + part
		room -= 1 + wide
	}
	return lines
}

// inseparable are the words of a sentence, those that stay on one line joined.
func inseparable(sentence string) []string {
	var parts []string
	last := ""
	for _, word := range strings.Fields(sentence) {
		if n := len(parts); n > 0 && staysWith(last, word) {
			parts[n-1] += " " + word
		} else {
			parts = append(parts, word)
		}
		last = word
	}
	return parts
}

// staysWith says that a word does not leave the one before it: a unit its number,
// or a number its sign.
func staysWith(before, word string) bool {
	if slices.Contains([]string{"±", "(±", "<", "(<", ">"}, before) {
		return true
	}
	end := before[len(before)-1]
	return end >= '0' && end <= '9' && units[strings.TrimRight(word, ".,;:)")]
}

// units are the names of all units that stand behind a number in a sentence.
var units = unitNames()

func unitNames() map[string]bool {
	names := map[string]bool{}
	for _, name := range strings.Fields("% h min s in² cm² psi rpm L/min") {
		names[name] = true
	}
	for _, m := range []measure{temperature, difference, height, airspeed, climbRate, power, heat, airFlow, mass, force, perMinute} {
		names[m.US.Name], names[m.SI.Name] = true, true
	}
	return names
}
