package sweep

import (
	"context"
	"errors"
	"fmt"
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
	perSecond(b)
}

// perSecond reports rounds, each of which is a row, per second.
func perSecond(b *testing.B) { b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "rows/s") }

// BenchmarkJournal is what the table of a sweep costs per row: to add it, and to
// put all rows in order and read them once at the end.
func BenchmarkJournal(b *testing.B) {
	b.Run("add", func(b *testing.B) {
		_, j := addRows(b, b.TempDir(), b.N)
		b.StopTimer()
		perSecond(b)
		if err := j.Close(); err != nil {
			b.Fatal(err)
		}
	})
	b.Run("finish and read", func(b *testing.B) {
		dir := b.TempDir()
		m, j := addRows(b, dir, b.N)
		b.ResetTimer()
		err := errors.Join(j.Finish(), j.Close())
		if err == nil {
			err = EachRow(dir, m, func(int, []string) error { return nil })
		}
		if err != nil {
			b.Fatal(err)
		}
		perSecond(b)
	})
}

// addRows adds so many rows to the journal of a sweep in a folder.
func addRows(b *testing.B, dir string, rows int) (*Manifest, *Journal) {
	s := hotTow(b, rows, 1)
	m := manifestOf(s, nil)
	j, err := OpenJournal(dir, s, m, false)
	if err != nil {
		b.Fatal(err)
	}
	levels := make([]Level, len(s.Factors))
	b.ReportAllocs()
	b.ResetTimer()
	for i := range rows {
		t := s.trial(i, levels)
		if err := j.Add(&Row{Trial: t, Outcome: closedOf(t)}); err != nil {
			b.Fatal(err)
		}
	}
	return &m, j
}

// What a row costs but for its flight, in allocations: a variant of the tug's hot
// tow with two openings set, and a line of the table. The numbers are exact.
func TestAllocationsOfARow(t *testing.T) {
	s := hotTow(t, 1, 1)
	template, trial := s.Cases[0].Scenario.Template(), s.trial(0, make([]Level, len(s.Factors)))
	variant := testing.AllocsPerRun(100, func() {
		v, err := Vary(template, s.Factors, trial.Levels)
		if err == nil {
			_, err = v.Build()
		}
		if err != nil {
			t.Fatal(err)
		}
	})
	if variant != 37 {
		t.Errorf("a variant takes %v allocations, want 37", variant)
	}
	j, err := OpenJournal(t.TempDir(), s, manifestOf(s, nil), false)
	if err != nil {
		t.Fatal(err)
	}
	row := &Row{Trial: trial, Outcome: closedOf(trial)}
	line := testing.AllocsPerRun(100, func() {
		if err := j.Add(row); err != nil {
			t.Fatal(err)
		}
	})
	if line != 12 {
		t.Errorf("a line takes %v allocations, want 12", line)
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
}
