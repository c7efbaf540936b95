package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"net"
	"net/http"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"
)

// cancelled is a context that is done.
func cancelled() context.Context {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	return ctx
}

// A taken port is no trouble unless it was asked for.
func TestServePortTaken(t *testing.T) {
	usual := strconv.Itoa(usualPort)
	if listener, err := net.Listen("tcp", "127.0.0.1:"+usual); err == nil {
		defer listener.Close()
	} // else somebody else has it
	var stdout, stderr bytes.Buffer
	status := app(cancelled(), []string{"serve", "tug"}, &stdout, &stderr)
	if status != exitDone || !strings.HasPrefix(stdout.String(), "http://127.0.0.1:") || strings.Contains(stdout.String(), usual) ||
		!strings.Contains(stderr.String(), "hotclimb: port "+usual+" is taken, so another one is used\n") {
		t.Errorf("exit status %d\n%s%s", status, &stdout, &stderr)
	}
	stdout.Reset()
	stderr.Reset()
	status = app(cancelled(), []string{"serve", "tug", "--port", usual}, &stdout, &stderr)
	if want := "hotclimb: cannot listen on port " + usual + ": address already in use\n"; status != exitFailed || stdout.Len() > 0 || stderr.String() != want {
		t.Errorf("exit status %d\n%s%s", status, &stdout, &stderr)
	}
}

// A scenario with faults is answered as run answers it.
func TestServeFaults(t *testing.T) {
	for _, args := range [][]string{
		{"tug", "--set", "day.temperature=5 mph"},
		{"tug", "--set", "inlets.chin.kind=hole", "--workers", "0"},
		{"tgu"},
		{"tug", "--over", "none.yaml"},
		{"tug", "--set", "day.temperature=beer", "--set", "exits.belly.area=5 mph"},
	} {
		var stdout, stderr, same bytes.Buffer
		status := app(cancelled(), append([]string{"serve", "--port", "0"}, args...), &stdout, &stderr)
		want := app(cancelled(), append([]string{"run"}, args...), io.Discard, &same)
		if status != want || stderr.String() != same.String() || status != exitBadInput {
			t.Errorf("%q: exit status %d, %s\nrun: %d, %s", args, status, &stderr, want, &same)
		}
	}
}

func TestServeWrongFlags(t *testing.T) {
	for _, test := range [][2]string{
		{"--port=-1", "hotclimb: --port -1: must be from 0 to 65535\n"},
		{"--port=65536", "hotclimb: --port 65536: must be from 0 to 65535\n"},
		{"--port=http", "hotclimb: --port \"http\": must be a whole number\n"},
	} {
		var stdout, stderr bytes.Buffer
		if status := app(cancelled(), []string{"serve", "tug", test[0]}, &stdout, &stderr); status != exitBadInput || stderr.String() != test[1] {
			t.Errorf("%s: exit status %d, %s", test[0], status, &stderr)
		}
	}
}

// Only this computer is answered, by its own name; and the end of the program ends
// a study under way at once.
func TestServeEnds(t *testing.T) {
	over := filepath.Join(t.TempDir(), "fine.yaml")
	fine := "sweep:\n  vary:\n    exits.belly.area: 80 in^2..120 in^2:90\n    day.temperature: 85 degF..105 degF:90\n"
	if err := os.WriteFile(over, []byte(fine), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	s := startServing(t, ctx, filepath.Join(scripts, "small.yaml"), "--over", over)
	if !strings.HasPrefix(s.address, "http://127.0.0.1:") {
		t.Fatalf("the address is %s", s.address)
	}
	foreign, err := http.NewRequest(http.MethodGet, s.address, nil)
	if err != nil {
		t.Fatal(err)
	}
	foreign.Host = "hotclimb.example"
	if answer, err := http.DefaultClient.Do(foreign); err != nil || answer.StatusCode != http.StatusForbidden {
		t.Errorf("a foreign name is answered with %v, %v", answer, err)
	}
	study, err := http.Post(s.address+"/study/sweep", "application/json", strings.NewReader(`{"case":"hot","edits":[],"pinned":null}`))
	if err != nil {
		t.Fatal(err)
	}
	defer study.Body.Close()
	first := make([]byte, 20)
	if _, err := io.ReadFull(study.Body, first); err != nil || !strings.HasPrefix(string(first), `{"done":`) {
		t.Fatalf("the sweep says %q, %v", first, err)
	}
	begun := time.Now()
	cancel()
	if status := s.wait(); status != exitDone {
		t.Errorf("exit status %d", status)
	}
	if took := time.Since(begun); took > 2*time.Second {
		t.Errorf("it took %v to end", took)
	}
}

// serving is the command serve under way.
type serving struct {
	address string
	status  chan int
	stderr  *bytes.Buffer // to be read when it has ended
}

// startServing serves as the command does, until the context ends.
func startServing(t *testing.T, ctx context.Context, args ...string) *serving {
	t.Helper()
	printed, out := io.Pipe()
	s := &serving{status: make(chan int, 1), stderr: &bytes.Buffer{}}
	go func() {
		s.status <- app(ctx, append([]string{"serve", "--port", "0"}, args...), out, s.stderr) // a later --port holds
		_ = out.Close()                                                                        // of a pipe: never fails
	}()
	line, err := bufio.NewReader(printed).ReadString('\n')
	if err != nil {
		t.Fatalf("serve %v printed no address: %q\n%s", args, line, s.stderr)
	}
	s.address = strings.TrimSuffix(strings.TrimSpace(line), "/")
	return s
}

// wait waits for its end, and returns the exit status.
func (s *serving) wait() int { return <-s.status }
