package sweep

import (
	"context"
	"errors"
	"fmt"
	"os"
	"runtime"
	"testing"

	"hotclimb/scenarios"
)

// hotTow is a study of the tug's hot tow with n designs.
func hotTow(tb testing.TB, n, workers int) *Study {
	tb.Helper()
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		tb.Fatal(err)
	}
	s := &Study{Workers: workers}
	if s.Cases, err = sc.EffectiveCases([]string{"hot_tow"}, nil); err != nil {
		tb.Fatal(err)
	}
	for _, v := range []scenarios.Setting{
		{Path: "exits.belly.height", Text: "6 in..10 in"}, {Path: "inlets.chin.height", Text: "4.5 in..7 in"},
	} {
		f, err := FactorOf(s.Cases, v)
		if err != nil {
			tb.Fatal(err)
		}
		s.Factors = append(s.Factors, f)
	}
	if s.Designs, err = NewDesigns(SobolDesign, s.Factors, n, 1); err != nil {
		tb.Fatal(err)
	}
	return s
}

// BenchmarkRow is what a row of a sweep costs, all included, and what of it is
// not the flight.
func BenchmarkRow(b *testing.B) {
	for _, workers := range []int{1, 2} {
		b.Run(fmt.Sprintf("hot tow, %d workers", workers), func(b *testing.B) { benchmarkRows(b, workers, nil) })
	}
	empty := func(context.Context, Trial) (Outcome, error) { return Outcome{}, nil }
	b.Run("no flight", func(b *testing.B) { benchmarkRows(b, 1, empty) })
	b.Run("to be flown", func(b *testing.B) {
		s := hotTow(b, 1, 1)
		template := s.Cases[0].Scenario.Template()
		benchmarkRows(b, 1, func(_ context.Context, t Trial) (Outcome, error) {
			v, err := Vary(template, s.Factors, t.Levels)
			if err == nil {
				_, err = v.Build()
			}
			return Outcome{}, err
		})
	})
}

// benchmarkRows flies one row per round into a folder.
func benchmarkRows(b *testing.B, workers int, evaluate func(context.Context, Trial) (Outcome, error)) {
	s := hotTow(b, b.N, workers)
	s.Evaluate = evaluate
	j, err := OpenJournal(b.TempDir(), s, manifestOf(s, nil), false)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	b.ResetTimer()
	if err := s.Run(context.Background(), Plan{Done: j.Has}, j.Add); err != nil {
		b.Fatal(err)
	}
	if err := errors.Join(j.Finish(), j.Close()); err != nil {
		b.Fatal(err)
	}
}

// The memory that a sweep holds while it is flown and its table is read does not
// grow with its rows, but for a bit for each: with HOTCLIMB_LONG a hundred times
// as many are compared, else ten times.
func TestMemoryStaysFlat(t *testing.T) {
	const few, allowed = 1000, 1 << 18 // rows; bytes
	times := 10
	if os.Getenv("HOTCLIMB_LONG") != "" {
		times = 100
	}
	small, large := heldBy(t, few), heldBy(t, few*times)
	t.Logf("%d rows hold %d kB, %d rows %d kB", few, small>>10, few*times, large>>10)
	if large > small+allowed {
		t.Errorf("%d rows hold %d bytes, %d rows %d", few, small, few*times, large)
	}
}

// heldBy is the greatest heap that is in use while a sweep of so many rows is
// flown, and its table read, above that before it [bytes].
func heldBy(t *testing.T, rows int) uint64 {
	t.Helper()
	s := hotTow(t, rows, 2)
	s.Evaluate = func(_ context.Context, t Trial) (Outcome, error) { return closedOf(t), nil }
	m := manifestOf(s, nil)
	dir := t.TempDir()
	before := held()
	most := before
	look := func(row int) {
		if row%max(rows/8, 1) == 0 {
			most = max(most, held())
		}
	}
	j, err := OpenJournal(dir, s, m, false)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Run(t.Context(), Plan{Done: j.Has}, func(r *Row) error { look(r.Index); return j.Add(r) }); err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(j.Finish(), j.Close()); err != nil {
		t.Fatal(err)
	}
	if err := EachRow(dir, &m, func(row int, _ []string) error { look(row); return nil }); err != nil {
		t.Fatal(err)
	}
	return most - before
}

// closedOf is an outcome that differs from row to row.
func closedOf(t Trial) Outcome {
	x := float64(t.Index)
	return Outcome{Circuits: [2]Circuit{{Margin: x, Peak: x / 3}, {Margin: 7 / (1 + x)}}, CoolingDrag: x * x}
}

func held() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
