package main

import (
	"errors"
	"io/fs"
	"runtime"
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
)

// The demo that is flown without a FILE.
const demo = "tug"

// usualSeed is that of random draws unless said otherwise.
const usualSeed = 1

// common are the flags that every command on a scenario has.
type common struct {
	set        []string
	over       []string
	cases      []string
	out        string
	format     choice
	workers    int
	seed       uint64
	noProgress bool

	inHand *scenarios.Scenario // read already, with its overlays, in place of the file
}

// changeFlags adds the flags that change a scenario.
func (c *common) changeFlags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.SortFlags = false
	f.StringArrayVar(&c.set, "set", nil, "set a number or a word, as `PATH=VALUE` (repeatable)")
	f.StringArrayVar(&c.over, "over", nil, "lay another scenario `FILE` over it (repeatable)")
}

// workersFlag adds the flag that says how many flights are computed at a time.
func (c *common) workersFlag(cmd *cobra.Command) {
	cmd.Flags().IntVar(&c.workers, "workers", runtime.GOMAXPROCS(0), "compute `N` flights at a time")
}

// caseFlag adds the flag that chooses cases.
func (c *common) caseFlag(cmd *cobra.Command) {
	cmd.Flags().StringArrayVar(&c.cases, "case", nil, "only the case of this `NAME` (repeatable)")
}

// scenarioFlags adds the flags that say what is looked at.
func (c *common) scenarioFlags(cmd *cobra.Command) {
	c.changeFlags(cmd)
	c.caseFlag(cmd)
	c.format = choice{"text", []string{"text", "json", "csv"}}
	cmd.Flags().Var(&c.format, "format", "print the result as `WORD`: text, json or csv")
}

// studyFlags adds the flags that say how it is computed.
func (c *common) studyFlags(cmd *cobra.Command) {
	f := cmd.Flags()
	f.Var((*folder)(&c.out), "out", "also write tables, charts and the scenario into the folder `DIR`")
	c.workersFlag(cmd)
	f.Uint64Var(&c.seed, "seed", usualSeed, "seed `N` of random draws, for studies that draw any")
	f.BoolVar(&c.noProgress, "no-progress", false, "show no progress")
}

// check tells values of flags that no flag reader refuses.
func (c *common) check() error {
	if c.workers < 1 {
		return badInputf("--workers %d: must be 1 or more", c.workers)
	}
	return nil
}

// changed says that the scenario is not flown as it is filed.
func (c *common) changed() bool { return len(c.set) > 0 || len(c.over) > 0 }

// settings are those of --set.
func (c *common) settings() ([]scenarios.Setting, error) {
	list := make([]scenarios.Setting, len(c.set))
	for i, text := range c.set {
		s, err := scenarios.ParseSetting(text)
		if err != nil {
			return nil, badInputf("--set: %w", err)
		}
		list[i] = s
	}
	return list, nil
}

// load reads the scenario with its overlays and returns it as it is run, with
// the settings written into it, and its cases.
func (c *common) load(file string) (*scenarios.Scenario, []scenarios.CaseScenario, error) {
	settings, err := c.settings()
	if err != nil {
		return nil, nil, err
	}
	sc, err := c.read(file)
	if err != nil {
		return nil, nil, err
	}
	cases, err := sc.EffectiveCases(c.cases, settings)
	if err != nil {
		return nil, nil, badInput{err}
	}
	if sc, err = sc.AsRun(cases, settings); err != nil {
		return nil, nil, badInput{err}
	}
	return sc, cases, nil
}

// read reads the scenario with its overlays, unless it is in hand.
func (c *common) read(file string) (*scenarios.Scenario, error) {
	if c.inHand != nil {
		return c.inHand.Clone(), nil
	}
	sc, err := scenarios.LoadFile(file, c.over)
	var path *fs.PathError
	if errors.As(err, &path) {
		return nil, badInputf("cannot read %s: %w", path.Path, path.Err)
	}
	if err != nil {
		return nil, badInput{err}
	}
	return sc, nil
}

// only are the cases of some names; all when none is named.
func only(cases []scenarios.CaseScenario, names []string) []scenarios.CaseScenario {
	return slices.DeleteFunc(cases, func(k scenarios.CaseScenario) bool {
		return len(names) > 0 && !slices.Contains(names, k.Name)
	})
}

// file is the one argument, or another.
func file(args []string, without string) string {
	if len(args) == 0 {
		return without
	}
	return args[0]
}

// folder is a flag that takes the name of a folder.
type folder string

func (d *folder) String() string { return string(*d) }
func (d *folder) Type() string   { return "string" }

// Set takes a name; none would mean that nothing is written.
func (d *folder) Set(name string) error {
	if name == "" {
		return badInputf("must be the name of a folder")
	}
	*d = folder(name)
	return nil
}

// choice is a flag that takes one of a few words.
type choice struct {
	word  string
	words []string
}

func (c *choice) String() string { return c.word }
func (c *choice) Type() string   { return "word" }

func (c *choice) Set(word string) error {
	if !slices.Contains(c.words, word) {
		return badInputf("must be %s", orList(c.words))
	}
	c.word = word
	return nil
}

// orList joins words as in text, json or csv.
func orList(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " or " + words[last]
}
