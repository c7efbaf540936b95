package scenarios

import (
	"maps"
	"reflect"
	"slices"
)

// Clone returns a deep copy: nothing that is changed in it shows in sc. The
// correlations are shared, as they are never changed.
func (sc *Scenario) Clone() *Scenario {
	c := *sc
	deepen(reflect.ValueOf(&c).Elem(), root())
	c.Correlations = slices.Clip(c.Correlations) // shared; what is appended is not
	c.exchangerOrder = slices.Clone(sc.exchangerOrder)
	c.filled = maps.Clone(sc.filled)
	return &c
}

// deepen replaces all that a section shares with the one it was copied from by
// copies of its own, but for what is fixed.
func deepen(section reflect.Value, fs *fields) {
	for _, f := range fs.list {
		if !f.fixed {
			f.deepen(section.Field(f.index))
		}
	}
}

// deepen is that of one field.
func (f *field) deepen(v reflect.Value) {
	switch f.shape {
	case shapeNumber, shapeText: // they share nothing
	case shapeSection:
		if v.Kind() == reflect.Struct {
			deepen(v, f.sub)
		} else if !v.IsNil() {
			v.Set(copyOf(v, f.sub))
		}
	case shapeNamed:
		if !v.IsNil() {
			c := reflect.MakeMapWithSize(v.Type(), v.Len())
			for i := v.MapRange(); i.Next(); {
				c.SetMapIndex(i.Key(), copyOf(i.Value(), f.sub))
			}
			v.Set(c)
		}
	case shapeItems:
		if !v.IsNil() {
			c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			for i := range v.Len() {
				c.Index(i).Set(copyOf(v.Index(i), f.sub))
			}
			v.Set(c)
		}
	case shapeTexts:
		v.Set(reflect.ValueOf(slices.Clone(v.Interface().([]string))))
	case shapeSettings:
		v.Set(reflect.ValueOf(maps.Clone(v.Interface().(map[string]string))))
	}
}

// copyOf returns a deep copy of the section that a pointer leads to.
func copyOf(pointer reflect.Value, fs *fields) reflect.Value {
	if pointer.IsNil() {
		return pointer
	}
	c := reflect.New(fs.typ)
	c.Elem().Set(pointer.Elem())
	deepen(c.Elem(), fs)
	return c
}
