package bench

import (
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
	_, st, faults := s.asked(r.Context(), q.Case, q.Edits)
	if len(faults) > 0 {
		reply(w, http.StatusUnprocessableEntity, answer{Faults: faults})
		return
	}
	text, err := s.Rewrite((&settled{list: st.settings}).caseSettings())
	if err != nil {
		refuse(w, http.StatusConflict, "The edits cannot be written into the file: "+err.Error()+".")
		return
	}
	w.Header().Set("Content-Disposition", `attachment; filename="`+fileName(s.File)+`"`)
	send(w, http.StatusOK, "application/yaml; charset=utf-8", text)
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
