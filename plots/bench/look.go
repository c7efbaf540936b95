package bench

import (
	"bytes"
	"embed"
	"html/template"
	"io/fs"
	"mime"
	"net/http"
	"path"

	"hotclimb/plots"
)

//go:embed assets
var assets embed.FS

// look is how the page looks.
type look struct {
	pages *template.Template // page, summary, result
	files map[string][]byte  // by the name in their address
}

// newLook reads the templates, and the files that pages load.
func newLook() (*look, error) {
	pages, err := template.ParseFS(assets, "assets/*.tmpl")
	if err != nil {
		return nil, err
	}
	l := &look{pages, map[string][]byte{"page.css": []byte(plots.PageStyle)}}
	for _, pattern := range []string{"assets/*.css", "assets/*.js", "assets/*.txt"} {
		names, err := fs.Glob(assets, pattern)
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			if l.files[path.Base(name)], err = assets.ReadFile(name); err != nil {
				return nil, err
			}
		}
	}
	return l, nil
}

// serveAsset answers with a file that the page loads.
func (s *server) serveAsset(w http.ResponseWriter, r *http.Request) {
	name := r.PathValue("name")
	text, ok := s.look.files[name]
	if !ok {
		refuse(w, http.StatusNotFound, "There is no such file.")
		return
	}
	w.Header().Set("Content-Type", kinds[path.Ext(name)])
	_, _ = w.Write(text) // nobody is left to tell when it fails
}

// kinds are the types of the files, whatever the system believes.
var kinds = map[string]string{
	".css": mime.FormatMediaType("text/css", map[string]string{"charset": "utf-8"}),
	".js":  mime.FormatMediaType("text/javascript", map[string]string{"charset": "utf-8"}),
	".txt": mime.FormatMediaType("text/plain", map[string]string{"charset": "utf-8"}),
}

// servePage answers with the page, of the scenario as filed.
func (s *server) servePage(w http.ResponseWriter, r *http.Request) {
	shown, fault := s.caseNumber(r.URL.Query().Get("case"))
	if fault != nil {
		refuse(w, http.StatusNotFound, fault.Text)
		return
	}
	st, err := s.state(nil)
	if err != nil {
		refuse(w, http.StatusInternalServerError, err.Error())
		return
	}
	now, err := s.fly(r.Context(), st, shown)
	if err != nil {
		return // whoever asked has gone
	}
	var b bytes.Buffer
	if err := s.look.pages.ExecuteTemplate(&b, "page", s.page(now, shown)); err != nil {
		refuse(w, http.StatusInternalServerError, "The page could not be written: "+err.Error()+".")
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(b.Bytes()) // nobody is left to tell when it fails
}
