package scenarios

import (
	"reflect"
	"slices"
)

// spot is one field of a scenario: where it stands, what is declared of it and
// what it holds.
type spot struct {
	at    string // the path of the section it is a field of
	field *field
	in    *fields       // the section it is a field of
	owner reflect.Value // the struct it is a field of
	value reflect.Value
}

// numberIn is the number that a field of that shape holds.
func numberIn(v reflect.Value) *Number { return v.Addr().Interface().(quantity).number() }

// path is that of the spot.
func (s spot) path() string { return join(s.at, s.field.key) }

// number is the number of the spot, nil when it holds none.
func (s spot) number() *Number {
	if s.field.shape != shapeNumber {
		return nil
	}
	return numberIn(s.value)
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

// beside is another field of the same section.
func (s spot) beside(f *field) spot { return spot{s.at, f, s.in, s.owner, s.owner.Field(f.index)} }

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
		s := spot{path, f, fs, owner, owner.Field(f.index)}
		fn(s)
		if f.sub != nil && !f.fixed && s.present() {
			s.visitInside(fn)
		}
	}
}

func (s spot) visitInside(fn func(spot)) {
	switch s.field.shape {
	case shapeSection:
		visit(reflect.Indirect(s.value), s.field.sub, s.path(), fn)
	case shapeNamed:
		for _, name := range s.names() {
			item := s.value.MapIndex(reflect.ValueOf(name))
			if !item.IsNil() {
				visit(item.Elem(), s.field.sub, join(s.path(), name), fn)
			}
		}
	case shapeItems:
		for i, name := range s.names() {
			visit(s.value.Index(i).Elem(), s.field.sub, join(s.path(), name), fn)
		}
	}
}

// names are the names of the sections in a spot: sorted, or in the order of
// the list.
func (s spot) names() []string {
	switch s.field.shape {
	case shapeNamed, shapeSettings:
		names := make([]string, 0, s.value.Len())
		for _, key := range s.value.MapKeys() {
			names = append(names, key.String())
		}
		slices.Sort(names)
		return names
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

// eachSection calls fn for the sections that a field holds, in no order.
func (f *field) eachSection(v reflect.Value, fn func(section reflect.Value, fs *fields)) {
	switch f.shape {
	case shapeSection:
		if v.Kind() == reflect.Struct {
			fn(v, f.sub)
		} else if !v.IsNil() {
			fn(v.Elem(), f.sub)
		}
	case shapeNamed:
		for i := v.MapRange(); i.Next(); {
			if item := i.Value(); !item.IsNil() {
				fn(item.Elem(), f.sub)
			}
		}
	case shapeItems:
		for i := range v.Len() {
			fn(v.Index(i).Elem(), f.sub)
		}
	}
}
