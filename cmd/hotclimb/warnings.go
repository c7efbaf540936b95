package main

import (
	"fmt"
	"slices"
	"strings"
)

// warning is what a reader of the result must know, of one case or, without a
// name, of all.
type warning struct {
	name string
	text string
}

// warnings are those of the run and of its cases, in their order.
func (o *outcome) warnings() []warning {
	list := slices.Clone(o.caveats)
	for _, f := range o.cases {
		for _, text := range f.result.Warnings {
			list = append(list, warning{f.name, text})
		}
	}
	return list
}

// warn prints warnings, each text once, with the names of all its cases.
func (p *program) warn(list []warning) {
	for _, text := range told(list) {
		fmt.Fprintf(p.err, "%s: %s: %s\n", name, p.err.paint(yellow, "warning"), text)
	}
}

// told are warnings as sentences, each text once, with the names of all its cases.
func told(list []warning) []string {
	var texts []string
	cases := map[string][]string{}
	for _, w := range list {
		if cases[w.text] == nil {
			texts = append(texts, w.text)
		}
		if !slices.Contains(cases[w.text], w.name) {
			cases[w.text] = append(cases[w.text], w.name)
		}
	}
	for i, text := range texts {
		if who := strings.Join(cases[text], ", "); who != "" {
			texts[i] = who + ": " + text
		}
	}
	return texts
}
