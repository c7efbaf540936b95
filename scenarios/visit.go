package scenarios

import (
	"maps"
	"reflect"
	"slices"
)

// spot is one field of a scenario: where it stands, what is declared of it and
// what it holds.
type spot struct {
	path  string
	field *field
	in    *fields       // the section it is a field of
	owner reflect.Value // the struct it is a field of
	value reflect.Value
}

// number is the number of the spot, nil when it holds none.
func (s spot) number() *Number {
	if s.field.shape != shapeNumber {
		return nil
	}
	return s.value.Addr().Interface().(quantity).number()
}

// present says that the spot holds anything.
func (s spot) present() bool {
	switch s.field.shape {
	case shapeNumber:
		return s.number().Known
	case shapeSection:
		return s.value.Kind() != reflect.Pointer || !s.value.IsNil()
	case shapeText:
		return s.value.String() != ""
	}
	return s.value.Len() > 0
}

// clear empties the spot.
func (s spot) clear() { s.value.SetZero() }

// visit calls fn for every field of a scenario, sections before what is in
// them, in the order declared and then by name. What is inside of fixed ones is
// left out; see visitInside.
func (sc *Scenario) visit(fn func(spot)) {
	visit(reflect.ValueOf(sc).Elem(), root(), "", fn)
}

func visit(owner reflect.Value, fs *fields, path string, fn func(spot)) {
	for _, f := range fs.list {
		s := spot{join(path, f.key), f, fs, owner, owner.Field(f.index)}
		fn(s)
		if f.sub != nil && !f.fixed && s.present() {
			s.visitInside(fn)
		}
	}
}

func (s spot) visitInside(fn func(spot)) {
	switch s.field.shape {
	case shapeSection:
		visit(reflect.Indirect(s.value), s.field.sub, s.path, fn)
	case shapeNamed:
		for _, name := range s.names() {
			item := s.value.MapIndex(reflect.ValueOf(name))
			if !item.IsNil() {
				visit(item.Elem(), s.field.sub, join(s.path, name), fn)
			}
		}
	case shapeItems:
		for i, name := range s.names() {
			visit(s.value.Index(i).Elem(), s.field.sub, join(s.path, name), fn)
		}
	}
}

// names are the names of the sections in a spot: sorted, or in the order of
// the list.
func (s spot) names() []string {
	switch s.field.shape {
	case shapeNamed, shapeSettings:
		return slices.Sorted(maps.Keys(stringKeys(s.value)))
	case shapeItems:
		names := make([]string, s.value.Len())
		for i := range names {
			names[i] = nameOf(s.value.Index(i))
		}
		return names
	}
	return nil
}

// nameOf is the name of an item of a list.
func nameOf(item reflect.Value) string { return item.Elem().FieldByName("Name").String() }

// stringKeys is the set of the keys of a map.
func stringKeys(m reflect.Value) map[string]bool {
	keys := make(map[string]bool, m.Len())
	for _, key := range m.MapKeys() {
		keys[key.String()] = true
	}
	return keys
}
