package sweep

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"hotclimb/scenarios"
	"hotclimb/sim"
)

// formula is a study of closed formulas: two numbers in two cases, 30·40·2
// trials. Evaluations take unequal time, so that rows overtake each other.
func formula(workers int) *Study {
	line := func(path string, n int) Factor {
		f := Factor{Param: scenarios.Param{Path: path, Dimension: scenarios.DimensionOf[scenarios.Ratio]()}}
		for i := range n {
			f.Values = append(f.Values, float64(i)/3)
		}
		f.Hi = slices.Max(f.Values)
		return f
	}
	s := &Study{
		Cases:   []scenarios.CaseScenario{{Name: "climb"}, {Name: "taxi, downwind"}},
		Factors: []Factor{line("a", 30), line("b", 40)},
		Workers: workers,
	}
	s.Designs, _ = Grid(s.Factors)
	s.Evaluate = func(_ context.Context, t Trial) (Outcome, error) {
		if t.Index%7 == 0 {
			time.Sleep(time.Duration(t.Index%5) * 10 * time.Microsecond)
		}
		return closed(t)
	}
	return s
}

// closed is the outcome of a trial of formula. Every 11th fails.
func closed(t Trial) (Outcome, error) {
	if t.Index%11 == 3 {
		return Outcome{}, fmt.Errorf("no cowl,\nat \"all\" %d", t.Index)
	}
	a, b := t.Levels[0].Number, t.Levels[1].Number
	o := Outcome{
		Status: sim.Caution, BoilMargin: math.Inf(1), CoolingDrag: a * b, RateOfClimb: float64(t.Case),
		Circuits: [2]Circuit{{"coolant_out", a, 100 - a, math.Inf(1)}, {"oil_sump", b, 100 - b, a + b}},
	}
	if t.Index%5 == 0 {
		o.Exchangers = []sim.ExchangerState{{Name: "left", Reversed: true}, {Name: "mid"}, {Name: "right", Reversed: true}}
		o.Incomplete = "climb"
	}
	return o, nil
}

