package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"

	"hotclimb/plots"
	"hotclimb/sim"
)

// Report is what a page tells. Empty fields are left out of it.
type Report struct {
	Title    string     // of the scenario
	Status   sim.Status // of the worst case
	Answer   []string   // paragraphs; the first is the one sentence that matters
	Sections []Section
	Cautions []string

	Hash          string // of the scenario; its first 12 characters are shown
	Tool, Version string // of the program
}

// Section is a part of a report with a heading of its own. A section without
// blocks is left out.
type Section struct {
	Title  string
	Blocks []Block
}

// shownHash is how much of a hash a page shows, as captions of charts do.
const shownHash = 12

//go:embed report.html.tmpl
var layoutText string

//go:embed report.css
var ownStyle string

var layout = template.Must(template.New("report").Funcs(template.FuncMap{"plain": plain}).Parse(layoutText))

// page is what the layout fills in.
type page struct {
	*Report
	Style    template.CSS
	Mark     string // class of the status
	Short    string // the shown part of the hash
	Sections []section
}

// section is a section ready for the layout.
type section struct {
	Title, ID string
	Body      template.HTML
}

// WriteHTML writes the page. Nothing is written when a part of it fails.
func (r *Report) WriteHTML(w io.Writer) error {
	p := page{Report: r, Style: template.CSS(plots.PageStyle + ownStyle), Mark: mark(r.Status)}
	hash := []rune(r.Hash)
	p.Short = string(hash[:min(len(hash), shownHash)])
	used := anchors{"answer": true, "contents": true, "cautions": true}
	for _, s := range r.Sections {
		if len(s.Blocks) == 0 {
			continue
		}
		var body bytes.Buffer
		if err := WriteBlocks(&body, s.Blocks...); err != nil {
			return fmt.Errorf("section %q: %w", s.Title, err)
		}
		p.Sections = append(p.Sections, section{s.Title, used.of(s.Title), template.HTML(body.String())})
	}
	var whole bytes.Buffer
	if err := layout.Execute(&whole, p); err != nil {
		return fmt.Errorf("laying out the report: %w", err)
	}
	_, err := whole.WriteTo(w)
	return err
}

// mark is the class of the shared style that a status is shown with.
func mark(s sim.Status) string {
	switch s {
	case sim.WithinLimits:
		return "within"
	case sim.Caution:
		return "caution"
	case sim.OverLimit:
		return "over"
	}
	return ""
}
