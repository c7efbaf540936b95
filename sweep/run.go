package sweep

import (
	"context"
	"fmt"
	"sync"
)

// Plan says which trials of a study are flown.
type Plan struct {
	Shard Shard
	// Done says that a row is there already; nil: none is. It is called by several
	// goroutines at once.
	Done func(row int) bool
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
	go q.work(flying)
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

	starting sync.Mutex
	started  int // trials; of starting
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

// work flies the trials, and closes q.ended when all that were started have ended.
func (q *queue) work(ctx context.Context) {
	defer close(q.ended)
	var workers sync.WaitGroup
	for range max(q.study.Workers, 1) {
		workers.Go(func() {
			for position, ok := q.start(ctx); ok; position, ok = q.start(ctx) {
				q.finish(ctx, position)
				q.ended <- position
			}
		})
	}
	workers.Wait()
}

// start is the next trial, when there is a place for it; false when there is none
// or ctx has ended. Workers take trials themselves, since one that hands them out
// would keep the others waiting whenever the system lets it wait.
func (q *queue) start(ctx context.Context) (position int, ok bool) {
	q.starting.Lock()
	defer q.starting.Unlock()
	if q.started == q.total {
		return 0, false
	}
	select {
	case q.tickets <- struct{}{}:
	case <-ctx.Done():
	}
	if ctx.Err() != nil {
		return 0, false
	}
	q.started++
	return q.started - 1, true
}

// finish flies a trial, unless its row is there already.
func (q *queue) finish(ctx context.Context, position int) {
	p, row := q.place(position), q.plan.Shard.Row(position)
	p.finished = false
	if p.skipped = q.plan.Done != nil && q.plan.Done(row); !p.skipped {
		q.try(ctx, row, p)
		p.finished = p.row.Err == nil || ctx.Err() == nil // else it may have been broken off
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
