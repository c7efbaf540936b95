package scenarios

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		text string
		d    *Dimension
		want string
	}{
		{"13.000 in^2", area, "13 in^2"},
		{"0.123456 in", length, "0.1235 in"},
		{"9.99996 in", length, "10 in"},
		{"10523.4 ft", length, "10523 ft"},
		{"-0.00001 degC", temperature, "-0.00001 degC"},
		{"95 °F", temperature, "95 °F"},
		{"95.04 ± 3.16 degF", temperature, "95 ± 3.2 degF"},
		{"300 K", temperature, "300 K"},
		{"0.60 ± 0.10", ratio, "0.6 ± 0.1"},
		{"60 % ± 10 %", ratio, "60 % ± 10 %"},
		{"12345 ± 678 ft", length, "12345 ± 678 ft"},
		{"0.02 ± 4 ddegF", difference, "0 ± 4 ddegF"},
		{"40 L/min ± 10 %", volumeFlow, "40 ± 4 L/min"},
		{"5400 rpm", rotation, "5400 rpm"},
		{"0 mph", speed, "0 mph"},
	} {
		n, err := Parse(c.text, c.d)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if got := n.Format(c.d); got != c.want {
			t.Errorf("%q prints as %q, want %q", c.text, got, c.want)
		}
	}
}

func TestFormatElsewhere(t *testing.T) {
	for _, c := range []struct {
		value float64
		unit  string
		d     *Dimension
		want  string
	}{
		{0.00838708, "in^2", area, "13 in^2"},
		{0.00838708, "", area, "0.008387 m^2"},
		{0.00838708, "hp", area, "0.008387 m^2"}, // does not fit: SI
		{35, DisplayUnit(temperature, "us"), temperature, "95 degF"},
		{35, DisplayUnit(temperature, "si"), temperature, "35 degC"},
		{35, "ddegF", temperature, "35 degC"},
		{10, DisplayUnit(difference, "us"), difference, "18 ddegF"},
		{10, "degF", difference, "10 K"},
		{0.5, "", ratio, "0.5"},
		{0.5, "%", ratio, "50 %"},
		{248.84, DisplayUnit(pressure, "us"), pressure, "0.999 inH2O"},
	} {
		if got := Format(c.value, c.unit, c.d); got != c.want {
			t.Errorf("%g in %q prints as %q, want %q", c.value, c.unit, got, c.want)
		}
	}
}

func TestQuantityPrints(t *testing.T) {
	var q Quantity[Area]
	if got := q.String(); got != "" {
		t.Errorf("an unknown area prints as %q", got)
	}
	q.Number = Number{Value: 0.00838708, Doubt: 0.00064516, Unit: "in²", Known: true}
	if got, want := q.String(), "13 ± 1 in²"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if got, want := q.Exact(), "13 ± 1 in²"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
	if x, err := Convert(q.Value, "cm^2", area); err != nil || !near(x, 83.8708) {
		t.Errorf("13 in² is %g cm^2: %v", x, err)
	}
	_, err := Convert(q.Value, "cm", area)
	if want := "cm is a length; area takes in^2, ft^2, cm^2, m^2"; err == nil || err.Error() != want {
		t.Errorf("got %v, want %s", err, want)
	}
}

// TestExactReadsBack prints numbers of any kind in any unit their kind offers
// and reads them again.
func TestExactReadsBack(t *testing.T) {
	sizeable := func(x float64) bool { return within(x, largestSI) }
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(dimensions).Draw(t, "dimension")
		n := Number{
			Value: rapid.Float64Range(-1e9, 1e9).Filter(sizeable).Draw(t, "value"),
			Doubt: rapid.Float64Range(0, 1e6).Filter(sizeable).Draw(t, "doubt"),
			Unit:  rapid.SampledFrom(append([]string{d.US, d.Metric}, d.Accepts...)).Draw(t, "unit"),
		}
		text := n.Exact(d)
		again, err := Parse(text, d)
		if err != nil {
			t.Fatal(err)
		}
		if !sameNumber(n, again, d) {
			t.Fatalf("%.17g ± %.17g prints as %s and reads as %.17g ± %.17g", n.Value, n.Doubt, text, again.Value, again.Doubt)
		}
	})
}

// sameNumber allows for the rounding of the last digits. Those of a reading
// are lost on the zero of its thermometer, at most 492 degrees away.
func sameNumber(n, again Number, d *Dimension) bool {
	const last = 4e-16
	size := math.Abs(n.Value)
	if d.thermometer {
		size += 492
	}
	return math.Abs(n.Value-again.Value) <= last*size && math.Abs(n.Doubt-again.Doubt) <= last*n.Doubt
}

func BenchmarkFormat(b *testing.B) {
	n, err := Parse("13 ± 1 in^2", area)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	for b.Loop() {
		_ = n.Format(area)
	}
}
