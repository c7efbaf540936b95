package main

import (
	"context"
	"errors"
	"fmt"

	"github.com/spf13/cobra"
	"hotclimb/sweep"
)

// sweepFlags are the flags of sweep.
type sweepFlags struct {
	common
	doubtFlags
	vary    []string
	design  choice
	points  int
	resume  bool
	shard   string
	parquet bool

	designGiven, pointsGiven, seedGiven, shardGiven bool
}

func (p *program) sweepCommand() *cobra.Command {
	f := sweepFlags{design: choice{sweep.GridDesign, []string{sweep.GridDesign, sweep.LatinDesign, sweep.SobolDesign}}}
	cmd := &cobra.Command{
		Use:   "sweep [FILE]",
		Short: "fly every combination of some numbers and words",
		Long: `Flies a scenario for every combination of what some paths take, or for points
drawn between their bounds, in every case, and makes a table of it: a row per
design and case with peaks, margins, drag and climb. What a path takes counts on
top of what a case sets, as with --set, in every case that has the path.

Without --vary the section sweep of the scenario says what is flown; --vary
takes the place of its paths, and --case, --design, --points and --seed that of
its other entries. PATH=RANGE is one of

  exits.belly.height=6 in..10 in:5         five values, both ends included
  spray.rate=0 L/min, 0.6 L/min            these values
  exchangers.auxiliary.serves=coolant,oil  these words
  exits.belly.height=6 in..10 in           bounds, when points are drawn

--out DIR keeps every row in DIR/sweep.csv, draws charts of a grid, and writes
what was swept to DIR/sweep.json. Rows are safe from the moment they are
finished: after Ctrl-C or a kill the same command with --resume flies
what is missing, and the table has the same bytes as that of an undisturbed
sweep. A flight that fails is a row with its reason, in the column fault.

--shard I/N flies, of the rows numbered from 0, those whose number leaves I when
divided by N, with I from 0 to N-1, each into a folder of its own; sweep merge
joins them. --shard /N takes I from the SLURM_ARRAY_TASK_ID or the
JOB_COMPLETION_INDEX of the environment, and --shard array takes both from the
Slurm array that the process is a task of, wherever its numbers start.

With --doubt each row flies --draws times more, with its doubtful numbers drawn,
so it takes that much longer: the table gains the standard deviation of both
margins, 5 and 95 % of them, and the chance to exceed each limit. All rows get
the same draws, so that they can be compared, and a number that the sweep sets is
known.`,
		Example: examples(
			`hotclimb sweep tug`,
			`hotclimb sweep tug --case hot_tow --vary "exits.belly.height=6 in..10 in:5" --vary "spray.rate=0 L/min, 1.2 L/min"`,
			`hotclimb sweep tug --case hot_tow --vary "exits.belly.height=6 in..10 in:3" --doubt --draws 16`,
			`hotclimb sweep rotary --design sobol --points 64 --format csv`,
			`hotclimb sweep seaplane --out swept --parquet`,
			`hotclimb sweep seaplane --out part_0 --shard 0/2`,
			`hotclimb sweep seaplane --out part_1 --shard 1/2`,
			`hotclimb sweep merge part_0 part_1 --out joined`,
		),
		Args: atMost(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			f.given(cmd)
			given := cmd.Flags().Changed
			f.designGiven, f.pointsGiven, f.seedGiven, f.shardGiven = given("design"), given("points"), given("seed"), given("shard")
			return p.sweep(cmd.Context(), file(args, demo), &f)
		},
	}
	f.scenarioFlags(cmd)
	f.studyFlags(cmd)
	f.add(cmd)
	f.doubtFlags.add(cmd, "each row", 64)
	cmd.AddCommand(p.mergeCommand())
	return cmd
}

