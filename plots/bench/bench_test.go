package bench

import (
	"context"
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"os"
	"strings"
	"sync"
	"testing"

	"hotclimb/scenarios"
)

// small is a scenario of two short climbs, cool and hot, with changes and spray
// added to that of the scripts.
const small = "../../testdata/script/small.yaml"

const smallMore = `
spray: {onto: radiator, tank: 1 gal, rate: 0.2 L/min}
changes:
  - {name: wide, title: Belly opened, set: {exits.belly.area: 95 in^2}, weight: 2 lb, cost: 40, hours: 6}
  - {name: heavy_core, set: {exchangers.cooler.rating.heat: 25 kW}, weight: 3 lb}
  - {name: lean, set: {aircraft.mass: 1400 lb}, weight: -5 lb}
  - {name: fast, set: {flight.legs.climb.speed: 100 mph}}
`

// smallScenario is loaded once; nothing changes it.
var smallScenario = sync.OnceValues(func() (*scenarios.Scenario, error) {
	text, err := os.ReadFile(small)
	if err != nil {
		return nil, err
	}
	return scenarios.Load(scenarios.Source{Name: "small.yaml", Text: append(text, smallMore...)})
})

// smallBench is a bench on it.
func smallBench(t testing.TB) Bench {
	t.Helper()
	sc, err := smallScenario()
	if err != nil {
		t.Fatal(err)
	}
	return Bench{
		Scenario: sc, File: "small.yaml", Version: "test", Workers: 2,
		Cautions: []string{"An estimate."}, SprayCautions: []string{"Spray has hazards."},
	}
}

// builtin is a bench on a built-in scenario.
func builtin(t testing.TB, name string) Bench {
	t.Helper()
	sc, err := scenarios.LoadFile(name, nil)
	if err != nil {
		t.Fatal(err)
	}
	return Bench{Scenario: sc, File: name, Version: "test", Workers: 2}
}

func handler(t testing.TB, b Bench) http.Handler {
	t.Helper()
	h, err := Handler(b)
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// asking is a request as the page makes it.
func asking(method, target, body string) *http.Request {
	r := httptest.NewRequestWithContext(context.Background(), method, target, strings.NewReader(body))
	r.Host = "localhost:8317"
	if method == http.MethodPost {
		r.Header.Set("Content-Type", "application/json")
		r.Header.Set("Origin", "http://localhost:8317")
	}
	return r
}

func serve(h http.Handler, r *http.Request) *httptest.ResponseRecorder {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// moved is the answer to a move as the page reads it.
type moved struct {
	Faults                     []Fault
	Summary, Result, Cowl, Say string
	Command                    string
	Controls                   []control
	Cores                      map[string]string
	Chart                      *chart
}

// move asks for a state and reads the answer.
func move(t testing.TB, h http.Handler, status int, body string) moved {
	t.Helper()
	w := serve(h, asking("POST", "/fly", body))
	if w.Code != status {
		t.Fatalf("%s: status %d, want %d: %s", body, w.Code, status, w.Body)
	}
	var m moved
	if err := json.Unmarshal(w.Body.Bytes(), &m); err != nil {
		t.Fatal(err)
	}
	return m
}
