package scenarios

import (
	"fmt"
	"math"
	"slices"
	"strings"
)

// Param is one number or word of a scenario, addressed by its path. It is
// compiled once and then reads and sets that number in any copy of the
// scenario.
type Param struct {
	Path string
	Doc  string // what it means, one line

	Dimension *Dimension // nil for a word
	Unit      string     // in which it is displayed, "" for a ratio or a word
	Lo, Hi    float64    // least and greatest value, SI; 0 for a word
	Words     []string   // accepted words; nil for a number and for free text
	Made      string     // what a builder makes to change it: opening, duct, core, pump, spray or setting; "" for nothing
	Whole     bool       // counts pieces

	steps []step
	in    *fields // the section of the last step
}

// describe fills in what is declared of the parameter.
func (p *Param) describe(sc *Scenario) {
	f := p.leaf()
	p.Doc, p.Dimension, p.Lo, p.Hi, p.Words = f.doc, f.dim, f.lo, f.hi, f.words
	p.Made, p.Whole = p.made(sc), f.whole
	if f.dim != nil {
		p.Unit = DisplayUnit(f.dim, sc.Display)
	}
	if f.refers != nil {
		p.Words = sc.namesIn(f.refers)
	}
}

// made is what a builder makes to change the number in this scenario. The face
// of a core counts where geometry gives the heat of the core, which a rating
// does not let grow with it, and the angle of a flap at a flap.
func (p Param) made(sc *Scenario) string {
	s, err := p.locate(sc)
	if err != nil {
		return ""
	}
	switch of := s.owner.Addr().Interface().(type) {
	case *Exchanger:
		if of.Geometry == nil {
			return ""
		}
	case *Exit:
		if s.field.key == "flap_angle" && of.Kind != "flap" {
			return ""
		}
	}
	return s.field.made
}

// IsNumber says that the parameter stands for a number, not for a word.
func (p Param) IsNumber() bool { return p.Dimension != nil }

// Column is the name of a column of tables for programs that holds the
// parameter: its path and, for a number, its SI unit, as in
// inlets.left.area_m2 and spray.rate_m3_s.
func (p Param) Column() string {
	if !p.IsNumber() || p.Dimension.SI == "" {
		return p.Path
	}
	return p.Path + "_" + unitInNames.Replace(p.Dimension.SI)
}

// unitInNames writes a unit so that it may stand in a name.
var unitInNames = strings.NewReplacer("^", "", "/", "_")

// In says that a scenario has the number or word, given or not. It costs less
// than an error of Compile, Set or SetText, which looks for paths like it.
func (p Param) In(sc *Scenario) bool {
	_, err := p.locate(sc)
	return err == nil
}

// Get returns the number; false when it is not known, is a word, or the
// scenario has no such section.
func (p Param) Get(sc *Scenario) (Number, bool) {
	s, err := p.locate(sc)
	if err != nil || !p.IsNumber() {
		return Number{}, false
	}
	n := *s.number()
	return n, n.Known
}

// Text returns the word, or the number with its doubt in its own unit; "" when
// it is not known or the scenario has no such section.
func (p Param) Text(sc *Scenario) string {
	s, err := p.locate(sc)
	switch {
	case err != nil || !s.present():
		return ""
	case p.IsNumber():
		return s.number().Format(p.Dimension)
	}
	return s.value.String()
}

// Set sets the number, in SI, and takes it as known: its doubt is 0. Keys that
// exclude it are cleared. Defaults that depend on it follow with Refill.
func (p Param) Set(sc *Scenario, value float64) error {
	if !p.IsNumber() {
		return fmt.Errorf("%s: takes a word, not a number", p.Path)
	}
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return fmt.Errorf("%s: is not a finite number", p.Path)
	}
	s, err := p.locate(sc)
	if err != nil {
		return sc.unknown(p.Path, err)
	}
	if math.Abs(value) < 1/largestSI {
		value = 0 // a smaller one could not be written
	}
	n := Number{Value: value, Unit: s.number().Unit, Written: true, Known: true}
	if n.Unit == "" {
		n.Unit = p.Unit
	}
	if message, hint := p.leaf().outside(n); message != "" {
		return fmt.Errorf("%s: %s (%s)", p.Path, message, hint)
	}
	*s.number() = n
	s.clearRivals(sc)
	return nil
}

// SetText sets the number, with its doubt if it has one, or the word from text
// as it would stand in the file. Keys that exclude it are cleared. Defaults
// that depend on it follow with Refill.
func (p Param) SetText(sc *Scenario, text string) error {
	s, err := p.locate(sc)
	if err != nil {
		return sc.unknown(p.Path, err)
	}
	if message, hint := p.Wrong(sc, text); message != "" {
		return Fault{Path: p.Path, Message: message, Hint: hint}
	}
	if n := s.number(); n != nil {
		*n, _ = Parse(text, p.Dimension)
	} else {
		s.value.SetString(text)
		delete(sc.filled, p.Path)
	}
	s.clearRivals(sc)
	return nil
}

// Wrong says what is wrong with a text for this parameter and what would be
// right; message is "" when nothing is.
func (p Param) Wrong(sc *Scenario, text string) (message, hint string) {
	f := p.leaf()
	if message, hint = f.wrong(text); message != "" || f.refers == nil {
		return message, hint
	}
	if known := sc.namesIn(f.refers); !slices.Contains(known, text) {
		return fmt.Sprintf("%q is the name of nothing in %s", text, orList(f.refers)), didYouMean(text, known)
	}
	return "", ""
}

// clearRivals empties the keys that exclude the one at s.
func (s spot) clearRivals(sc *Scenario) {
	for _, rival := range s.field.rivals {
		other := s.beside(rival)
		if rival.shape == shapeText && other.present() {
			delete(sc.filled, other.path())
		}
		other.clear()
	}
}

// alternative names the group of keys that exclude each other, of which the
// parameter is one, and which of them it belongs to; "" for none.
func (p Param) alternative() (group, member string) {
	f := p.leaf()
	if f.group == "" {
		return "", ""
	}
	return join(parent(p.Path), f.group), f.member
}
