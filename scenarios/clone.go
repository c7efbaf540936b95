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
	for _, f := range root().list {
		if !f.fixed {
			deepen(reflect.ValueOf(&c).Elem().Field(f.index))
		}
	}
	c.Correlations = slices.Clip(c.Correlations) // shared; what is appended is not
	c.exchangerOrder = slices.Clone(sc.exchangerOrder)
	c.filled = maps.Clone(sc.filled)
	return &c
}

// deepen replaces all that v shares with the value it was copied from by
// copies of its own.
func deepen(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			c := reflect.New(v.Type().Elem())
			c.Elem().Set(v.Elem())
			deepen(c.Elem())
			v.Set(c)
		}
	case reflect.Struct:
		if _, ok := v.Addr().Interface().(quantity); ok {
			return // it shares nothing
		}
		for i := range v.NumField() {
			deepen(v.Field(i))
		}
	case reflect.Slice:
		if !v.IsNil() {
			c := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(c, v)
			for i := range c.Len() {
				deepen(c.Index(i))
			}
			v.Set(c)
		}
	case reflect.Map:
		deepenMap(v)
	}
}

func deepenMap(v reflect.Value) {
	if v.IsNil() {
		return
	}
	c := reflect.MakeMapWithSize(v.Type(), v.Len())
	for _, key := range v.MapKeys() {
		item := reflect.New(v.Type().Elem()).Elem()
		item.Set(v.MapIndex(key))
		deepen(item)
		c.SetMapIndex(key, item)
	}
	v.Set(c)
}
