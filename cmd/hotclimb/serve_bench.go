package main

import (
	"bytes"
	"fmt"
	"os"
	"strings"

	"hotclimb/plots/bench"
	"hotclimb/scenarios"
)

// bench is what is served of a scenario.
func (p *program) bench(file string, c *common) (*bench.Bench, error) {
	sc, cases, err := c.load(file)
	if err != nil {
		return nil, err
	}
	if _, err := build(cases); err != nil {
		return nil, err
	}
	rewrite, err := c.rewriter(file)
	if err != nil {
		return nil, err
	}
	return &bench.Bench{
		Scenario: sc, File: file, Flags: c.words(), Version: version,
		Cautions:      []string{strings.Join(cautions, " ")},
		SprayCautions: []string{strings.Join(sprayCautions, " ")},
		Rewrite:       rewrite,
		Studies:       p.studies(sc, file, c.workers),
		Workers:       c.workers,
	}, nil
}

// words are the flags that change a scenario, as they are typed.
func (c *common) words() []string {
	var words []string
	for _, overlay := range c.over {
		words = append(words, "--over", overlay)
	}
	for _, setting := range c.set {
		words = append(words, "--set", setting)
	}
	return words
}

// rewriter returns what writes settings into the file of a scenario, behind those
// of --set. Comments of a file stay; those of several, laid over each other, cannot.
func (c *common) rewriter(file string) (func([]scenarios.CaseSetting) ([]byte, error), error) {
	settings, err := c.settings()
	if err != nil {
		return nil, err
	}
	var first []scenarios.CaseSetting
	for _, s := range settings {
		first = append(first, scenarios.CaseSetting{Setting: s})
	}
	if len(c.over) > 0 {
		return c.mergedRewriter(file, first)
	}
	text, err := textOf(file)
	if err != nil {
		return nil, err
	}
	return func(list []scenarios.CaseSetting) ([]byte, error) {
		return scenarios.Rewrite(text, append(first[:len(first):len(first)], list...))
	}, nil
}

// mergedRewriter is the rewriter of a scenario with overlays.
func (c *common) mergedRewriter(file string, first []scenarios.CaseSetting) (func([]scenarios.CaseSetting) ([]byte, error), error) {
	sc, err := c.read(file)
	if err != nil {
		return nil, err
	}
	return func(list []scenarios.CaseSetting) ([]byte, error) {
		written, err := sc.WithCaseSettings(append(first[:len(first):len(first)], list...))
		if err != nil {
			return nil, err
		}
		var b bytes.Buffer
		fmt.Fprintf(&b, "# %s with %s laid over it. Comments of files that are laid over\n# each other are not kept.\n\n",
			file, strings.Join(c.over, ", "))
		err = scenarios.Write(&b, written)
		return b.Bytes(), err
	}, nil
}

// textOf is the text of a scenario's file, or of a built-in one.
func textOf(file string) ([]byte, error) {
	text, err := os.ReadFile(file)
	if err == nil {
		return text, nil
	}
	if source, ok := scenarios.Builtin(file); ok {
		return source.Text, nil
	}
	return nil, badInputf("cannot read %s: %w", file, reason(err))
}
