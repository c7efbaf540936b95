package bench

import (
	"context"
	"net/http"
	"path/filepath"
	"strings"
)

// serveScenario answers with the file of the scenario with the edits written into
// it.
func (s *server) serveScenario(w http.ResponseWriter, r *http.Request) {
	q, ok := read(w, r)
	if !ok {
		return
	}
	if s.Rewrite == nil {
		refuse(w, http.StatusNotFound, "This scenario cannot be downloaded.")
		return
	}
	var text []byte
	var faults []Fault
	var err error
	if !s.visit(w, func() { text, faults, err = s.rewritten(r.Context(), q) }) {
		return
	}
	switch {
	case len(faults) > 0:
		reply(w, http.StatusUnprocessableEntity, answer{Faults: faults})
	case err != nil:
		refuse(w, http.StatusConflict, "The edits cannot be written into the file: "+err.Error()+".")
	default:
		w.Header().Set("Content-Disposition", `attachment; filename="`+fileName(s.File)+`"`)
		send(w, http.StatusOK, "application/yaml; charset=utf-8", text)
	}
}

// rewritten is the file with edits written into it, or what is wrong with them.
// The error says why the file cannot hold them.
func (s *server) rewritten(ctx context.Context, q *request) ([]byte, []Fault, error) {
	_, st, faults := s.asked(ctx, q.Case, q.Edits)
	if len(faults) > 0 {
		return nil, faults, nil
	}
	if !s.sit(ctx) {
		return nil, nil, ctx.Err()
	}
	defer s.rise()
	text, err := s.Rewrite((&settled{list: st.settings}).caseSettings())
	return text, nil, err
}

// fileName is the name of a file to keep, after what the user calls the scenario.
func fileName(called string) string {
	name := filepath.Base(filepath.ToSlash(called))
	name = strings.TrimSuffix(strings.TrimSuffix(name, ".yaml"), ".yml")
	name = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' {
			return r
		}
		return '_'
	}, name)
	if strings.Trim(name, "_") == "" {
		name = "scenario"
	}
	return name + ".yaml"
}
