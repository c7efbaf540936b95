package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sweep"
)

// TestNextWithoutDoubts: a scenario in which every number is known is bad input,
// as nothing can be learned.
func TestNextWithoutDoubts(t *testing.T) {
	sc, err := scenarios.LoadFile(filepath.Join("..", "..", "testdata", "script", "small.yaml"), nil)
	if err != nil {
		t.Fatal(err)
	}
	doubts, err := sweep.DoubtsOf(sc)
	if err != nil {
		t.Fatal(err)
	}
	known, err := sc.Edit(func(c *scenarios.Scenario) error {
		for k, p := range doubts.Params {
			if err := p.Set(c, doubts.Mean[k]); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	var text, stdout, stderr bytes.Buffer
	if err := scenarios.Write(&text, known); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "known.yaml")
	if err := os.WriteFile(file, text.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
	status := app(context.Background(), []string{"next", file, "--case", "cool"}, &stdout, &stderr)
	if status != exitBadInput || stdout.Len() > 0 || !strings.HasPrefix(stderr.String(), "hotclimb: case cool: no number carries a doubt: write") {
		t.Errorf("status %d, %s%s", status, &stdout, &stderr)
	}
}

// TestOdds: small chances keep a digit, and none is rounded away.
func TestOdds(t *testing.T) {
	for share, want := range map[float64]string{0: "0.0 %", 0.0004: "< 0.1 %", 0.034: "3.4 %", 0.0994: "9.9 %", 0.0996: "10 %", 0.45: "45 %", 0.9944: "99 %", 0.9976: "99.8 %", 0.9996: "> 99.9 %", 1: "100 %"} {
		if got := odds(share); got != want {
			t.Errorf("%g: %s, not %s", share, got, want)
		}
	}
}
