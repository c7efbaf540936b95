package scenarios

import (
	"bufio"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"reflect"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// Write writes the scenario as a file that loads to the same values. Only what
// is given is written; defaults in use stand as comments.
func Write(w io.Writer, sc *Scenario) error {
	b := bufio.NewWriter(w)
	e := &emitter{sc: sc, out: b}
	e.fields(reflect.ValueOf(sc).Elem(), root(), "", "")
	return b.Flush()
}

// emitter writes one scenario. Errors stay in the bufio.Writer until Flush.
type emitter struct {
	sc  *Scenario
	out *bufio.Writer
}

func (e *emitter) line(indent string, parts ...string) {
	fmt.Fprintln(e.out, indent+strings.Join(parts, ""))
}

// fields writes the keys of a section.
func (e *emitter) fields(owner reflect.Value, fs *fields, path, indent string) {
	for _, f := range fs.list {
		s := spot{path, f, fs, owner, owner.Field(f.index)}
		switch {
		case s.path() == "spray" && e.sc.neverSprays():
			e.line(indent, "# spray: it runs in leg ", e.sc.Spray.Leg, ", which this case does not fly")
		case s.present():
			e.field(s, indent)
		}
	}
}

func (e *emitter) field(s spot, indent string) {
	key := s.field.key
	switch s.field.shape {
	case shapeNumber:
		e.number(s, indent)
	case shapeText:
		e.text(s, indent)
	case shapeTexts:
		e.line(indent, key, ":")
		for _, word := range s.value.Interface().([]string) {
			e.line(indent, "  - ", quoted(word))
		}
	case shapeSettings:
		e.line(indent, key, ":")
		set := s.value.Interface().(map[string]string)
		for _, path := range s.names() {
			e.line(indent, "  ", quoted(path), ": ", quoted(set[path]))
		}
	case shapeSection:
		e.section(key, reflect.Indirect(s.value), s.field.sub, s.path(), indent)
	case shapeNamed:
		e.line(indent, key, ":")
		for _, name := range e.namesOf(s) {
			item := s.value.MapIndex(reflect.ValueOf(name)).Elem()
			e.section(name, item, s.field.sub, join(s.path(), name), indent+"  ")
		}
	case shapeItems:
		e.line(indent, key, ":")
		for i, name := range s.names() {
			e.item(s.value.Index(i).Elem(), s.field.sub, join(s.path(), name), indent+"  ")
		}
	}
}

// namesOf are the names of a section in the order written: that of the file
// for exchangers, where it is the order in the circuit.
func (e *emitter) namesOf(s spot) []string {
	if s.path() == "exchangers" && len(e.sc.exchangerOrder) == s.value.Len() {
		return e.sc.exchangerOrder
	}
	return s.names()
}

// section writes a section below its key; one in which nothing is given is
// written {}.
func (e *emitter) section(key string, owner reflect.Value, fs *fields, path, indent string) {
	if e.empty(owner, fs, path) {
		e.line(indent, key, ": {}")
	} else {
		e.line(indent, key, ":")
	}
	e.fields(owner, fs, path, indent+"  ")
}

// empty says that nothing is given in a section, so that only comments would
// stand below its key.
func (e *emitter) empty(owner reflect.Value, fs *fields, path string) bool {
	return !slices.ContainsFunc(fs.list, func(f *field) bool {
		s := spot{path, f, fs, owner, owner.Field(f.index)}
		if n := s.number(); n != nil {
			return n.Written
		}
		return s.present() && !e.sc.filled[s.path()]
	})
}

// item writes an item of a list, its name behind the dash.
func (e *emitter) item(owner reflect.Value, fs *fields, path, indent string) {
	e.line(indent, "- name: ", quoted(nameOf(owner.Addr())))
	for _, f := range fs.list {
		s := spot{path, f, fs, owner, owner.Field(f.index)}
		if f.key != "name" && s.present() {
			e.field(s, indent+"  ")
		}
	}
}

func (e *emitter) number(s spot, indent string) {
	n := s.number()
	switch {
	case !n.Written:
		e.comment(indent, s.field.key, e.sc.defaultText(n, s.field.dim), n.Source)
	case n.Text != "":
		e.line(indent, s.field.key, ": ", quoted(n.Text))
	default:
		e.line(indent, s.field.key, ": ", quoted(n.Exact(s.field.dim)))
	}
}

func (e *emitter) text(s spot, indent string) {
	if e.sc.filled[s.path()] && !ratedForOther(s) {
		e.comment(indent, s.field.key, s.value.String(), s.field.source)
		return
	}
	e.line(indent, s.field.key, ": ", quoted(s.value.String()))
}

// ratedForOther says that the spot is the liquid an exchanger was rated with
// before it was moved to the other circuit. No file tells that afterwards, so
// that the default must be written out.
func ratedForOther(s spot) bool {
	x, ok := s.owner.Addr().Interface().(*Exchanger)
	return ok && s.field.key == "rated_with" && x.RatedWith != x.Serves
}

// comment writes a default in use.
func (e *emitter) comment(indent, key, value, source string) {
	if source != "" {
		source = " (" + source + ")"
	}
	e.line(indent, "# ", key, ": default ", value, source)
}

var (
	plainWord   = regexp.MustCompile(`^[a-z][a-z0-9_.]*$`)
	plainNumber = regexp.MustCompile(`^[-+]?[0-9.][-+0-9a-zA-Z.°%²³·*/^± ]*$`)
	notWords    = []string{"null", "true", "false", "yes", "no", "on", "off", "y", "n"}
)

// quoted is a text as YAML reads it back, in quotes where it needs them.
func quoted(text string) string {
	if plainWord.MatchString(text) && !slices.Contains(notWords, text) ||
		plainNumber.MatchString(text) && !strings.HasSuffix(text, " ") && text != "..." {
		return text
	}
	return strconv.Quote(text)
}

// SHA256 is the hexadecimal hash of all values of the scenario, defaults
// included, however they are written: the same for the same numbers.
func (sc *Scenario) SHA256() string {
	h := sha256.New()
	var hash func(spot)
	hash = func(s spot) {
		if !s.present() {
			return
		}
		fmt.Fprintf(h, "%s\x1f%s\n", s.path(), s.canonical())
		if s.field.fixed {
			s.visitInside(hash)
		}
	}
	sc.visit(hash)
	fmt.Fprintln(h, strings.Join(sc.exchangerOrder, "\x1f"))
	return hex.EncodeToString(h.Sum(nil))
}

// canonical is the value of a spot in one form.
func (s spot) canonical() string {
	switch s.field.shape {
	case shapeNumber:
		n := s.number()
		return strconv.FormatFloat(n.Value, 'g', -1, 64) + " " + strconv.FormatFloat(n.Doubt, 'g', -1, 64)
	case shapeText:
		return s.value.String()
	case shapeTexts:
		return strings.Join(s.value.Interface().([]string), "\x1f")
	case shapeSettings:
		return fmt.Sprint(Settings(s.value.Interface().(map[string]string)))
	}
	return ""
}
