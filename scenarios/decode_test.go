package scenarios

import (
	"encoding/json"
	"regexp"
	"strings"
	"testing"

	"github.com/go-viper/mapstructure/v2"
)

type opening struct {
	Area  Quantity[Area]            `mapstructure:"area"`
	Share Quantity[Ratio]           `mapstructure:"share"`
	More  map[string]Quantity[Time] `mapstructure:"more"`
	Name  string                    `mapstructure:"name"`
}

func decodeOpening(data map[string]any) (o opening, err error) {
	decoder, err := mapstructure.NewDecoder(&mapstructure.DecoderConfig{Result: &o, DecodeHook: decodeHook()})
	if err != nil {
		return o, err
	}
	return o, decoder.Decode(data)
}

func TestDecodeHook(t *testing.T) {
	o, err := decodeOpening(map[string]any{
		"area":  "13 ± 1 in^2",
		"share": 0.5,
		"more":  map[string]any{"first": "2 min"},
		"name":  "12 m",
	})
	if err != nil {
		t.Fatal(err)
	}
	if o.Area.Unit != "in^2" || !near(o.Area.Value, 0.00838708) || !near(o.Area.Doubt, 0.00064516) {
		t.Errorf("area is %+v", o.Area)
	}
	if o.Share.Value != 0.5 || !o.Share.Written || o.More["first"].Value != 120 || o.Name != "12 m" {
		t.Errorf("got %+v", o)
	}
}

func TestDecodeHookRefuses(t *testing.T) {
	for _, c := range []struct {
		area any
		want string
	}{
		{"13 in", "13 in is a length; area takes in^2, ft^2, cm^2, m^2"},
		{13, "13 has no unit; area takes in^2, ft^2, cm^2, m^2"},
	} {
		_, err := decodeOpening(map[string]any{"area": c.area})
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: got %v, want %s", c.area, err, c.want)
		}
	}
}

// TestSchemaPatterns checks that the patterns take all that Parse takes, and
// that bare numbers and separated digits are refused.
func TestSchemaPatterns(t *testing.T) {
	ratios := Quantity[Ratio]{}.JSONSchema().OneOf[1]
	units := Quantity[Area]{}.JSONSchema()
	pattern := func(d *Dimension) *regexp.Regexp {
		if d == ratio {
			return regexp.MustCompile(ratios.Pattern)
		}
		return regexp.MustCompile(units.Pattern)
	}
	for _, c := range accepted {
		text := strings.ReplaceAll(c.text, "\u00a0", " ")
		if !pattern(c.d).MatchString(text) {
			t.Errorf("%q does not match its schema", c.text)
		}
	}
	for _, text := range []string{"13", "0", "", "abc", "15 ± 1", "15 psi ± -1 psi", "0,45 lb", "1,234 ft", "10 500 ft", "NaN", "1 ± 2 ± 3 m", "1.5.2 m"} {
		if pattern(area).MatchString(text) {
			t.Errorf("%q matches the schema of a quantity with a unit", text)
		}
	}
	for _, text := range []string{"", "abc", "50/50", "1,234", "0.6 ± -0.1"} {
		if pattern(ratio).MatchString(text) {
			t.Errorf("%q matches the schema of a ratio", text)
		}
	}
}

func TestSchemaFragment(t *testing.T) {
	text, err := json.Marshal(Quantity[Mass]{}.JSONSchema())
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"type":"string"`, `"mass takes lb, oz, kg, g"`, `"examples":["80 lb","80 kg","80 ± 5 kg"]`} {
		if !strings.Contains(string(text), want) {
			t.Errorf("%s lacks %s", text, want)
		}
	}
}
