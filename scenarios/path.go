package scenarios

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"strings"

	"github.com/agnivade/levenshtein"
)

// UnknownPath is the error of a path that stands for nothing in the scenario.
type UnknownPath struct {
	Path   string
	Reason string
	Near   []string // known paths most like it
}

func (e *UnknownPath) Error() string { return e.fault().Error() }

func (e *UnknownPath) fault() Fault {
	f := Fault{Path: e.Path, Message: "unknown path: " + e.Reason}
	if len(e.Near) > 0 {
		f.Hint = "did you mean " + orList(e.Near) + "?"
	}
	return f
}

// step goes from a struct to one of its fields and, when the field holds named
// sections or a list, on to the one of that name. Steps hold no addresses, so
// that they work on any copy of a scenario.
type step struct {
	field *field
	name  string
}

// Compile resolves a dotted path, such as inlets.left.area or
// flight.legs.climb.speed, to the number or word it stands for.
func (sc *Scenario) Compile(path string) (Param, error) {
	steps, in, err := resolve(path)
	if err == nil {
		p := Param{Path: path, steps: steps, in: in}
		if _, err = p.locate(sc); err == nil {
			p.describe(sc)
			return p, nil
		}
	}
	return Param{}, sc.unknown(path, err)
}

// resolve follows a path along the types alone. The last step is the number or
// word, a field of the section in.
func resolve(path string) (steps []step, in *fields, err error) {
	in = root()
	if path == "" {
		return nil, nil, errors.New("it is empty")
	}
	rest, more := path, true
	for more {
		var key, name string
		key, rest, more = strings.Cut(rest, ".")
		f, ok := in.byKey[key]
		if !ok {
			return nil, nil, fmt.Errorf("there is no %s", key)
		}
		if f.fixed {
			return nil, nil, fmt.Errorf("%s cannot be set", key)
		}
		switch f.shape {
		case shapeNumber, shapeText:
			if more || key == "name" {
				return nil, nil, fmt.Errorf("%s cannot be set", path)
			}
			return append(steps, step{field: f}), in, nil
		case shapeNamed, shapeItems:
			name, rest, more = strings.Cut(rest, ".")
			if name == "" {
				more = false
			}
		case shapeSettings, shapeTexts:
			return nil, nil, fmt.Errorf("%s holds no single number or word", key)
		}
		steps, in = append(steps, step{f, name}), f.sub
	}
	return nil, nil, fmt.Errorf("%s is a section, not a number or a word", path)
}

// unknown is the error of a path that cannot be compiled.
func (sc *Scenario) unknown(path string, reason error) error {
	return &UnknownPath{path, reason.Error(), sc.nearPaths(path)}
}

// nearer is that of two errors of compiling a path whose hint is nearer to it.
func nearer(path string, a, b error) error {
	distance := func(err error) int {
		var unknown *UnknownPath
		if !errors.As(err, &unknown) || len(unknown.Near) == 0 {
			return math.MaxInt
		}
		return levenshtein.ComputeDistance(path, unknown.Near[0])
	}
	if a == nil || distance(b) < distance(a) {
		return b
	}
	return a
}

// nearPaths are up to three known paths: those in the section that a path
// names, or else those most like it.
func (sc *Scenario) nearPaths(path string) []string {
	if len(path) > 200 {
		return nil
	}
	var in, near []string
	least := 2 + len(path)/4
	for _, known := range sc.Paths() {
		d := levenshtein.ComputeDistance(path, known)
		switch {
		case inside(known, path):
			in = append(in, known)
		case d < least:
			least, near = d, []string{known}
		case d == least:
			near = append(near, known)
		}
	}
	if len(in) > 0 {
		near = in
	}
	return near[:min(3, len(near))]
}

// Paths lists the path of every number and every word that can be set, given
// or not, in the sections that the scenario has.
func (sc *Scenario) Paths() []string {
	var paths []string
	sc.visit(func(s spot) {
		f := s.field
		if f.shape == shapeNumber || f.shape == shapeText && (f.words != nil || f.refers != nil) {
			paths = append(paths, s.path())
		}
	})
	return paths
}

// locate follows the steps of a parameter in a scenario.
func (p Param) locate(sc *Scenario) (spot, error) {
	owner := reflect.ValueOf(sc).Elem()
	for i, st := range p.steps[:len(p.steps)-1] {
		value := owner.Field(st.field.index)
		switch st.field.shape {
		case shapeNamed:
			value = value.MapIndex(reflect.ValueOf(st.name))
		case shapeItems:
			value = itemOf(value, st.name)
		}
		if !value.IsValid() || value.Kind() == reflect.Pointer && value.IsNil() {
			return spot{}, p.absent(i)
		}
		owner = reflect.Indirect(value)
	}
	f := p.leaf()
	return spot{parent(p.Path), f, p.in, owner, owner.Field(f.index)}, nil
}

// leaf is the field a parameter stands for.
func (p Param) leaf() *field { return p.steps[len(p.steps)-1].field }

// itemOf is the item of a list with a name; not valid without one.
func itemOf(list reflect.Value, name string) reflect.Value {
	for i := range list.Len() {
		if nameOf(list.Index(i)) == name {
			return list.Index(i)
		}
	}
	return reflect.Value{}
}

// absent is the error of a section that step i leads to and the scenario has not.
func (p Param) absent(i int) error {
	section, name := "", ""
	for _, st := range p.steps[:i+1] {
		if name != "" {
			section = join(section, name)
		}
		section, name = join(section, st.field.key), st.name
	}
	if name == "" {
		return fmt.Errorf("this scenario has no section %s", section)
	}
	return fmt.Errorf("there is no %s in %s", name, section)
}