// add adds the flags that only sweep has.
func (f *sweepFlags) add(cmd *cobra.Command) {
	flags := cmd.Flags()
	flags.StringArrayVar(&f.vary, "vary", nil, "vary a path, as `PATH=RANGE` (repeatable; see above)")
	flags.Var(&f.design, "design", "every combination or drawn points, as `WORD`: grid, latin_hypercube or sobol")
	flags.IntVar(&f.points, "points", 0, "draw `N` points")
	flags.BoolVar(&f.resume, "resume", false, "go on with an unfinished sweep in the folder of --out")
	flags.StringVar(&f.shard, "shard", "", "fly part `I/N` of the rows, with I from 0 to N-1, or /N or array (see above)")
	flags.BoolVar(&f.parquet, "parquet", false, "also write DIR/sweep.parquet")
}

// check tells values of flags that no flag reader refuses.
func (f *sweepFlags) check() error {
	switch {
	case f.resume && f.out == "":
		return badInputf("--resume needs the folder of the unfinished sweep: add --out DIR")
	case f.parquet && f.out == "":
		return badInputf("--parquet needs a folder: add --out DIR")
	case f.shardGiven && f.shard == "": // as of a variable that is not set
		return badInputf("--shard is empty: write I/N, as in 0/8, or leave it out to fly all")
	}
	if err := f.doubtFlags.check(); err != nil {
		return err
	}
	return f.common.check()
}

// sweep flies a study and prints what came of it.
func (p *program) sweep(ctx context.Context, file string, f *sweepFlags) error {
	if err := f.check(); err != nil {
		return err
	}
	s, err := f.prepare(file)
	if err != nil {
		return err
	}
	if err := f.makeFolder(file); err != nil {
		return err
	}
	if f.out == "" {
		return p.printSwept(s, f.format.word, func(take taker) error {
			order := sweep.InOrder{Shard: s.plan.Shard, Pass: take}
			columns := s.study.Columns()
			return p.flySweep(ctx, s, f, func(r *sweep.Row) error { return order.Add(r.Index, sweep.Cells(columns, r)) })
		})
	}
	if err := p.sweepInto(ctx, s, f); err != nil {
		return err
	}
	return p.printSwept(s, f.format.word, s.eachRow)
}

// flySweep flies what the plan says, with progress, unless rows run over the
// same terminal meanwhile.
func (p *program) flySweep(ctx context.Context, s *swept, f *sweepFlags, emit func(*sweep.Row) error) error {
	rowsRun := f.out == "" && f.format.word != "text" && p.out.terminal
	bar := p.progress("flights", s.manifest.Len()-s.there, f.noProgress || rowsRun)
	defer bar.end()
	return s.study.Run(ctx, s.plan, func(r *sweep.Row) error {
		bar.step()
		return emit(r)
	})
}

// sweepInto flies a study into the folder of --out and writes the files beside
// the rows.
func (p *program) sweepInto(ctx context.Context, s *swept, f *sweepFlags) error {
	j, err := sweep.OpenJournal(f.out, s.study, s.manifest, f.resume)
	if err != nil {
		return asBadInput(err)
	}
	s.folder = f.out
	if j.Finished() {
		p.say("the sweep in " + f.out + " is finished; nothing was flown")
	} else {
		err = p.flyInto(ctx, s, f, j)
	}
	if err == nil {
		err = s.writeFiles(f)
	}
	return errors.Join(err, j.Close())
}

// flyInto flies what a journal lacks, and finishes it.
func (p *program) flyInto(ctx context.Context, s *swept, f *sweepFlags, j *sweep.Journal) error {
	s.there = j.Count()
	if f.resume && s.there > 0 {
		p.say(fmt.Sprintf("%d of %s are there", s.there, counted(s.manifest.Len(), "flight")))
	}
	s.plan.Done = j.Has
	err := p.flySweep(ctx, s, f, j.Add)
	if err == nil {
		err = j.Finish()
	}
	if err != nil && j.InPlace() {
		p.say(fmt.Sprintf("%d of %s are safe in %s; the same command with --resume goes on", j.Count(), counted(s.manifest.Len(), "flight"), f.out))
	}
	return asBadInput(err)
}

// asBadInput marks the refusal of a folder as one that the user can mend.
func asBadInput(err error) error {
	if errors.As(err, new(sweep.Unfit)) {
		return badInput{err}
	}
	return err
}
