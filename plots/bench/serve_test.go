package bench

import (
	"bufio"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"net/http"
	"strings"
	"sync"
	"testing"
	"time"
)

// listening serves a bench on a port of its own with the limits of Server, made
// shorter by change.
func listening(t *testing.T, b Bench, change func(*http.Server)) string {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	s := Server(handler(t, b))
	if s.ReadHeaderTimeout <= 0 || s.ReadTimeout <= 0 || s.WriteTimeout <= 0 || s.IdleTimeout <= 0 || s.MaxHeaderBytes <= 0 {
		t.Error("a server without limits")
	}
	if change != nil {
		change(s)
	}
	var all sync.WaitGroup
	all.Go(func() {
		if err := s.Serve(l); err != http.ErrServerClosed {
			t.Error(err)
		}
	})
	t.Cleanup(func() {
		_ = s.Close()
		all.Wait()
	})
	return l.Addr().String()
}

// TestHundredClients: all at once get the answers that one alone gets.
func TestHundredClients(t *testing.T) {
	b := smallBench(t)
	bodies := make([]string, 10)
	want := make([][]byte, len(bodies))
	alone := handler(t, b)
	for i := range bodies {
		bodies[i] = fmt.Sprintf(`{"case":"hot","edits":[{"path":"exits.belly.area","value":"%d in^2"}],"pinned":[{"change":"wide"}]}`, 60+i)
		want[i] = serve(alone, asking("POST", "/fly", bodies[i])).Body.Bytes()
	}
	address := "http://" + listening(t, b, nil)
	client := &http.Client{Transport: &http.Transport{MaxIdleConnsPerHost: 100}}
	defer client.CloseIdleConnections()
	var all sync.WaitGroup
	for n := range 100 {
		all.Go(func() {
			i := n % len(bodies)
			answer, err := client.Do(realRequest(t, address, "/fly", bodies[i]))
			if err != nil {
				t.Error(err)
				return
			}
			defer answer.Body.Close()
			got, err := io.ReadAll(answer.Body)
			if err != nil || answer.StatusCode != 200 || !bytes.Equal(got, want[i]) {
				t.Errorf("client %d: status %d, %v, %d bytes, want %d", n, answer.StatusCode, err, len(got), len(want[i]))
			}
		})
	}
	all.Wait()
}

// TestSlowVisitors: who dribbles the head or the body of a request, or says
// nothing, is dropped in time, and others are served meanwhile.
func TestSlowVisitors(t *testing.T) {
	address := listening(t, smallBench(t), func(s *http.Server) {
		s.ReadHeaderTimeout, s.ReadTimeout, s.IdleTimeout = 200*time.Millisecond, 300*time.Millisecond, 200*time.Millisecond
	})
	const head = "POST /fly HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 1000\r\n"
	var all sync.WaitGroup
	for _, start := range []string{"", "POST /fly HT", head, head + "\r\n{\"case\":"} {
		for range 20 {
			all.Go(func() { dribble(t, address, start) })
		}
	}
	begun := time.Now()
	answer, err := http.DefaultClient.Do(realRequest(t, "http://"+address, "/fly", `{}`))
	if err != nil {
		t.Fatal(err)
	}
	_ = answer.Body.Close()
	if took := time.Since(begun); answer.StatusCode != 200 || took > 5*time.Second {
		t.Errorf("beside slow visitors: status %d after %s", answer.StatusCode, took)
	}
	all.Wait()
}

// dribble starts a request and waits to be dropped.
func dribble(t *testing.T, address, start string) {
	c, err := net.Dial("tcp", address)
	if err != nil {
		t.Error(err)
		return
	}
	defer c.Close()
	_, _ = io.WriteString(c, start)
	_ = c.SetReadDeadline(time.Now().Add(10 * time.Second))
	if _, err := io.Copy(io.Discard, c); err != nil && strings.Contains(err.Error(), "timeout") {
		t.Errorf("%q is not dropped", start)
	}
}

// TestNoHost: HTTP without a name to ask for.
func TestNoHost(t *testing.T) {
	address := listening(t, smallBench(t), nil)
	for start, want := range map[string]string{
		"GET / HTTP/1.0\r\n\r\n": "403", "GET / HTTP/1.1\r\n\r\n": "400",
		"GET / HTTP/1.1\r\nHost: localhost\r\nHost: evil.example\r\n\r\n": "400",
		"GET http://evil.example/ HTTP/1.1\r\nHost: localhost\r\n\r\n":    "403",
		"GET / HTTP/1.1\r\nHost: localhost\r\n\r\n":                       "200",
	} {
		c, err := net.Dial("tcp", address)
		if err != nil {
			t.Fatal(err)
		}
		_, _ = io.WriteString(c, start)
		first, _ := bufio.NewReader(c).ReadString('\n')
		_ = c.Close()
		if !strings.Contains(first, " "+want+" ") {
			t.Errorf("%q: %q, want %s", start, first, want)
		}
	}
}

