package scenarios

import (
	"bytes"
	"flag"
	"os"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v3"
)

var regen = flag.Bool("regen", false, "write generated files anew")

const schemaFile = "scenario.schema.json"

// The committed schema is the one made from the types.
func TestSchemaFile(t *testing.T) {
	want, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	if *regen {
		if err := os.WriteFile(schemaFile, want, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("%s is out of date: go test ./scenarios -run TestSchemaFile -regen", schemaFile)
	}
}

func compiledSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := Schema()
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource(schemaFile, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON is what an editor makes of a YAML text: dates stay texts.
func asJSON(t *testing.T, text string) any {
	t.Helper()
	var n yaml.Node
	if err := yaml.Unmarshal([]byte(text), &n); err != nil {
		t.Fatal(err)
	}
	return nodeAsJSON(t, n.Content[0])
}

func nodeAsJSON(t *testing.T, n *yaml.Node) any {
	switch n.Kind {
	case yaml.MappingNode:
		m := map[string]any{}
		for i := 0; i < len(n.Content); i += 2 {
			m[n.Content[i].Value] = nodeAsJSON(t, n.Content[i+1])
		}
		return m
	case yaml.SequenceNode:
		list := []any{}
		for _, item := range n.Content {
			list = append(list, nodeAsJSON(t, item))
		}
		return list
	}
	if n.ShortTag() == "!!timestamp" {
		return n.Value
	}
	var v any
	if err := n.Decode(&v); err != nil {
		t.Fatal(err)
	}
	return v
}

// What the loader takes, the schema takes.
func TestSchemaTakesGoodFiles(t *testing.T) {
	schema := compiledSchema(t)
	texts := map[string]string{
		"good":           good,
		"title a number": edited(t, "title: a pusher seaplane with two cores", "title: 1954"),
		"notes a word":   edited(t, `"measured in the hangar: mostly"`, "yes"),
		"ratio in text":  edited(t, "aspect_ratio: 8", `aspect_ratio: "8 ± 1"`),
		"percent":        edited(t, "share: 10 %", "share: 10 % ± 5 %"),
		"other signs":    edited(t, "mass: 1400 lb", "mass: 1400 lb +/- 10 lb", "elevation: 500 ft", "elevation: -50 ft"),
		"one unit":       edited(t, "area: 20 in^2 ± 1 in^2", "area: 20 ± 1 in²"),
		"word true":      edited(t, "      speed: 70 mph", "      speed: 70 mph\n      speed_kind: true"),
		"written":        written(t, mustLoad(t, good)),
	}
	for _, name := range BuiltinNames() {
		s, _ := Builtin(name)
		texts[name] = string(s.Text)
	}
	for name, text := range texts {
		mustLoad(t, text)
		if err := schema.Validate(asJSON(t, text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What is wrong by its form, both refuse. Rows are the names of faults rows and
// of what else is wrong by form.
func TestSchemaRefusesBadForms(t *testing.T) {
	schema := compiledSchema(t)
	byForm := strings.Split("unknown key,unknown section,list for a map,map for a list,map for a number,"+
		"number for a section,empty section,empty value,empty word,bad name,item without a name,bare number,"+
		"unknown word,missing number,missing section,missing legs", ",")
	rows := map[string][]string{}
	for _, row := range append(readingRows, cowlRows...) {
		rows[row.name] = row.change
	}
	for _, name := range byForm {
		change, ok := rows[name]
		if !ok {
			t.Errorf("there is no row %s", name)
			continue
		}
		text := edited(t, change...)
		if _, err := Load(sources([]string{text})...); err == nil {
			t.Errorf("%s: the loader takes it", name)
		}
		if err := schema.Validate(asJSON(t, text)); err == nil {
			t.Errorf("%s: the schema takes it", name)
		}
	}
}

// Every key of every section is explained.
func TestTags(t *testing.T) {
	var check func(fs *fields, path string)
	check = func(fs *fields, path string) {
		for _, f := range fs.list {
			at := join(path, f.key)
			if f.doc == "" || strings.HasSuffix(f.doc, ".") || strings.Contains(f.doc, "\n") {
				t.Errorf("%s: doc %q", at, f.doc)
			}
			if !goodName.MatchString(f.key) {
				t.Errorf("%s: no good key", at)
			}
			if f.shape == shapeNumber {
				checkNumberTags(t, f, at)
			}
			if f.shape == shapeText && f.standard != "" {
				if message, _ := f.wrong(f.standard); message != "" {
					t.Errorf("%s: default %s", at, message)
				}
			}
			if f.sub != nil {
				check(f.sub, at)
			}
		}
	}
	check(root(), "")
}

func checkNumberTags(t *testing.T, f *field, at string) {
	if f.lo >= f.hi {
		t.Errorf("%s: range %v to %v", at, f.lo, f.hi)
	}
	if (f.standard == "") != (f.source == "") {
		t.Errorf("%s: a default and its source go together", at)
	}
	if message, _ := f.outside(f.preset); f.standard != "" && message != "" {
		t.Errorf("%s: default %s", at, message)
	}
	if f.required && (f.standard != "" || f.group != "") {
		t.Errorf("%s: required, but has a default or alternatives", at)
	}
}
