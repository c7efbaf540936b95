package bench

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"net/http"
	"time"
)

// Limits of a request.
const (
	mostBytes = 64 << 10
	mostEdits = 200 // of both lists together
)

// request is what the page asks with.
type request struct {
	Case   string `json:"case"`   // the one that is shown; "" for the first
	Edits  []Edit `json:"edits"`  // in the order made; later ones hold
	Pinned []Edit `json:"pinned"` // those of the state to compare with; null for none
}

// Edit is one thing that was changed from the scenario as filed: a number or a
// word by its path, or a candidate change with all that it sets.
type Edit struct {
	Path  string `json:"path,omitempty"`
	Value string `json:"value,omitempty"`
	Case  string `json:"case,omitempty"` // for which a path in the sections day and flight counts; "" for the one shown

	Change string `json:"change,omitempty"` // name of the candidate change
}

// read reads the request of the page, or answers why it cannot.
func read(w http.ResponseWriter, r *http.Request) (*request, bool) {
	kind, _, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil || kind != "application/json" {
		refuse(w, http.StatusUnsupportedMediaType, "The request must be of the type application/json.")
		return nil, false
	}
	q, err := decode(http.MaxBytesReader(w, r.Body, mostBytes))
	var long *http.MaxBytesError
	switch {
	case errors.As(err, &long):
		refuse(w, http.StatusRequestEntityTooLarge, fmt.Sprintf("The request is longer than %d bytes.", mostBytes))
	case err != nil:
		refuse(w, http.StatusBadRequest, "The request cannot be read: "+err.Error()+".")
	default:
		// All of the request is there: what is left of its time must not cut the
		// answer short.
		_ = http.NewResponseController(w).SetReadDeadline(time.Time{}) // not all writers have one
		return q, true
	}
	return nil, false
}

// decode reads one request and nothing behind it.
func decode(body io.Reader) (*request, error) {
	var q request
	d := json.NewDecoder(body)
	d.DisallowUnknownFields()
	if err := d.Decode(&q); err != nil {
		return nil, err
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		if err == nil {
			err = errors.New("something follows its end")
		}
		return nil, err
	}
	if len(q.Edits)+len(q.Pinned) > mostEdits {
		return nil, fmt.Errorf("more than %d edits", mostEdits)
	}
	for _, list := range [][]Edit{q.Edits, q.Pinned} {
		for i, e := range list {
			if (e.Path == "") == (e.Change == "") || e.Change != "" && (e.Value != "" || e.Case != "") {
				return nil, fmt.Errorf("edit %d is neither a path with a value nor a change", i)
			}
		}
	}
	return &q, nil
}
