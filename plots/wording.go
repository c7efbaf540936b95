package plots

import (
	"fmt"
	"sort"
	"strings"

	"gonum.org/v1/plot/vg"
)

// breakText breaks a text into lines not wider than room, after a space, else
// after a dot, an underscore or a stroke, where one comes in time. What does not fit
// into the lines ends in an ellipsis.
func breakText(text string, like words, room vg.Length, most int) []words {
	var lines []words
	for rest := strings.TrimSpace(text); rest != ""; {
		line := like
		line.text = rest
		if line.width() <= room || len(lines) == most-1 {
			return append(lines, line.fit(room))
		}
		n := breakAt([]rune(rest), like, room)
		line.text = strings.TrimRight(string([]rune(rest)[:n]), " ")
		rest = strings.TrimLeft(string([]rune(rest)[n:]), " ")
		lines = append(lines, line)
	}
	return lines
}

// breakAt returns how many runes go into a line.
func breakAt(text []rune, like words, room vg.Length) int {
	fits := max(1, like.holds(text, "", room))
	for _, after := range []string{" ", "._/"} {
		for n := fits; n > fits/2; n-- {
			if strings.ContainsRune(after, text[n-1]) {
				return n
			}
		}
	}
	return fits
}

// counted prints a number of things.
func counted(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// Pretty turns the units in a text from those of scenario files into those of print.
func Pretty(text string) string { return unitSigns.Replace(text) }

var unitSigns = strings.NewReplacer("ddegF", "°F", "ddegC", "°C", "degF", "°F", "degC", "°C", "^2", "²", "^3", "³")

// axisText is the label of an axis.
func axisText(name, unit string) string {
	switch unit {
	case "":
		return name
	case "deg":
		unit = "°"
	}
	return name + ", " + Pretty(unit)
}

// cut says whether lines end in an ellipsis.
func cut(lines []words) bool {
	return len(lines) > 0 && strings.HasSuffix(lines[len(lines)-1].text, "…")
}

// axisLines breaks the label of an axis into lines. A name too long is
// shortened, never the unit.
func axisLines(name, unit string, room vg.Length, most int) []words {
	like := words{size: headingSize, bold: true}
	whole := breakText(axisText(name, unit), like, room, most)
	if !cut(whole) {
		return whole
	}
	runes := []rune(name)
	shortened := func(n int) []words {
		return breakText(axisText(strings.TrimRight(string(runes[:n]), " ")+"…", unit), like, room, most)
	}
	dropped := sort.Search(len(runes), func(k int) bool { return !cut(shortened(len(runes) - k)) })
	return shortened(len(runes) - dropped)
}
