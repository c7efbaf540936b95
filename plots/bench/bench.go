package bench

import (
	"context"
	"errors"
	"html/template"
	"io"
	"net/http"

	"hotclimb/plots"
	"hotclimb/scenarios"
)

// Bench is what is served.
type Bench struct {
	Scenario *scenarios.Scenario // as filed, whole, with cases, changes and studies
	File     string              // what the user called it, as in commands: rotary, mine.yaml
	Flags    []string            // further words of commands on it, such as --over and winter.yaml, --set and PATH=VALUE
	Version  string              // of the program

	Cautions      []string // sentences that stand under every result
	SprayCautions []string // and under those where water is sprayed

	// Rewrite gives the file of the scenario with settings written into it. Nil:
	// the scenario cannot be downloaded.
	Rewrite func([]scenarios.CaseSetting) ([]byte, error)
	Studies []Study
	Workers int // flights at a time; 0 means 1
}

// Study is a computation of many flights that the page can start.
type Study struct {
	Name    string // the last word of its address: sweep, rank, size, report
	Label   string // of its button
	About   string // one sentence on what it answers
	File    string // name of the file that it makes, for a download; "" when its result is shown on the page
	Missing string // why it cannot be run with this scenario, "" when it can

	// Run does it. The context ends when the page no longer wants the result.
	Run func(ctx context.Context, job Job) error
}

// Job is one run of a study.
type Job struct {
	Scenario *scenarios.Scenario   // with the edits written into it
	Progress func(done, total int) // may be called by several goroutines at once
	Out      io.Writer             // takes a fragment of HTML, or the whole file when Study.File is set
}

// server answers the requests of the page.
type server struct {
	Bench
	units   plots.Units
	filed   []scenarios.CaseScenario // the cases as filed
	sliders []Slider
	cores   []Core
	look    *look

	states   *kept[*state]
	drawings *kept[template.HTML]
	hangar   *hangar

	// Each holds one entry for
	guests  chan struct{} // a move that is answered
	desks   chan struct{} // a list of edits that is worked through
	studies chan struct{} // a study under way
}

// Handler serves a bench. The error says why it cannot: there is no scenario, or a
// case of it cannot be built.
func Handler(b Bench) (http.Handler, error) {
	s, err := newServer(b)
	if err != nil {
		return nil, err
	}
	return s.handler(), nil
}

// How much goes on, and is kept, at a time.
const (
	mostGuests  = 200 // moves that wait for their answers
	mostStudies = 2   // studies under way
	mostStates  = 32  // kept, at some 100 kB each
)

// newServer makes everything that does not depend on a request.
func newServer(b Bench) (*server, error) {
	if b.Scenario == nil {
		return nil, errors.New("there is no scenario to serve")
	}
	workers := max(b.Workers, 1)
	s := &server{
		Bench: b, units: plots.UnitsOf(b.Scenario.Display),
		states: newKept[*state](mostStates), drawings: newKept[template.HTML](mostDrawings), hangar: newHangar(workers),
		guests: make(chan struct{}, mostGuests), desks: make(chan struct{}, workers),
		studies: make(chan struct{}, mostStudies),
	}
	var err error
	if s.filed, err = b.Scenario.EffectiveCases(nil, nil); err != nil {
		return nil, err
	}
	st, err := s.state(nil)
	if err != nil {
		return nil, err
	}
	s.sliders, s.cores = slidersOf(b.Scenario, st.cases), coresOf(s.filed)
	s.look, err = newLook()
	return s, err
}

// handler leads requests to what answers them.
func (s *server) handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.servePage)
	mux.HandleFunc("GET /assets/{name}", s.serveAsset)
	mux.HandleFunc("POST /fly", s.serveFlight)
	mux.HandleFunc("POST /scenario", s.serveScenario)
	mux.HandleFunc("POST /study/{name}", s.serveStudy)
	return guard(whole(mux))
}
