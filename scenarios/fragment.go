package scenarios

import "github.com/invopop/jsonschema"

// Pieces of the patterns that texts of quantities match. They only tell the
// forms apart; which units fit is for Parse to say.
const (
	plainPattern  = `(\d+\.?\d*|\.\d+)([eE][+−-]?\d+)?`
	unitPattern   = `[A-Za-z°ºΔµμ%][^±+,]*`
	doubtPattern  = `\s*(±|\+/-)\s*\+?` + plainPattern + `\s*`
	numberPattern = `[+−-]?` + plainPattern + `\s*`

	ratioPattern = `^\s*` + numberPattern + `(` + unitPattern + `)?(` + doubtPattern + `(` + unitPattern + `)?)?$`
	unitsPattern = `^\s*` + numberPattern +
		`(` + unitPattern + `(` + doubtPattern + `(` + unitPattern + `)?)?|` + doubtPattern + unitPattern + `)$`
)

// JSONSchema describes the texts that a scenario file may hold for a quantity
// of this kind: a number with a unit, or for a ratio also a bare number.
func (Quantity[K]) JSONSchema() *jsonschema.Schema {
	d := DimensionOf[K]()
	if d.powers == ofRatio {
		return &jsonschema.Schema{
			Description: d.takes(),
			OneOf:       []*jsonschema.Schema{{Type: "number"}, {Type: "string", Pattern: ratioPattern}},
			Examples:    []any{0.6, "60 %", "0.6 ± 0.1"},
		}
	}
	return &jsonschema.Schema{
		Type:        "string",
		Pattern:     unitsPattern,
		Description: d.takes(),
		Examples:    []any{"80 " + d.US, "80 " + d.Metric, "80 ± 5 " + d.Metric},
	}
}
