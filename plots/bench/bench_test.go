package bench

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"hotclimb/scenarios"
)

// builtin serves a built-in scenario.
func builtin(t testing.TB, name string) http.Handler {
	t.Helper()
	sc, err := scenarios.LoadFile(name, nil)
	if err != nil {
		t.Fatal(err)
	}
	h, err := Handler(Bench{Scenario: sc, File: name, Version: "test", Workers: 2, Cautions: []string{"An estimate."}})
	if err != nil {
		t.Fatal(err)
	}
	return h
}

func ask(method, target, body string) *http.Request {
	r := httptest.NewRequest(method, target, strings.NewReader(body))
	r.Host = "localhost:8317"
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/json")
	}
	return r
}

func TestSmoke(t *testing.T) {
	h := builtin(t, "rotary")
	for _, r := range []*http.Request{ask("GET", "/", ""), ask("POST", "/fly", `{"edits":[{"path":"exits.aft_ring.area","value":"100 in^2"},{"change":"bigger_oil_pump"}],"pinned":[]}`)} {
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		t.Log(w.Code, w.Header(), w.Body.String())
	}
}
