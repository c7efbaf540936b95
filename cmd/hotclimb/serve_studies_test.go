package main

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"strings"
	"sync"
	"testing"

	"hotclimb/plots/bench"
	"hotclimb/scenarios"
)

// servedStudies are the studies of small.yaml with some overlays.
func servedStudies(t *testing.T, over ...string) (*scenarios.Scenario, map[string]bench.Study) {
	t.Helper()
	p := &program{out: newScreen(&bytes.Buffer{}), err: newScreen(&bytes.Buffer{})}
	sc, err := scenarios.LoadFile("small.yaml", over)
	if err != nil {
		t.Fatal(err)
	}
	studies := map[string]bench.Study{}
	for _, s := range p.studies(sc, "small.yaml", 2) {
		studies[s.Name] = s
	}
	return sc, studies
}

// TestServedStudies: each study says what its command does, of the scenario as it is
// edited, tells its progress and stands above cautions.
func TestServedStudies(t *testing.T) {
	inFolder(t)
	sc, studies := servedStudies(t, "studied.yaml")
	edited, err := sc.WithCaseSettings([]scenarios.CaseSetting{{Case: "hot", Setting: scenarios.Setting{Path: "day.temperature", Text: "100 degF"}}})
	if err != nil {
		t.Fatal(err)
	}
	write := func(w io.Writer) error { return scenarios.Write(w, edited) }
	if err := writeWhole("edited.yaml", write); err != nil {
		t.Fatal(err)
	}
	for name, args := range map[string][]string{
		"rank": {"rank"}, "size": {"size", "--trade"}, "limits": {"limits"}, "sweep": {"sweep"},
	} {
		page := ran(t, studies[name], edited)
		saysLines(t, page, append(args, "edited.yaml"))
		if !strings.Contains(page, "an estimate, not a cooling test.") {
			t.Errorf("%s has no cautions", name)
		}
	}
	if page := ran(t, studies["report"], edited); !strings.Contains(page, "on a 100 °f day this climb (hot) reaches") {
		t.Error("the report is of another day")
	}
}

// ran is what a study says.
func ran(t *testing.T, s bench.Study, sc *scenarios.Scenario) string {
	t.Helper()
	var out bytes.Buffer
	var lock sync.Mutex
	calls, whole := 0, 0
	job := bench.Job{Scenario: sc, Out: &out, Progress: func(done, total int) {
		lock.Lock()
		defer lock.Unlock()
		if calls++; done < 1 || done > total || whole > 0 && total != whole {
			t.Errorf("%s: %d of %d are done", s.Name, done, total)
		}
		whole = total
	}}
	if err := s.Run(context.Background(), job); err != nil {
		t.Fatalf("%s: %v", s.Name, err)
	}
	if calls == 0 || s.Missing != "" {
		t.Errorf("%s: %d steps were told; missing: %q", s.Name, calls, s.Missing)
	}
	return pageWords(out.String())
}

// TestServedStudiesMissing: what a scenario has no section for cannot be started.
func TestServedStudiesMissing(t *testing.T) {
	inFolder(t)
	_, studies := servedStudies(t)
	for name, missing := range map[string]string{
		"rank": "", "limits": "", "report": "",
		"size":  "The scenario has no section size, so there is nothing to size.",
		"sweep": "The scenario has no section sweep, so nothing says what to vary.",
	} {
		if got := studies[name].Missing; got != missing {
			t.Errorf("%s: missing %q, want %q", name, got, missing)
		}
	}
	small, err := os.ReadFile("small.yaml")
	if err != nil {
		t.Fatal(err)
	}
	level := strings.NewReplacer("kind: climb", "kind: level", "to_altitude: 3000 ft", "for: 2 min").Replace(string(small))
	sc, err := scenarios.Load(scenarios.Source{Name: "level.yaml", Text: []byte(level)})
	if err != nil {
		t.Fatal(err)
	}
	if got := noClimb(sc); !strings.HasPrefix(got, "no case has a climb leg") {
		t.Errorf("without a climb: %q", got)
	}
}

// TestServedStudiesStop: each ends with its context, and writes nothing then.
func TestServedStudiesStop(t *testing.T) {
	inFolder(t)
	sc, studies := servedStudies(t, "studied.yaml")
	for name, s := range studies {
		ctx, cancel := context.WithCancel(context.Background())
		var out bytes.Buffer
		var once sync.Once
		err := s.Run(ctx, bench.Job{Scenario: sc, Out: &out, Progress: func(int, int) { once.Do(cancel) }})
		if !errors.Is(err, context.Canceled) || out.Len() > 0 {
			t.Errorf("%s: %v, %d bytes", name, err, out.Len())
		}
		cancel()
	}
}
