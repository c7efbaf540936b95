package bench

import (
	"html/template"

	"hotclimb/sim"
)

// cowl is the drawing of the air in the cowl at the least margin.
func (s *server) cowl(readyCase, *sim.Result) template.HTML { return "" }
