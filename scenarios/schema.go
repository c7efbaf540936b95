package scenarios

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"github.com/invopop/jsonschema"
)

// Schema returns the JSON schema of a scenario file, draft 7, made from the
// types and their tags. Editors use it to complete and explain keys. Whatever
// Load accepts without overlays conforms to it; ranges and references between
// sections are beyond it.
func Schema() ([]byte, error) {
	r := &jsonschema.Reflector{
		Anonymous:                  true,
		ExpandedStruct:             true,
		RequiredFromJSONSchemaTags: true,
		FieldNameTag:               "mapstructure",
		Namer:                      definitionName,
	}
	s := r.ReflectFromType(reflect.TypeFor[Scenario]())
	s.Version = "http://json-schema.org/draft-07/schema#"
	s.Title = "hotclimb scenario"
	annotateAll(s, s.Definitions)
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		return nil, err
	}
	// the reflector writes the words of a later draft
	text = bytes.ReplaceAll(text, []byte(`"$defs"`), []byte(`"definitions"`))
	text = bytes.ReplaceAll(text, []byte(`"#/$defs/`), []byte(`"#/definitions/`))
	return append(text, '\n'), nil
}

// definitionName names a quantity by what it measures.
func definitionName(t reflect.Type) string {
	if q, ok := reflect.New(t).Interface().(quantity); ok {
		return strings.ReplaceAll(q.dimension().Name, " ", "_")
	}
	return t.Name()
}

// annotateAll adds to the schema of each section, once, what its tags declare.
func annotateAll(s *jsonschema.Schema, all jsonschema.Definitions) {
	sections := map[*jsonschema.Schema]*fields{}
	var gather func(s *jsonschema.Schema, fs *fields)
	gather = func(s *jsonschema.Schema, fs *fields) {
		sections[s] = fs
		for _, f := range fs.list {
			if f.sub != nil {
				gather(all[f.sub.typ.Name()], f.sub)
			}
		}
	}
	gather(s, root())
	for s, fs := range sections {
		annotate(s, fs)
	}
}

// annotate adds to the schema of a section what its tags declare.
func annotate(s *jsonschema.Schema, fs *fields) {
	for _, f := range fs.list {
		property, ok := s.Properties.Get(f.key)
		if !ok {
			continue
		}
		property.Description = f.describe()
		if f.required {
			s.Required = append(s.Required, f.key)
		}
		switch f.shape {
		case shapeText:
			annotateText(property, f)
		case shapeNamed:
			property.PropertyNames = &jsonschema.Schema{Pattern: goodName.String()}
		case shapeSettings:
			property.AdditionalProperties = &jsonschema.Schema{AnyOf: types("string", "number")}
		}
	}
}

// annotateText describes a word or a line. Lines may look like numbers.
func annotateText(property *jsonschema.Schema, f *field) {
	switch {
	case f.words != nil:
		for _, word := range f.words {
			property.Enum = append(property.Enum, word)
		}
		if slices.Contains(f.words, "true") { // YAML reads it as a boolean
			property.Type, property.Enum = "", append(property.Enum, true)
		}
	case f.key == "name":
		property.Pattern = goodName.String()
	case f.refers == nil:
		property.Type = ""
		property.AnyOf = types("string", "number", "boolean")
	}
}

func types(names ...string) []*jsonschema.Schema {
	list := make([]*jsonschema.Schema, len(names))
	for i, name := range names {
		list[i] = &jsonschema.Schema{Type: name}
	}
	return list
}

// describe is the meaning of a field, with its default.
func (f *field) describe() string {
	if f.standard == "" {
		return f.doc
	}
	return f.doc + "; default " + f.standard
}
