package main

import (
	"context"

	"github.com/spf13/cobra"
	"hotclimb/sweep"
)

// ranking is everything rank has to say.
type ranking struct {
	*sweep.Ranked
	origin
}

// pairedChanges is how many of the best changes are paired unless said otherwise.
const pairedChanges = 4

func (p *program) rankCommand() *cobra.Command {
	var c common
	pairs, noTenths := 0, false
	cmd := &cobra.Command{
		Use:   "rank [FILE]",
		Short: "say which single change buys the most degrees",
		Long: `Flies every entry of the section changes alone, then pairs of the best ones, and
then every number that a builder makes, a tenth up and down, all in every case.
It says what each gains on coolant and on oil at the worst case, what it takes -
drag, climb, weight, cost, hours - and how many degrees that buys, and it names
the best single change. A change that helps one circuit by spoiling the other is
told.

A change sets its paths on top of a case, as --set does, in every case that has
them; its weight is flown with.`,
		Example: examples(
			`hotclimb rank tug`,
			`hotclimb rank rotary --case hot_climb --pairs 0 --no-tenths`,
			`hotclimb rank tug --set "day.temperature=104 degF" --format csv`,
			`hotclimb rank seaplane --out seaplane_ranked`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.rank(cmd.Context(), file(args, demo), &c, sweep.Ranking{Pairs: pairs, Tenths: !noTenths})
		},
	}
	c.scenarioFlags(cmd)
	c.studyFlags(cmd)
	f := cmd.Flags()
	f.IntVar(&pairs, "pairs", pairedChanges, "pair the best `N` changes; 0 for none")
	f.BoolVar(&noTenths, "no-tenths", false, "move no numbers by a tenth")
	return cmd
}

// rank ranks the changes of a scenario and prints what they are worth.
func (p *program) rank(ctx context.Context, file string, c *common, r sweep.Ranking) error {
	if err := c.check(); err != nil {
		return err
	}
	k, err := c.prepareRank(file, &r)
	if err != nil {
		return err
	}
	if err := c.makeFolder(file); err != nil {
		return err
	}
	bar := p.progress("flights", r.Steps(), c.noProgress)
	k.Ranked, err = sweep.Rank(ctx, r, bar.step)
	bar.end()
	if err != nil {
		return err
	}
	if c.out != "" {
		if err := k.writeFiles(c.out); err != nil {
			return err
		}
	}
	return p.print(k, c.format.word)
}

// prepareRank loads a scenario and makes its cases and changes those of a ranking.
func (c *common) prepareRank(file string, r *sweep.Ranking) (*ranking, error) {
	if r.Pairs < 0 {
		return nil, badInputf("--pairs %d: must be 0 or more", r.Pairs)
	}
	sc, cases, err := c.load(file)
	if err != nil {
		return nil, err
	}
	if _, err := build(cases); err != nil {
		return nil, err
	}
	if len(sc.Changes) == 0 && !r.Tenths {
		return nil, badInputf("%s has no section changes: with --no-tenths there is nothing to rank", file)
	}
	r.Cases, r.Changes, r.Workers = cases, sc.Changes, c.workers
	return &ranking{origin: originOf(sc, cases)}, nil
}