// TestLongStudy: a study may take longer than a request may take to be read or an
// answer to be written.
func TestLongStudy(t *testing.T) {
	b := smallBench(t)
	b.Studies = []Study{{Name: "long", Run: func(ctx context.Context, job Job) error {
		for i := range 8 {
			select {
			case <-time.After(betweenLines + 10*time.Millisecond):
				job.Progress(i, 8)
			case <-ctx.Done():
				return ctx.Err()
			}
		}
		_, err := io.WriteString(job.Out, "done")
		return err
	}}}
	address := listening(t, b, func(s *http.Server) { s.ReadTimeout, s.WriteTimeout = 250*time.Millisecond, 250*time.Millisecond })
	answer, err := http.DefaultClient.Do(realRequest(t, "http://"+address, "/study/long", `{}`))
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	list := lines(t, answer.Body)
	if len(list) < 4 || list[len(list)-1].HTML != "done" {
		t.Errorf("%d lines, at last %+v", len(list), list[max(0, len(list)-1):])
	}
}

// deaf is a visitor who never takes an answer: writing to it fails.
type deaf struct{ header http.Header }

func (d deaf) Header() http.Header                  { return d.header }
func (deaf) Write([]byte) (int, error)              { return 0, io.ErrClosedPipe }
func (deaf) WriteHeader(int)                        {}
func (deaf) SetWriteDeadline(until time.Time) error { return nil }

// TestDeaf: a page that does not take the lines of its study loses it.
func TestDeaf(t *testing.T) {
	b := smallBench(t)
	ended := false
	b.Studies = []Study{{Name: "one", Run: func(ctx context.Context, job Job) error {
		job.Progress(1, 2)
		select {
		case <-ctx.Done():
			ended = true
		case <-time.After(5 * time.Second):
		}
		return nil
	}}}
	handler(t, b).ServeHTTP(deaf{http.Header{}}, asking("POST", "/study/one", `{}`))
	if !ended {
		t.Error("the study goes on for the deaf")
	}
}

// TestTooMany: who finds no room is told to come back, and nothing is left behind.
func TestTooMany(t *testing.T) {
	s, err := newServer(smallBench(t))
	if err != nil {
		t.Fatal(err)
	}
	h := s.handler()
	for range mostGuests {
		s.guests <- struct{}{}
	}
	for _, r := range []*http.Request{asking("POST", "/fly", `{}`), asking("GET", "/", "")} {
		if w := serve(h, r); w.Code != 503 || w.Header().Get("Retry-After") == "" {
			t.Errorf("%s: status %d, %v", r.URL, w.Code, w.Header())
		}
	}
	for range mostGuests {
		<-s.guests
	}
	move(t, h, 200, `{}`)
	if len(s.guests)+len(s.desks)+len(s.studies)+len(s.hangar.places) != 0 {
		t.Error("a place is taken by nobody")
	}
}

// TestGoneGuest: a move that nobody waits for ends, and gives back its places.
func TestGoneGuest(t *testing.T) {
	s, err := newServer(smallBench(t))
	if err != nil {
		t.Fatal(err)
	}
	for range cap(s.hangar.places) {
		s.hangar.places <- struct{}{}
	}
	ctx, cancel := context.WithCancel(t.Context())
	time.AfterFunc(50*time.Millisecond, cancel)
	w := serve(s.handler(), asking("POST", "/fly", `{"edits":[{"change":"wide"}]}`).WithContext(ctx))
	if w.Body.Len() > 0 {
		t.Errorf("told to nobody: %s", w.Body)
	}
	for range cap(s.hangar.places) {
		<-s.hangar.places
	}
	if len(s.guests)+len(s.desks)+wanted(s.hangar) != 0 {
		t.Error("a place is taken by nobody")
	}
}

// TestPanic: a fault of the program is told, and told once.
func TestPanic(t *testing.T) {
	h := guard(whole(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { panic("oh") })))
	w := serve(h, asking("GET", "/", ""))
	if w.Code != 500 || w.Body.String() != "{\"error\":\"internal fault, please report it: oh\"}\n" {
		t.Errorf("status %d: %s", w.Code, w.Body)
	}
}
