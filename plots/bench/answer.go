package bench

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"time"
)

// refusal is the answer to a request that cannot be served.
type refusal struct {
	Error string `json:"error"`
}

// refuse answers with a status and a sentence.
func refuse(w http.ResponseWriter, status int, sentence string) {
	reply(w, status, refusal{sentence})
}

// reply answers with JSON, in which HTML stands as it is: nosniff keeps browsers from
// taking it for a page.
func reply(w http.ResponseWriter, status int, value any) {
	var text bytes.Buffer
	e := json.NewEncoder(&text)
	e.SetEscapeHTML(false)
	if err := e.Encode(value); err != nil {
		status, text = http.StatusInternalServerError, *bytes.NewBufferString(`{"error":"The answer could not be written."}` + "\n")
	}
	send(w, status, "application/json; charset=utf-8", text.Bytes())
}

// longestWrite is the time that a visitor may take to read an answer, or one line
// of a stream.
const longestWrite = 10 * time.Second

// send answers with bytes of a type.
func send(w http.ResponseWriter, status int, kind string, text []byte) {
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(longestWrite)) // not all writers have one
	w.Header().Set("Content-Type", kind)
	w.WriteHeader(status)
	_, _ = w.Write(text) // nobody is left to tell when it fails
}

// whole answers for a request that panics.
func whole(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		defer func() {
			if fault := recover(); fault != nil {
				refuse(w, http.StatusInternalServerError, fmt.Sprintf("internal fault, please report it: %v", fault))
			}
		}()
		next.ServeHTTP(w, r)
	})
}

// sit waits for a desk, unless the context ends before: then it is false. Who sits
// has to rise.
func (s *server) sit(ctx context.Context) bool {
	select {
	case s.desks <- struct{}{}:
		return true
	case <-ctx.Done():
		return false
	}
}

func (s *server) rise() { <-s.desks }

// visit does the work for a request unless too much is going on. Then it tells the
// visitor to come back, and is false.
func (s *server) visit(w http.ResponseWriter, work func()) bool {
	select {
	case s.guests <- struct{}{}:
		defer func() { <-s.guests }()
		work()
		return true
	default:
		w.Header().Set("Retry-After", "1")
		refuse(w, http.StatusServiceUnavailable, "Too many ask at once. Try again in a moment.")
		return false
	}
}
