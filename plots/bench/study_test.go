package bench

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"
)

// lines are those of a stream.
func lines(t *testing.T, body io.Reader) []line {
	t.Helper()
	var list []line
	for s := bufio.NewScanner(body); s.Scan(); {
		var l line
		if err := json.Unmarshal(s.Bytes(), &l); err != nil {
			t.Fatalf("%s: %v", s.Text(), err)
		}
		list = append(list, l)
	}
	return list
}

// TestStudies: how studies end, and that they get the scenario with the edits.
func TestStudies(t *testing.T) {
	b := smallBench(t)
	write := func(_ context.Context, job Job) error {
		job.Progress(1, 2)
		fmt.Fprintf(job.Out, "<p>%q & %q</p>", job.Scenario.Cases[0].Set, job.Scenario.Cases[1].Set)
		return nil
	}
	b.Studies = []Study{
		{Name: "page", Run: write},
		{Name: "file", File: "report.html", Run: write},
		{Name: "fails", Run: func(context.Context, Job) error { return errors.New("no openings satisfy the limits") }},
		{Name: "panics", Run: func(context.Context, Job) error { panic("oh") }},
		{Name: "missing", Missing: "The scenario has no section sweep."},
	}
	h := handler(t, b)
	const edits = `{"case":"hot","edits":[{"path":"exits.belly.area","value":"50 in^2"}]}`
	const html = `<p>map["exits.belly.area":"50 in^2"] & map["exits.belly.area":"50 in^2"]</p>`
	for name, want := range map[string]line{
		"page": {HTML: html}, "file": {File: "report.html", Text: html},
		"fails": {Error: "no openings satisfy the limits"}, "panics": {Error: "internal fault, please report it: oh"},
	} {
		w := serve(h, asking("POST", "/study/"+name, edits))
		list := lines(t, w.Body)
		got := list[len(list)-1]
		if w.Code != 200 || got != want || w.Header().Get("Content-Type") != "application/x-ndjson" {
			t.Errorf("%s: status %d, %+v, want %+v", name, w.Code, got, want)
		}
		if told := len(list) == 2 && *list[0].Done == 1 && *list[0].Total == 2; told != (want.Error == "") {
			t.Errorf("%s: progress %+v", name, list)
		}
	}
	for target, want := range map[string]int{"/study/missing": 409, "/study/nothing": 404, "/study/": 404, "/study/a/b": 404} {
		if w := serve(h, asking("POST", target, edits)); w.Code != want {
			t.Errorf("%s: status %d, want %d", target, w.Code, want)
		}
	}
	if w := serve(h, asking("POST", "/study/page", `{"edits":[{"path":"exits.belly.area","value":"1"}]}`)); w.Code != 422 {
		t.Errorf("a study of a bad edit: status %d", w.Code)
	}
}

// TestProgress: many steps give few lines, from any goroutine, and none behind the
// last.
func TestProgress(t *testing.T) {
	b := smallBench(t)
	late := make(chan func(int, int), 1)
	b.Studies = []Study{{Name: "long", Run: func(_ context.Context, job Job) error {
		var all sync.WaitGroup
		for i := range 500 {
			all.Go(func() { job.Progress(i, 500) })
		}
		all.Wait()
		time.Sleep(betweenLines + 20*time.Millisecond)
		job.Progress(500, 500)
		late <- job.Progress
		return nil
	}}}
	w := serve(handler(t, b), asking("POST", "/study/long", `{}`))
	time.Sleep(betweenLines)
	(<-late)(501, 500)
	list := lines(t, w.Body)
	if n := len(list); n < 3 || n > 8 || *list[n-2].Done != 500 || list[n-1] != (line{HTML: ""}) {
		t.Errorf("%d lines, at last %+v", n, list[max(0, n-2):])
	}
}

// waiting is a study that says when it begins and when it is told to end.
func waiting(name string, begun, ended chan string) Study {
	return Study{Name: name, Run: func(ctx context.Context, job Job) error {
		begun <- name
		<-ctx.Done()
		ended <- name
		return ctx.Err()
	}}
}

// TestMostStudies: the third is told to wait, and has its place when one of the
// others is broken off.
func TestMostStudies(t *testing.T) {
	b := smallBench(t)
	begun, ended := make(chan string), make(chan string, 3)
	b.Studies = []Study{waiting("one", begun, ended), waiting("two", begun, ended), waiting("three", begun, ended)}
	h := handler(t, b)
	var one, all sync.WaitGroup
	start := func(name string, group *sync.WaitGroup) context.CancelFunc {
		ctx, cancel := context.WithCancel(t.Context())
		group.Go(func() {
			w := serve(h, asking("POST", "/study/"+name, `{}`).WithContext(ctx))
			if !strings.Contains(w.Body.String(), `{"error":"it was broken off`) {
				t.Errorf("%s, broken off, says %s", name, w.Body)
			}
		})
		if got := <-begun; got != name {
			t.Errorf("%s begins in place of %s", got, name)
		}
		return cancel
	}
	first, second := start("one", &one), start("two", &all)
	w := serve(h, asking("POST", "/study/three", `{}`))
	if w.Code != http.StatusServiceUnavailable || w.Header().Get("Retry-After") == "" || !strings.Contains(w.Body.String(), "2 studies are under way") {
		t.Errorf("the third: status %d, %v, %s", w.Code, w.Header(), w.Body)
	}
	if w := serve(h, asking("POST", "/fly", `{}`)); w.Code != 200 {
		t.Errorf("a move beside two studies: status %d", w.Code)
	}
	first()
	if got := <-ended; got != "one" {
		t.Errorf("%s ended", got)
	}
	one.Wait()
	third := start("three", &all)
	second()
	third()
	all.Wait()
}

// TestStudyOfNobody: a page that goes away takes its study with it.
func TestStudyOfNobody(t *testing.T) {
	b := smallBench(t)
	begun, ended := make(chan string), make(chan string)
	b.Studies = []Study{waiting("one", begun, ended)}
	s := httptest.NewServer(handler(t, b))
	defer s.Close()
	ctx, cancel := context.WithCancel(t.Context())
	r := realRequest(t, s.URL, "/study/one", `{}`).WithContext(ctx)
	failed := make(chan error)
	go func() {
		answer, err := s.Client().Do(r)
		if err == nil {
			_, err = io.Copy(io.Discard, answer.Body)
			_ = answer.Body.Close()
		}
		failed <- err
	}()
	<-begun
	cancel()
	select {
	case <-ended:
	case <-time.After(5 * time.Second):
		t.Error("the study goes on for nobody")
	}
	if err := <-failed; !errors.Is(err, context.Canceled) {
		t.Errorf("the page got %v", err)
	}
}

// realRequest is a request over a connection.
func realRequest(t testing.TB, server, target, body string) *http.Request {
	t.Helper()
	r, err := http.NewRequestWithContext(context.Background(), "POST", server+target, strings.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("Content-Type", "application/json")
	return r
}