// table runs a study and returns its table as text, in order.
func tableOf(t *testing.T, s *Study, plan Plan) string {
	t.Helper()
	var b strings.Builder
	columns := s.Columns()
	order := InOrder{Shard: plan.Shard, Pass: func(cells []string) error {
		b.WriteString(strings.Join(cells, "|") + "\n")
		return nil
	}}
	err := s.Run(t.Context(), plan, func(r *Row) error { return order.Add(r.Index, Cells(columns, r)) })
	if err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestRunGivesSameRowsForAllWorkers(t *testing.T) {
	want := tableOf(t, formula(1), Plan{})
	if n := strings.Count(want, "\n"); n != 2400 {
		t.Fatalf("%d rows, want 2400", n)
	}
	for _, workers := range []int{0, 2, 8} {
		if got := tableOf(t, formula(workers), Plan{}); got != want {
			t.Errorf("%d workers give other rows", workers)
		}
	}
}

// Row 1 is the first design in the second case; row 165 fails no rule of closed
// but the one of every fifth: design 82 is a = 2/3, b = 2/3.
func TestCells(t *testing.T) {
	s := formula(1)
	rows := strings.Split(tableOf(t, s, Plan{}), "\n")
	for row, want := range map[int]string{
		1:   "1|0|0|taxi, downwind|caution|0|0|100|100|||0|0|0|1|0|||0|",
		3:   `3|0|0.3333333333333333|taxi, downwind|failed|||||||||||||||no cowl, at "all" 3`,
		165: "165|0.6666666666666666|0.6666666666666666|taxi, downwind|caution|0.66666667|0.66666667|99.333333|99.333333|||1.3333333|0.44444444|0|1|0|left right|climb|0|",
	} {
		if rows[row] != want {
			t.Errorf("row %d is\n%s, want\n%s", row, rows[row], want)
		}
	}
}

func TestRunFliesWhatIsMissing(t *testing.T) {
	s := formula(3)
	shard := Shard{1, 4}
	var rows []int
	err := s.Run(t.Context(), Plan{Shard: shard, Done: func(row int) bool {
		if !shard.Has(row) {
			t.Errorf("row %d of another shard is asked for", row)
		}
		return row%3 == 0
	}}, func(r *Row) error {
		rows = append(rows, r.Index)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(rows)
	var want []int
	for i := range s.Len() {
		if i%4 == 1 && i%3 != 0 {
			want = append(want, i)
		}
	}
	if !slices.Equal(rows, want) {
		t.Errorf("flown %v", rows)
	}
}

func TestShards(t *testing.T) {
	for _, rows := range []int{0, 1, 7, 8, 9} {
		for _, of := range []int{1, 3, 8, 12} {
			seen := make([]int, rows)
			for index := range of {
				s := Shard{index, of}
				for position := range s.Len(rows) {
					row := s.Row(position)
					if !s.Has(row) || s.position(row) != position {
						t.Errorf("%v: row %d, position %d", s, row, position)
					}
					seen[row]++
				}
			}
			for row, n := range seen {
				if n != 1 {
					t.Errorf("row %d of %d is in %d of %d shards", row, rows, n, of)
				}
			}
		}
	}
	whole := Shard{}
	if whole.Len(9) != 9 || whole.Row(4) != 4 || !whole.Has(4) || whole.Has(-1) {
		t.Error("the zero shard is not the whole")
	}
}

func TestPanicIsARow(t *testing.T) {
	s := formula(2)
	s.Evaluate = func(_ context.Context, t Trial) (Outcome, error) {
		if t.Index == 5 {
			panic("a hole in the cowl")
		}
		return closed(t)
	}
	rows := strings.Split(tableOf(t, s, Plan{}), "\n")
	if !strings.HasSuffix(rows[5], "|failed|||||||||||||||internal fault, please report it: a hole in the cowl") {
		t.Errorf("row 5 is %s", rows[5])
	}
	if !strings.Contains(rows[6], "|caution|") {
		t.Errorf("its neighbour is %s", rows[6])
	}
}

// badDesigns panics where At is called.
type badDesigns struct{ Designs }

func (badDesigns) At(int, []Level) { panic("no such design") }

func TestPanicOfDesignsIsARow(t *testing.T) {
	s := formula(1)
	s.Designs = badDesigns{s.Designs}
	n := 0
	err := s.Run(t.Context(), Plan{}, func(r *Row) error {
		if n++; r.Err == nil {
			t.Fatalf("row %d has no fault", r.Index)
		}
		return nil
	})
	if err != nil || n != 2400 {
		t.Errorf("%d rows, %v", n, err)
	}
}

func TestEmitErrorEndsTheRun(t *testing.T) {
	full := errors.New("no space left")
	s := formula(4)
	rows := 0
	err := s.Run(t.Context(), Plan{}, func(*Row) error {
		if rows++; rows == 10 {
			return full
		}
		return nil
	})
	if !errors.Is(err, full) || rows != 10 {
		t.Errorf("%d rows, %v", rows, err)
	}
}

// A run that is cancelled hands over no row of a flight that was broken off,
// and says so; all it hands over is right.
func TestCancelledFlightsAreNoRows(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	s := formula(4)
	s.Evaluate = func(flying context.Context, t Trial) (Outcome, error) {
		if t.Index >= 100 {
			cancel()
			<-flying.Done()
			return Outcome{}, flying.Err()
		}
		return Outcome{}, nil
	}
	rows := 0
	err := s.Run(ctx, Plan{}, func(r *Row) error {
		if rows++; r.Err != nil {
			t.Errorf("row %d: %v", r.Index, r.Err)
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) || rows != 100 {
		t.Errorf("%d rows, %v", rows, err)
	}
}

// A cancel that breaks off the last trials of all leaves rows out, and Run says
// so.
func TestCancelledLastTrial(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	s := formula(4)
	last := s.Len() - 1
	s.Evaluate = func(flying context.Context, t Trial) (Outcome, error) {
		if t.Index == last {
			cancel()
			<-flying.Done()
			return Outcome{}, flying.Err()
		}
		return Outcome{}, nil
	}
	rows := 0
	err := s.Run(ctx, Plan{}, func(*Row) error { rows++; return nil })
	if !errors.Is(err, context.Canceled) || rows != last {
		t.Errorf("%d rows, %v", rows, err)
	}
}

// A fault is told without the name of its file, on one line.
func TestFaultWithoutPlaces(t *testing.T) {
	s := formula(1)
	faults := scenarios.Faults{
		{File: "/a/b.yaml", Line: 3, Column: 7, Path: "day.temperature", Message: "is\nmissing", Hint: "write it"},
		{File: "/a/b.yaml", Line: 4, Column: 7, Path: "exits", Message: "is empty"},
	}
	row := Row{Trial: s.trial(0, make([]Level, len(s.Factors))), Err: fmt.Errorf("no scenario: %w", faults)}
	cells := Cells(s.Columns(), &row)
	if got, want := cells[len(cells)-1], "day.temperature: is missing (write it) exits: is empty"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}

// A cancel that comes when the last row has been finished is too late.
func TestCancelAfterTheLastRow(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	rows := 0
	err := formula(1).Run(ctx, Plan{}, func(*Row) error {
		if rows++; rows == 2400 {
			cancel()
		}
		return nil
	})
	if err != nil || rows != 2400 {
		t.Errorf("%d rows, %v", rows, err)
	}
}

// While the oldest trial is not finished, no more than ahead trials per worker
// are started after it, and rows done already count.
func TestRunStaysNearTheOldest(t *testing.T) {
	const last = 2*ahead - 1
	for name, done := range map[string]func(int) bool{"none": nil, "odd": func(row int) bool { return row%2 == 1 }} {
		s := formula(2)
		held := make(chan struct{})
		release := sync.OnceFunc(func() { close(held) })
		s.Evaluate = func(_ context.Context, t Trial) (Outcome, error) {
			if t.Index == 0 {
				<-held
			}
			return Outcome{}, nil
		}
		furthest := 0
		err := s.Run(t.Context(), Plan{Done: done}, func(r *Row) error {
			select {
			case <-held:
				return nil
			default:
			}
			if furthest = max(furthest, r.Index); furthest >= last-1 {
				time.AfterFunc(20*time.Millisecond, release) // time to go too far
			}
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
		if furthest > last {
			t.Errorf("%s done: row %d is finished before row 0, want none after %d", name, furthest, last)
		}
	}
}
