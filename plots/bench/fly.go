package bench

import (
	"bytes"
	"html/template"
	"net/http"
)

// answer is what a move gives.
type answer struct {
	Faults   []Fault           `json:"faults"`
	Summary  template.HTML     `json:"summary,omitempty"` // fragments for their places in the page
	Result   template.HTML     `json:"result,omitempty"`
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
	shown, st, faults := s.asked(q.Case, q.Edits)
	var pinned *state
	if len(faults) == 0 && q.Pinned != nil {
		// The pinned state was good when it was pinned: its faults are no faults of
		// the fields of the page.
		_, pinned, faults = s.asked(q.Case, q.Pinned)
		for i := range faults {
			faults[i].Text, faults[i].Edit = "the pinned state: "+faults[i].Text, -1
		}
	}
	if len(faults) > 0 {
		reply(w, http.StatusUnprocessableEntity, answer{Faults: faults})
		return
	}
	now, err := s.fly(r.Context(), st, shown)
	var before *flownState
	if err == nil && pinned != nil {
		before, err = s.fly(r.Context(), pinned, shown)
	}
	if err != nil {
		return // whoever asked has gone
	}
	s.tell(w, now, before, shown)
}

// asked is the state that a list of edits asks for and the number of the case that
// is shown, or what is wrong with it.
func (s *server) asked(name string, edits []Edit) (int, *state, []Fault) {
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

// tell writes the answer to a move.
func (s *server) tell(w http.ResponseWriter, now, pinned *flownState, shown int) {
	r := s.result(now, pinned, shown)
	a := answer{
		Faults: []Fault{}, Controls: s.controls(now.cases[shown]), Cores: cores(now.cases[shown]),
		Cowl: r.Cowl, Chart: s.chart(now, pinned, shown), Say: r.Say, Command: r.Command,
	}
	for name, place := range map[string]*template.HTML{"summary": &a.Summary, "result": &a.Result} {
		var b bytes.Buffer
		if err := s.look.pages.ExecuteTemplate(&b, name, r); err != nil {
			refuse(w, http.StatusInternalServerError, "The result could not be written: "+err.Error()+".")
			return
		}
		*place = template.HTML(b.String())
	}
	reply(w, http.StatusOK, a)
}
