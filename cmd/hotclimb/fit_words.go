package main

import "strings"

// things are what the sections of a file hold, one of them.
var things = map[string]string{
	"inlets": "inlet", "exits": "exit", "exchangers": "exchanger", "compartments": "compartment",
	"leaks": "leak", "vents": "vent", "gauges": "gauge",
}

// inWords is a path in words: exits.belly.pressure_coefficient is the pressure
// coefficient of exit belly.
func inWords(path string) string {
	keys := strings.Split(path, ".")
	last := len(keys) - 1
	what := spaced(keys[last])
	thing, named := things[keys[0]]
	switch {
	case last == 0:
		return what
	case keys[0] == "gauges":
		return what + " of the " + keys[1] + " gauge"
	case !named:
		return spaced(strings.Join(keys[1:], " ")) + " of the " + spaced(keys[0])
	case last > 2:
		what = spaced(strings.Join(keys[2:], " "))
	}
	return what + " of " + thing + " " + spaced(keys[1])
}

func spaced(text string) string { return strings.ReplaceAll(text, "_", " ") }
