package scenarios

import (
	"fmt"
	"reflect"
	"strings"
	"sync"
)

// shape is what a field looks like in the file.
type shape int

const (
	shapeNumber   shape = iota // one number with its unit: 13 in^2 ± 1 in^2
	shapeText                  // a word or a line
	shapeTexts                 // a list of words
	shapeSettings              // paths and their values
	shapeSection               // keys of their own
	shapeNamed                 // sections by name, in no order
	shapeItems                 // a list of sections, each with its name, in order
)

// field is one key of a section, as its tags declare it.
type field struct {
	key, doc string
	index    int // of the struct field
	shape    shape
	sub      *fields // of sections, named or in a list

	required      bool
	words, refers []string
	group, member string // of alternatives
	made          string // what a builder makes to change it, "" for none
	whole         bool   // counts pieces
	fixed         bool   // never changed once read: shared by copies, without paths
	rivals        []*field
	standard      string // default as the tag writes it
	source        string // of that default

	dim    *Dimension // of a number
	lo, hi float64    // its range, SI
	preset Number     // its default, when standard is not empty
}

// fields are the keys of one section, in the order they are declared.
type fields struct {
	typ   reflect.Type
	list  []*field
	byKey map[string]*field
}

// root describes a whole scenario file.
var root = sync.OnceValue(func() *fields { return describe(reflect.TypeFor[Scenario]()) })

// describe reads the tags of a section. A tag that cannot be read is a mistake
// in this package, not of the user, and panics.
func describe(t reflect.Type) *fields {
	fs := &fields{typ: t, byKey: map[string]*field{}}
	for i := range t.NumField() {
		sf := t.Field(i)
		key, ok := sf.Tag.Lookup("mapstructure")
		if !ok {
			continue
		}
		f := &field{key: key, index: i}
		f.readTags(sf.Tag)
		f.readType(sf.Type, sf.Tag.Get("range"))
		fs.list = append(fs.list, f)
		fs.byKey[key] = f
	}
	fs.findRivals()
	return fs
}

func (f *field) readTags(tag reflect.StructTag) {
	f.doc, f.source, f.standard = tag.Get("doc"), tag.Get("source"), tag.Get("default")
	f.required = tag.Get("required") == "true"
	f.words, f.refers = cutBars(tag.Get("words")), cutBars(tag.Get("refers"))
	f.group, f.member, _ = strings.Cut(tag.Get("alt"), ":")
	f.made, f.whole, f.fixed = tag.Get("made"), tag.Get("whole") == "true", tag.Get("fixed") == "true"
}

func cutBars(list string) []string {
	if list == "" {
		return nil
	}
	return strings.Split(list, "|")
}

func (f *field) readType(t reflect.Type, limits string) {
	if q, ok := reflect.New(t).Interface().(quantity); ok {
		f.readNumber(q.dimension(), limits)
		return
	}
	switch t.Kind() {
	case reflect.String:
		f.shape = shapeText
	case reflect.Slice:
		f.shape = shapeTexts
		if t.Elem().Kind() == reflect.Pointer {
			f.shape, f.sub = shapeItems, describe(t.Elem().Elem())
		}
	case reflect.Map:
		f.shape = shapeSettings
		if t.Elem().Kind() == reflect.Pointer {
			f.shape, f.sub = shapeNamed, describe(t.Elem().Elem())
		}
	case reflect.Pointer:
		f.shape, f.sub = shapeSection, describe(t.Elem())
	default:
		f.shape, f.sub = shapeSection, describe(t)
	}
}

func (f *field) readNumber(d *Dimension, limits string) {
	f.shape, f.dim = shapeNumber, d
	lo, hi, ok := strings.Cut(limits, "..")
	if !ok {
		panic(fmt.Sprintf("field %s has no range", f.key))
	}
	f.lo, f.hi = f.mustParse(lo).Value, f.mustParse(hi).Value
	if f.standard != "" {
		f.preset = f.mustParse(f.standard)
		f.preset.Written, f.preset.Text, f.preset.Source = false, "", f.source
	}
}

func (f *field) mustParse(s string) Number {
	n, err := Parse(s, f.dim)
	if err != nil {
		panic(fmt.Sprintf("field %s: %v", f.key, err))
	}
	return n
}

// findRivals notes for each field the ones that exclude it.
func (fs *fields) findRivals() {
	for _, f := range fs.list {
		if f.required && f.group != "" {
			panic(fmt.Sprintf("field %s is required, and an alternative", f.key))
		}
		for _, g := range fs.list {
			if f.group != "" && g.group == f.group && g.member != f.member {
				f.rivals = append(f.rivals, g)
			}
		}
	}
}

// keys are the names of all fields, in the order they are declared.
func (fs *fields) keys() []string {
	keys := make([]string, len(fs.list))
	for i, f := range fs.list {
		keys[i] = f.key
	}
	return keys
}
