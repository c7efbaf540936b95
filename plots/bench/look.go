package bench

import (
	"bytes"
	"context"
	"embed"
	"html/template"
	"io"
	"io/fs"
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
	send(w, http.StatusOK, kinds[path.Ext(name)], text)
}

// kinds are the types of the files, whatever the system believes.
var kinds = map[string]string{
	".css": "text/css; charset=utf-8",
	".js":  "text/javascript; charset=utf-8",
	".txt": "text/plain; charset=utf-8",
}

// servePage answers with the page, of the scenario as filed.
func (s *server) servePage(w http.ResponseWriter, r *http.Request) {
	shown, fault := s.caseNumber(r.URL.Query().Get("case"))
	if fault != nil {
		refuse(w, http.StatusNotFound, fault.Text)
		return
	}
	var b bytes.Buffer
	var err error
	if !s.visit(w, func() { err = s.writePage(r.Context(), &b, shown) }) {
		return
	}
	switch {
	case r.Context().Err() != nil: // whoever asked has gone
	case err != nil:
		refuse(w, http.StatusInternalServerError, "The page could not be written: "+err.Error()+".")
	default:
		send(w, http.StatusOK, "text/html; charset=utf-8", b.Bytes())
	}
}

// writePage flies the scenario as filed and writes its page.
func (s *server) writePage(ctx context.Context, w io.Writer, shown int) error {
	st, err := s.state(nil)
	if err != nil {
		return err
	}
	now, err := s.fly(ctx, st, shown)
	if err != nil {
		return err
	}
	return s.look.pages.ExecuteTemplate(w, "page", s.page(now, shown))
}
