package bench

import (
	"html/template"
	"strings"

	"hotclimb/plots"
	"hotclimb/sim"
)

// mostDrawings is how many drawings are kept, at some 50 kB each.
const mostDrawings = 32

// cowl is the drawing of the air in the cowl at the least margin.
func (s *server) cowl(k readyCase, r *sim.Result) template.HTML {
	if drawn, ok := s.drawings.find(k.key); ok {
		return drawn
	}
	var b strings.Builder
	caption := plots.Caption{Cases: []string{k.Name}, Scenario: k.Scenario.Title, Version: s.Version}
	figure, err := plots.Cowl(k.plant, r, plots.UnitsOf(k.Scenario.Display), caption)
	if err == nil {
		err = figure.WriteHTML(&b)
	}
	if err != nil {
		b.Reset()
		b.WriteString("<p class=\"notice\">The cowl cannot be drawn: " + template.HTMLEscapeString(err.Error()) + ".</p>\n")
	}
	drawn := template.HTML(b.String())
	s.drawings.keep(k.key, drawn)
	return drawn
}
