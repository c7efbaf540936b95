package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"hotclimb/sweep"
)

// A sweep that is killed twice and interrupted once in the middle, and resumed
// each time, has the bytes of an undisturbed one. No row that was finished is
// flown again.
func TestKilledSweepResumes(t *testing.T) {
	dir := t.TempDir()
	small, err := filepath.Abs(filepath.Join(scripts, "small.yaml"))
	if err != nil {
		t.Fatal(err)
	}
	begin := func(out string, more ...string) *exec.Cmd {
		args := append([]string{"sweep", small, "--vary", "inlets.chin.area=40 in^2..60 in^2:10",
			"--vary", "exits.belly.area=50 in^2..90 in^2:20", "--out", filepath.Join(dir, out)}, more...)
		cmd := exec.Command(name, args...)
		cmd.Stderr = &bytes.Buffer{}
		return cmd
	}
	if err := begin("whole", "--workers", "1", "--parquet").Run(); err != nil {
		t.Fatal(err)
	}
	there := 0
	for _, stop := range []struct {
		at     int // rows
		signal os.Signal
	}{{40, os.Kill}, {120, os.Kill}, {250, os.Interrupt}} {
		cmd := begin("broken", "--workers", "2", "--resume", "--parquet")
		now := stopAt(t, cmd, filepath.Join(dir, "broken", "sweep.csv.part"), stop.at, stop.signal)
		if now < stop.at || now < there {
			t.Errorf("%d rows after %d", now, there)
		}
		there = now
		told := cmd.Stderr.(*bytes.Buffer).String()
		if stop.signal == os.Interrupt && !strings.HasSuffix(told, "; the same command with --resume goes on\nhotclimb: interrupted\n") {
			t.Errorf("interrupted, it says %s", told)
		}
	}
	last := begin("broken", "--workers", "2", "--resume", "--parquet")
	if err := last.Run(); err != nil {
		t.Fatalf("%v\n%s", err, last.Stderr)
	}
	if told, want := last.Stderr.(*bytes.Buffer).String(), fmt.Sprintf("hotclimb: %d of 400 flights are there\n", there); told != want {
		t.Errorf("resumed, it says %s, want %s", told, want)
	}
	for _, file := range []string{sweep.RowsFile, sweep.ManifestFile, sweep.ParquetFile, writtenScenario, "contour.svg", "sensitivity.png"} {
		sameBytes(t, filepath.Join(dir, "whole", file), filepath.Join(dir, "broken", file))
	}
	if entries, err := os.ReadDir(filepath.Join(dir, "broken")); err != nil || len(entries) != 8 {
		t.Errorf("left in the folder: %v, %v", entries, err)
	}
}

// stopAt starts a sweep, stops it when its part file has so many whole lines,
// and returns how many it has in the end.
func stopAt(t *testing.T, cmd *exec.Cmd, part string, lines int, signal os.Signal) int {
	t.Helper()
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	for deadline := time.Now().Add(time.Minute); countLines(part) < lines; time.Sleep(2 * time.Millisecond) {
		if time.Now().After(deadline) {
			t.Fatalf("the sweep does not get to %d rows\n%s", lines, cmd.Stderr)
		}
	}
	if err := cmd.Process.Signal(signal); err != nil {
		t.Fatal(err)
	}
	if err := cmd.Wait(); !errors.As(err, new(*exec.ExitError)) {
		t.Fatalf("stopped at %d rows, it ends with %v", lines, err)
	}
	return countLines(part)
}

func countLines(path string) int {
	text, _ := os.ReadFile(path) // no lines while there is none
	return bytes.Count(text, []byte("\n"))
}

func sameBytes(t *testing.T, a, b string) {
	t.Helper()
	x, err := os.ReadFile(a)
	if err != nil {
		t.Fatal(err)
	}
	y, err := os.ReadFile(b)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(x, y) {
		t.Errorf("%s and %s differ", a, b)
	}
}
