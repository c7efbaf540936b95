package scenarios

import (
	"fmt"
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func ExampleParse() {
	n, err := Parse("95 ± 3 degF", DimensionOf[Temperature]())
	fmt.Println(n.Value, n.Doubt, n.Unit, err)

	_, err = Parse("13 in", DimensionOf[Area]())
	fmt.Println(err)
	// Output:
	// 35 1.6666666666666667 degF <nil>
	// 13 in is a length; area takes in^2, ft^2, cm^2, m^2
}

// accepted are texts with the value and the doubt they stand for, in SI, by
// the definitions of the units.
var accepted = []struct {
	text         string
	d            *Dimension
	value, doubt float64
	unit         string
}{
	{"13 in^2", area, 13 * 0.00064516, 0, "in^2"},
	{"13 in²", area, 13 * 0.00064516, 0, "in²"},
	{"13in^2", area, 13 * 0.00064516, 0, "in^2"},
	{" +13 in ^2 ", area, 13 * 0.00064516, 0, "in ^2"},
	{"7.25 ft^2", area, 7.25 * 0.09290304, 0, "ft^2"},
	{"85 mph", speed, 85 * 0.44704, 0, "mph"},
	{"0.45 lb/hp/h", fuelRate, 0.45 * 0.45359237 / 745.69987158227022 / 3600, 0, "lb/hp/h"},
	{"0.45 lb / hp / h", fuelRate, 0.45 * 0.45359237 / 745.69987158227022 / 3600, 0, "lb / hp / h"},
	{"15 psi", pressure, 15 * 6894.757293168361, 0, "psi"},
	{"0.9 L/min", volumeFlow, 0.9e-3 / 60, 0, "L/min"},
	{"25 BTU/h/ft^2/ddegF", film, 25 * 5.678263341113488, 0, "BTU/h/ft^2/ddegF"},
	{"1 mPa*s", viscosity, 1e-3, 0, "mPa*s"},
	{"1 mPa·s", viscosity, 1e-3, 0, "mPa·s"},
	{"1000 kg*m^-3", density, 1000, 0, "kg*m^-3"},
	{"1000 kg·m⁻³", density, 1000, 0, "kg·m⁻³"},
	{"-4e2 m", length, -400, 0, "m"},
	{"−4E+2 m", length, -400, 0, "m"},
	{".5 m", length, 0.5, 0, "m"},
	{"5. m", length, 5, 0, "m"},
	{"10\u00a0kW", power, 1e4, 0, "kW"},
	{"5400 rpm", rotation, 5400 * 2 * math.Pi / 60, 0, "rpm"},
	{"27°", angle, 27 * math.Pi / 180, 0, "°"},
	{"0 K", difference, 0, 0, "K"},
	{"-18 ddegF", difference, -10, 0, "ddegF"},
	{"-18 Δ°F", difference, -10, 0, "Δ°F"},
	{"3", ratio, 3, 0, ""},
	{"50 %", ratio, 0.5, 0, "%"},
	{"50%", ratio, 0.5, 0, "%"},
	{"3 in/ft", ratio, 0.25, 0, "in/ft"},

	{"13 in^2 ± 1 in^2", area, 13 * 0.00064516, 0.00064516, "in^2"},
	{"13 in^2 ± 2 cm^2", area, 13 * 0.00064516, 2e-4, "in^2"},
	{"13 ± 1 in^2", area, 13 * 0.00064516, 0.00064516, "in^2"},
	{"13 in^2±1", area, 13 * 0.00064516, 0.00064516, "in^2"},
	{"13 in^2 +/- 0", area, 13 * 0.00064516, 0, "in^2"},
	{"40 L/min ± 10 %", volumeFlow, 0.04 / 60, 0.004 / 60, "L/min"},
	{"-40 m ± 10 %", length, -40, 4, "m"},
	{"95 degF ± 3 degF", temperature, 35, 3 / 1.8, "degF"},
	{"95 ± 3 °F", temperature, 35, 3 / 1.8, "°F"},
	{"95 degF ± 3", temperature, 35, 3 / 1.8, "degF"},
	{"95 degF ± 3 ddegF", temperature, 35, 3 / 1.8, "degF"},
	{"35 degC ± 2 K", temperature, 35, 2, "degC"},
	{"0.60 ± 0.10", ratio, 0.6, 0.1, ""},
	{"0.60 +/- 0.10", ratio, 0.6, 0.1, ""},
	{"60 % ± 10 %", ratio, 0.6, 0.1, "%"},
}

func TestParse(t *testing.T) {
	for _, c := range accepted {
		n, err := Parse(c.text, c.d)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		if !near(n.Value, c.value) || !near(n.Doubt, c.doubt) {
			t.Errorf("%q is %.17g ± %.17g, want %.17g ± %.17g", c.text, n.Value, n.Doubt, c.value, c.doubt)
		}
		n.Value, n.Doubt = 0, 0
		want := Number{Unit: c.unit, Text: c.text, Written: true, Known: true}
		if diff := cmp.Diff(want, n); diff != "" {
			t.Errorf("%q: %s", c.text, diff)
		}
	}
}

// near allows for the rounding of a few products.
func near(x, want float64) bool { return math.Abs(x-want) <= 2e-15*math.Abs(want) }

// refused are texts that no kind or not this kind takes, with the answer.
var refused = []struct {
	text string
	d    *Dimension
	want string
}{
	{"13", area, "13 has no unit; area takes in^2, ft^2, cm^2, m^2"},
	{"0", area, "0 has no unit; area takes in^2, ft^2, cm^2, m^2"},
	{"15 ± 10 %", pressure, "15 has no unit; pressure takes psi, inH2O, inHg, Pa, kPa, bar"},
	{"15 ± 1", pressure, "15 has no unit; pressure takes psi, inH2O, inHg, Pa, kPa, bar"},
	{"", area, "a number is missing"},
	{"13 in^2 ±", area, "a number is missing"},
	{"abc", area, `"abc" does not start with a number`},
	{".", ratio, `"." does not start with a number`},

	{"13 in", area, "13 in is a length; area takes in^2, ft^2, cm^2, m^2"},
	{"13 ± 1 in", area, "13 in is a length; area takes in^2, ft^2, cm^2, m^2"},
	{"13 in^2 ± 1 in", area, "1 in is a length; area takes in^2, ft^2, cm^2, m^2"},
	{"3 in", ratio, "3 in is a length; ratio takes a bare number, %"},
	{"3 %", length, "3 % is a ratio; length takes in, ft, mm, cm, m"},
	{"3 N", power, "3 N is a force; power takes hp, kW, W, BTU/h"},
	{"3 m^2", length, "3 m^2 is an area; length takes in, ft, mm, cm, m"},
	{"3 m/hp", length, "3 m/hp is not a length; length takes in, ft, mm, cm, m"},
	{"0.45 lb/hp*h", fuelRate, "0.45 lb/hp*h is not a fuel consumption; fuel consumption takes lb/hp/h, g/kWh, g/kW/h"},

	{"10 degF", difference, "10 degF is a temperature; temperature difference takes ddegF, ddegC, K"},
	{"10 K ± 1 degC", difference, "1 degC is a temperature; temperature difference takes ddegF, ddegC, K"},
	{"10 ddegF", temperature, "10 ddegF is a temperature difference; temperature takes degF, degC, K"},
	{"10 K*m/m", temperature, "10 K*m/m is a temperature difference; temperature takes degF, degC, K"},
	{"3 BTU/degF", heatCapacity, "3 BTU/degF: degF is the reading of a thermometer and cannot be part of a compound unit; write BTU/ddegF"},
	{"3 W/°C", conductance, "3 W/°C: °C is the reading of a thermometer and cannot be part of a compound unit; write W/K"},
	{"95 degF ± 10 %", temperature, "10 % of a temperature has no meaning; write its doubt in ddegF or K"},

	{"15 psi ± -1 psi", pressure, "a doubt is not negative, as -1 psi is"},
	{"15 psi ± -0 psi", pressure, "a doubt is not negative, as -0 psi is"},
	{"1 ± 2 ± 3 m", length, "1 ± 2 ± 3 m has more than one doubt"},
	{"1 +/- 2 ± 3 m", length, "1 ± 2 ± 3 m has more than one doubt"},
	{"0.6 ± 10 %", ratio, "0.6 ± 10 % can be read in two ways; write 0.6 ± 0.1 or 60 % ± 10 %"},
	{"60 % ± 10", ratio, "60 % ± 10 can be read in two ways; write 0.6 ± 0.1 or 60 % ± 10 %"},

	{"0,45 lb", mass, "0,45 lb has a decimal comma; write 0.45"},
	{"1,234 ft", length, "1,234 ft has a comma; write 1234 or 1.234"},
	{"1,234.5 ft", length, "1,234.5 ft separates its thousands; write 1234.5"},
	{"-1,234,567", ratio, "-1,234,567 separates its thousands; write -1234567"},
	{"10 500 ft", length, "10 500 ft separates its thousands; write 10500"},
	{"10'500 ft", length, "10'500 ft separates its thousands; write 10500"},
	{"10_500 ft", length, "10_500 ft separates its thousands; write 10500"},
	{"50/50", ratio, "50/50 is a fraction or a mixture; write a decimal number, or a share such as 50 %"},
	{"22 1/2 in", length, "22 1/2 in has a fraction; write 22.5 in"},
	{"-1 1/4 in", length, "-1 1/4 in has a fraction; write -1.25 in"},
	{"95 deg F", temperature, "95 deg F: write degF"},
	{"30 gal per min", volumeFlow, "30 gal per min: write gal/min"},
	{`22"`, length, `22": write in`},
	{"1.5.2 m", length, `1.5.2 m: ".2 m" cannot follow a number`},
	{"NaN", ratio, "NaN is not a finite number"},
	{"-inf", ratio, "-inf is not a finite number"},
	{"1e400 m", length, "1e400 is no size a quantity can have"},
	{"1e-400 m", length, "1e-400 is no size a quantity can have"},
	{"1e61", ratio, "1e61 is no size a quantity can have"},
	{"1e-61 m", length, "1e-61 m is no size a quantity can have"},
	{"1 m ± 1e-59 %", length, "1e-59 % is no size a quantity can have"},
	{"1 km^9/m^9*km^9/m^9", ratio, "1 km^9/m^9*km^9/m^9: km^9/m^9*km^9/m^9 is no size a unit can have"},

	{"13 inn", length, `13 inn: "inn" is no known unit; did you mean in?`},
	{"13 in2", area, `13 in2: "in2" is no known unit; did you mean in^2?`},
	{"13 sq in", area, `13 sq in: write in^2`},
	{"5 mp", speed, `5 mp: "mp" is no known unit; did you mean mph?`},
	{"5 mp", power, `5 mp: "mp" is no known unit; did you mean MW, hp?`},
	{"100 HP", power, `100 HP: "HP" is no known unit; did you mean hp?`},
	{"40 EUR", ratio, `40 EUR: "EUR" is no known unit`},
	{"0.45 lb/hp-h", fuelRate, "0.45 lb/hp-h: write lb/hp/h"},
	{"0.8 inWC", pressure, `0.8 inWC: "inWC" is no known unit; did you mean inH2O?`},
	{"95 F", temperature, `95 F: "F" is no known unit; did you mean degF?`},
	{"3 xyzzy", area, `3 xyzzy: "xyzzy" is no known unit`},
	{"5 in H2O", pressure, "5 in H2O: between two units stands * or /; inH2O and inHg are one word"},
	{"3 W/(m*K)", conductivity, "3 W/(m*K): units take no brackets; write W/m/K for W/(m*K)"},
	{"3 W/m/", conductivity, "3 W/m/: a unit is missing at the end"},
	{"3 m^0", length, "3 m^0: a power is one digit from 1 to 9, as in in^2"},
	{"3 m⁻", length, "3 m⁻: a power is one digit from 1 to 9, as in in^2"},
	{"3 m^22", length, "3 m^22: a unit cannot go on with '2'"},
	{"5 $", length, "5 $: a unit cannot go on with '$'"},
	{"1:30 min", duration, "1:30 min is minutes and seconds; write 1.5 min"},
}

func TestParseRefuses(t *testing.T) {
	for _, c := range refused {
		n, err := Parse(c.text, c.d)
		if err == nil {
			t.Errorf("%q is accepted as %g %s", c.text, n.Value, c.d.SI)
			continue
		}
		if err.Error() != c.want {
			t.Errorf("%q\n got %s\nwant %s", c.text, err, c.want)
		}
		if n != (Number{}) {
			t.Errorf("%q is refused but gives %+v", c.text, n)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	for _, c := range []struct {
		text string
		d    *Dimension
	}{
		{"0.60", ratio},
		{"13 in^2", area},
		{"95 ± 3 degF", temperature},
		{"25 BTU/h/ft^2/ddegF", film},
	} {
		b.Run(c.text, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Parse(c.text, c.d); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
