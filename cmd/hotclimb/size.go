package main

import (
	"context"
	"errors"

	"github.com/spf13/cobra"
	"hotclimb/scenarios"
	"hotclimb/sweep/optimum"
	"hotclimb/sweep/uncertainty"
)

// sizeFlags are the flags of size alone. They replace what the section size of
// the scenario says.
type sizeFlags struct {
	vary  []string
	trade bool

	minimise, areaShare                  string
	coolantMargin, oilMargin, boilMargin string
	doubt, doubtFrom                     string
}

// sized is everything size has to say.
type sized struct {
	*optimum.Sized
	optimum.Sizing
	origin
	trade  []optimum.TradePoint // when traded
	traded bool                 // --trade was given
	plan   *optimum.Map         // nil when not asked for

	spreads []*uncertainty.FlightSpread // of the cases, at the sizes found; nil without doubt
}

func (p *program) sizeCommand() *cobra.Command {
	var c common
	var f sizeFlags
	cmd := &cobra.Command{
		Use:   "size [FILE]",
		Short: "find the smallest openings that keep both temperatures in limits",
		Long: `Moves openings, or any other numbers, within bounds until every case keeps its
margins with the least opening area, or the least cooling drag. It says which
limits decide and what one more degree costs at each, gives sizes that can be
made and flies these, and confirms the answer by a second method.

When nothing fits, the exit status is 3: the least bad sizes are told, what they
break, and what else would cure it. With --trade the front of cooling drag
against margin is drawn as well.

Without flags it does what the section size of the scenario says. --out writes,
beside tables and charts, the sizes to build as sized.yaml for --over.`,
		Example: examples(
			`hotclimb size tug --case hot_tow`,
			`hotclimb size tug --case hot_tow --vary "exits.belly.height=4 in..14 in" --trade --out tug_sized`,
			`hotclimb size seaplane --case hot_climb --vary "inlets.nose_ring.area=60..120 in^2" --coolant-margin "5 ddegF" --format json`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return p.size(cmd.Context(), file(args, demo), &c, &f)
		},
	}
	c.scenarioFlags(cmd)
	f.add(cmd)
	c.studyFlags(cmd)
	return cmd
}

// add adds the flags.
func (f *sizeFlags) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringArrayVar(&f.vary, "vary", nil, "move a number between bounds, as `PATH=LOW..HIGH` (repeatable)")
	flags.StringVar(&f.minimise, "minimise", "", "make `WORD` small: opening_area, cooling_drag or weighted")
	flags.StringVar(&f.areaShare, "area-share", "", "weight `SHARE` of the area when weighted, 0 to 1")
	flags.StringVar(&f.coolantMargin, "coolant-margin", "", "keep this `DIFFERENCE` to the coolant limit, as 5 ddegF or 3 K")
	flags.StringVar(&f.oilMargin, "oil-margin", "", "keep this `DIFFERENCE` to the oil limit")
	flags.StringVar(&f.boilMargin, "boil-margin", "", "keep this `DIFFERENCE` to boiling")
	flags.StringVar(&f.doubt, "doubt", "", "keep `K` standard deviations of each margin on top, and tell the chance to exceed each limit")
	flags.StringVar(&f.doubtFrom, "doubt-from", "", "take the deviations for --doubt from `WORD`: slopes or samples")
	flags.BoolVar(&f.trade, "trade", false, "also find the least drag for every margin")
}

// settings are those of the section size that flags give.
func (f *sizeFlags) settings() []scenarios.Setting {
	var list []scenarios.Setting
	for _, s := range []scenarios.Setting{
		{Path: "minimise", Text: f.minimise}, {Path: "area_share", Text: f.areaShare},
		{Path: "coolant_margin", Text: f.coolantMargin}, {Path: "oil_margin", Text: f.oilMargin},
		{Path: "boil_margin", Text: f.boilMargin}, {Path: "doubt", Text: f.doubt},
		{Path: "doubt_from", Text: f.doubtFrom},
	} {
		if s.Text != "" {
			list = append(list, s)
		}
	}
	return list
}

// size sizes the openings of a scenario and prints what came of it.
func (p *program) size(ctx context.Context, file string, c *common, f *sizeFlags) error {
	if err := c.check(); err != nil {
		return err
	}
	z, err := f.prepare(file, c)
	if err != nil {
		return err
	}
	if err := c.makeFolder(file); err != nil {
		return err
	}
	bar := p.progress("flights", z.flightsExpected(), c.noProgress)
	z.Flown = bar.step
	err = z.find(ctx, f.trade, c.out != "")
	bar.end()
	if err != nil {
		return err
	}
	if c.out != "" {
		if err := z.writeFiles(c.out); err != nil {
			return err
		}
	}
	if err := p.print(z, c.format.word); err != nil {
		return err
	}
	if !z.Fits {
		return errOverLimit // nothing that fits counts as that
	}
	return nil
}

// prepare loads a scenario and gathers what is asked of it.
func (f *sizeFlags) prepare(file string, c *common) (*sized, error) {
	sc, cases, err := c.load(file)
	if err != nil {
		return nil, err
	}
	if err := f.override(sc, cases, file); err != nil {
		return nil, err
	}
	if len(c.cases) == 0 {
		cases = only(cases, sc.Size.Cases)
	}
	s, err := sizingOf(sc, cases)
	if err != nil {
		return nil, err
	}
	if _, err := build(cases); err != nil {
		return nil, err
	}
	z := &sized{Sizing: s, origin: originOf(sc, cases)}
	z.Workers, z.Seed, z.Step = c.workers, c.seed, 1/difference.In(z.units).Factor
	return z, nil
}

// find does all the flying.
func (z *sized) find(ctx context.Context, trade, plan bool) error {
	var err error
	if z.Sized, err = optimum.Size(ctx, z.Sizing); err != nil {
		return err
	}
	if z.traded = trade; trade {
		if z.trade, err = z.Trade(ctx); err != nil {
			return err
		}
	}
	if plan && len(z.Factors) > 1 {
		if z.plan, err = z.Map(ctx, planSide); err != nil {
			return err
		}
	}
	if z.Doubt > 0 {
		return z.draw(ctx)
	}
	return nil
}

// planSide is the number of values on each side of the contour chart.
const planSide = 13

// flightsExpected is about how many flights a sizing takes; most of them are
// those of the confirmation. Where the area is made small, cases that do not
// decide are hardly flown.
func (z *sized) flightsExpected() int {
	n := 40 + 80*len(z.Factors)
	if z.Minimise != optimum.OpeningArea {
		n *= len(z.Cases)
	}
	n += 5 * len(z.Cases)
	if z.Doubt > 0 {
		n += len(z.Cases) * (1 + chanceDraws)
	}
	return n
}

// errNoSize says that neither the file nor the command line says what varies.
var errNoSize = errors.New("nothing says what may vary: give --vary PATH=LOW..HIGH, as in --vary \"exits.belly.height=4 in..12 in\", or a section size in the file")
