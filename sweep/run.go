package sweep

import (
	"context"
	"fmt"

	"golang.org/x/sync/errgroup"
)

// Plan says which trials of a study are flown.
type Plan struct {
	Shard Shard
	Done  func(row int) bool // says that a row is there already; nil: none is
}

// ahead is how many trials per worker may be started, or found done, past the
// oldest that is not finished. It bounds the memory of a run and the disorder
// of its rows.
const ahead = 64

// Run flies the trials of a plan, Study.Workers at a time, and hands each row
// over when it is finished. Trials start in the order of their numbers; rows
// come in the order in which they finish. emit is called by one goroutine at a
// time; the row is overwritten after it returns. Its error ends the run.
//
// A trial that fails, even by a panic, is a row with its reason. When ctx ends,
// flights under way give no rows, and Run returns the error of ctx.
func (s *Study) Run(ctx context.Context, plan Plan, emit func(*Row) error) error {
	flying, stop := context.WithCancel(ctx)
	defer stop()
	q := newQueue(s, plan)
	go q.fill(flying)
	var failed error
	for position := range q.ended {
		if p := q.place(position); p.finished && failed == nil {
			if failed = emit(&p.row); failed != nil {
				stop()
			}
		}
		q.release(position)
	}
	switch {
	case failed != nil:
		return failed
	case q.oldest < q.total || q.dropped:
		return ctx.Err()
	}
	return nil
}

// queue holds the trials between the oldest that is not finished and the next
// to be started. The place of a trial is used again once it and all before it
// have ended.
type queue struct {
	study    *Study
	evaluate func(context.Context, Trial) (Outcome, error)
	plan     Plan
	total    int // trials of the plan

	places  []place
	tickets chan struct{} // one for each place in use
	ended   chan int      // positions, in the order in which they end
	oldest  int           // position
	dropped bool          // a trial ended without a row
}

// place is room for one trial.
type place struct {
	row      Row
	levels   []Level
	finished bool // row is a row
	skipped  bool // it was there already
	released bool // its trial has ended; for the goroutine of Run alone
}

func newQueue(s *Study, plan Plan) *queue {
	n := ahead * max(s.Workers, 1)
	q := &queue{
		study: s, evaluate: s.evaluation(), plan: plan, total: plan.Shard.Len(s.Len()),
		places: make([]place, n), tickets: make(chan struct{}, n), ended: make(chan int, n),
	}
	levels := make([]Level, n*len(s.Factors))
	for i := range q.places {
		q.places[i].levels, levels = levels[:len(s.Factors):len(s.Factors)], levels[len(s.Factors):]
	}
	return q
}

func (q *queue) place(position int) *place { return &q.places[position%len(q.places)] }

// fill starts the trials in order, and closes q.ended when all that were
// started have ended.
func (q *queue) fill(ctx context.Context) {
	defer close(q.ended)
	var g errgroup.Group
	g.SetLimit(max(q.study.Workers, 1))
	defer func() { _ = g.Wait() }() // no trial returns an error there
	for position := range q.total {
		select {
		case q.tickets <- struct{}{}:
		case <-ctx.Done():
		}
		if ctx.Err() != nil {
			return
		}
		p := q.place(position)
		p.finished = false
		row := q.plan.Shard.Row(position)
		if p.skipped = q.plan.Done != nil && q.plan.Done(row); p.skipped {
			q.ended <- position
			continue
		}
		g.Go(func() error {
			q.try(ctx, row, p)
			p.finished = p.row.Err == nil || ctx.Err() == nil // else it may have been broken off
			q.ended <- position
			return nil
		})
	}
}

// release gives back the place of a trial that has ended, once all before it
// have.
func (q *queue) release(position int) {
	p := q.place(position)
	p.released = true
	q.dropped = q.dropped || !p.finished && !p.skipped
	for q.oldest < q.total && q.place(q.oldest).released {
		q.place(q.oldest).released = false
		q.oldest++
		<-q.tickets
	}
}

// try flies a trial into its place. A panic becomes an error.
func (q *queue) try(ctx context.Context, row int, p *place) {
	defer func() {
		if r := recover(); r != nil {
			p.row.Outcome, p.row.Err = Outcome{}, fmt.Errorf("internal fault, please report it: %v", r)
		}
	}()
	p.row.Trial = q.study.trial(row, p.levels)
	p.row.Outcome, p.row.Err = q.evaluate(ctx, p.row.Trial)
}
