package bench

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"net/http"
	"sync"
	"time"
)

// betweenLines is the time between two lines of progress, at the least.
const betweenLines = 100 * time.Millisecond

// line is one line of the stream of a study: how far it is, or at last what came
// of it.
type line struct {
	Done  *int   `json:"done,omitempty"`
	Total *int   `json:"total,omitempty"`
	HTML  string `json:"html,omitempty"`
	File  string `json:"file,omitempty"`
	Text  string `json:"text,omitempty"`
	Error string `json:"error,omitempty"`
}

// serveStudy runs a study and streams how far it is. It ends when the page no
// longer listens.
func (s *server) serveStudy(w http.ResponseWriter, r *http.Request) {
	study := s.study(r.PathValue("name"))
	if study == nil {
		refuse(w, http.StatusNotFound, "There is no such study.")
		return
	}
	q, ok := read(w, r)
	if !ok {
		return
	}
	if study.Missing != "" {
		refuse(w, http.StatusConflict, study.Missing)
		return
	}
	select {
	case s.studies <- struct{}{}:
		defer func() { <-s.studies }()
	default:
		w.Header().Set("Retry-After", "5")
		refuse(w, http.StatusServiceUnavailable, fmt.Sprintf("%d studies are under way already. Wait for one to end, or cancel it.", mostStudies))
		return
	}
	_, st, faults := s.asked(r.Context(), q.Case, q.Edits)
	if len(faults) > 0 {
		reply(w, http.StatusUnprocessableEntity, answer{Faults: faults})
		return
	}
	written, err := s.Scenario.WithCaseSettings((&settled{list: st.settings}).caseSettings())
	if err != nil { // what flies can be written
		refuse(w, http.StatusConflict, err.Error())
		return
	}
	ctx, cancel := context.WithCancel(r.Context())
	defer cancel()
	w.Header().Set("Content-Type", "application/x-ndjson")
	t := &teller{w: w, deadline: http.NewResponseController(w), cancel: cancel}
	t.end(study.result(ctx, Job{Scenario: written, Progress: t.progress}))
}

// study is the study of a name, nil when there is none.
func (s *server) study(name string) *Study {
	for i := range s.Studies {
		if s.Studies[i].Name == name {
			return &s.Studies[i]
		}
	}
	return nil
}

// result runs a study to its last line. A panic becomes an error.
func (d *Study) result(ctx context.Context, job Job) (last line) {
	defer func() {
		if r := recover(); r != nil {
			last = line{Error: fmt.Sprintf("internal fault, please report it: %v", r)}
		}
	}()
	var out bytes.Buffer
	job.Out = &out
	err := d.Run(ctx, job)
	switch {
	case err != nil && ctx.Err() != nil:
		return line{Error: "it was broken off, as the program behind this page ends"}
	case err != nil:
		return line{Error: err.Error()}
	}
	if d.File != "" {
		return line{File: d.File, Text: out.String()}
	}
	return line{HTML: out.String()}
}

// teller writes the lines of a stream.
type teller struct {
	w        http.ResponseWriter
	deadline *http.ResponseController
	cancel   context.CancelFunc

	mu   sync.Mutex
	last time.Time // of a line
	over bool
}

// progress tells how far a study is, unless it has just told.
func (t *teller) progress(done, total int) {
	t.mu.Lock()
	defer t.mu.Unlock()
	if now := time.Now(); !t.over && now.Sub(t.last) >= betweenLines {
		t.last = now
		t.write(line{Done: &done, Total: &total})
	}
}

// end tells the last line.
func (t *teller) end(last line) {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.over = true
	t.write(last)
}

// write writes a line and sends it off. A page that does not take it is dropped,
// and its study ends.
func (t *teller) write(l line) {
	text, err := json.Marshal(l)
	if err == nil {
		_ = t.deadline.SetWriteDeadline(time.Now().Add(longestWrite)) // not all writers have one
		_, err = t.w.Write(append(text, '\n'))
	}
	if err == nil {
		err = t.deadline.Flush()
	}
	if err != nil {
		t.cancel()
	}
}
