package bench

import (
	"context"
	"errors"
	"html/template"
	"net/http"
	"strings"
)

// answer is what a move gives.
type answer struct {
	Faults   []Fault           `json:"faults"`
	Summary  string            `json:"summary,omitempty"` // fragments for their places in the page
	Result   string            `json:"result,omitempty"`
	Cowl     template.HTML     `json:"cowl,omitempty"`
	Controls []control         `json:"controls,omitempty"`
	Cores    map[string]string `json:"cores,omitempty"` // what each serves in the case that is shown
	Chart    *chart            `json:"chart,omitempty"`
	Say      string            `json:"say,omitempty"`
	Command  string            `json:"command,omitempty"`
}

// serveFlight answers a move with what comes of it.
func (s *server) serveFlight(w http.ResponseWriter, r *http.Request) {
	q, ok := read(w, r)
	if !ok {
		return
	}
	var status int
	var value any
	if !s.visit(w, func() { status, value = s.move(r.Context(), q) }) {
		return
	}
	if r.Context().Err() == nil { // else whoever asked has gone
		reply(w, status, value)
	}
}

// move is the answer to a request and its status.
func (s *server) move(ctx context.Context, q *request) (int, any) {
	shown, st, faults := s.asked(ctx, q.Case, q.Edits)
	var pinned *state
	if len(faults) == 0 && q.Pinned != nil {
		_, pinned, faults = s.asked(ctx, q.Case, q.Pinned)
		for i := range faults { // they are no faults of what the fields show
			faults[i].Edit, faults[i].Pinned = -1, true
		}
	}
	if len(faults) > 0 {
		return http.StatusUnprocessableEntity, answer{Faults: faults}
	}
	now, err := s.fly(ctx, st, shown)
	var before *flownState
	if err == nil && pinned != nil {
		before, err = s.fly(ctx, pinned, shown)
	}
	if err != nil {
		return http.StatusServiceUnavailable, refusal{"The flight was broken off."}
	}
	return s.answer(now, before, shown)
}

// asked is the state that a list of edits asks for and the number of the case that
// is shown, or what is wrong with it.
func (s *server) asked(ctx context.Context, name string, edits []Edit) (int, *state, []Fault) {
	if !s.sit(ctx) {
		return 0, nil, []Fault{{Text: ctx.Err().Error(), Edit: -1}}
	}
	defer s.rise()
	shown, fault := s.caseNumber(name)
	if fault != nil {
		return 0, nil, []Fault{*fault}
	}
	name = s.filed[shown].Name
	t, faults := s.settle(edits, name)
	if len(faults) > 0 {
		return 0, nil, faults
	}
	st, err := s.state(t)
	if err != nil {
		return 0, nil, s.blame(err, t, edits, name)
	}
	return shown, st, nil
}

// caseNumber is the number of a case, that of the first for "".
func (s *server) caseNumber(name string) (int, *Fault) {
	if name == "" {
		return 0, nil
	}
	for i, k := range s.filed {
		if k.Name == name {
			return i, nil
		}
	}
	_, err := s.Scenario.Case(name)
	return 0, &Fault{Text: err.Error(), Edit: -1}
}

// answer is what a flown state comes to, and its status.
func (s *server) answer(now, pinned *flownState, shown int) (int, any) {
	r := s.result(now, pinned, shown)
	var summary, result strings.Builder
	err := errors.Join(s.look.pages.ExecuteTemplate(&summary, "summary", r), s.look.pages.ExecuteTemplate(&result, "result", r))
	if err != nil {
		return http.StatusInternalServerError, refusal{"The result could not be written: " + err.Error() + "."}
	}
	return http.StatusOK, answer{
		Faults: []Fault{}, Summary: summary.String(), Result: result.String(), Cowl: r.Cowl, Chart: chartOf(now, pinned, shown),
		Controls: s.controls(now.cases[shown]), Cores: cores(now.cases[shown]), Say: r.Say, Command: r.Command,
	}
}
