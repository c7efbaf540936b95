package sweep

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"runtime"
	"strconv"
	"strings"
	"testing"
)

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
	x := float64(1 + t.Index)
	return Outcome{
		Status: "within_limits", BoilMargin: 20 + 1/x, CoolingDrag: 300 / x, DragPower: 9e3 / x, RateOfClimb: 1 / x,
		Circuits: [2]Circuit{{Margin: x, Peak: x / 3, TimeToLimit: 700 + 1/x}, {Margin: 7 / x, Peak: 100 / x, TimeToLimit: math.Inf(1)}},
		Residual: 1e-9 / x,
	}
}

func held() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// mostMemory is what a sweep of any size may take, with its program [bytes].
const mostMemory = 150e6

// A whole process that sweeps 30,000 rows, with HOTCLIMB_LONG 100,000, writes and
// reads their tables stays below mostMemory, all that the runtime has asked the
// system for and the file of the program together. One row in a hundred is a flight.
func TestSweepFitsIntoMemory(t *testing.T) {
	const role = "HOTCLIMB_SWEEP_FOLDER"
	rows := 30000
	if os.Getenv("HOTCLIMB_LONG") != "" {
		rows = 100000
	}
	if dir := os.Getenv(role); dir != "" {
		sweepAll(t, dir, rows)
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		fmt.Printf("\nasked for %d bytes\n", m.Sys)
		return
	}
	program, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	file, err := os.Stat(program)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), program, "-test.run=^TestSweepFitsIntoMemory$")
	cmd.Env = append(os.Environ(), role+"="+t.TempDir())
	told, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v\n%s", err, told)
	}
	_, number, _ := strings.Cut(string(told), "asked for ")
	number, _, _ = strings.Cut(number, " ")
	asked, err := strconv.ParseInt(number, 10, 64)
	if err != nil {
		t.Fatalf("%v\n%s", err, told)
	}
	t.Logf("%d rows: %.1f MB asked for, %.1f MB of program", rows, float64(asked)/1e6, float64(file.Size())/1e6)
	if total := asked + file.Size(); total > mostMemory {
		t.Errorf("%d rows take %.1f MB, more than %.0f", rows, float64(total)/1e6, mostMemory/1e6)
	}
}

// sweepAll sweeps into a folder, flying one row in a hundred, and writes all tables.
func sweepAll(t *testing.T, dir string, rows int) {
	s := hotTow(t, rows, 2)
	fly := s.evaluation()
	s.Evaluate = func(ctx context.Context, trial Trial) (Outcome, error) {
		if trial.Index%100 == 0 {
			return fly(ctx, trial)
		}
		return closedOf(trial), nil
	}
	m := manifestOf(s, nil)
	flyInto(t, dir, s, m, false, -1)
	read := 0
	err := EachRow(dir, &m, func(int, []string) error { read++; return nil })
	if err = errors.Join(err, WriteParquet(dir, &m)); err != nil || read != rows {
		t.Fatalf("%d of %d rows: %v", read, rows, err)
	}
}
