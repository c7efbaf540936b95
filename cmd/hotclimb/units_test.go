package main

import (
	"math"
	"testing"
)

func TestShow(t *testing.T) {
	tests := []struct {
		measure  measure
		value    float64
		us, si   string
		comments string
	}{
		{temperature, 100, "212.0 °F", "100.0 °C", "boiling water"},
		{temperature, -40, "-40.0 °F", "-40.0 °C", "where both scales meet"},
		{temperature, -17.79, "0.0 °F", "-17.8 °C", "never -0.0"},
		{difference, 10, "18.0 °F", "10.0 K", "1 K is 1.8 °F"},
		{height, 304.8, "1000 ft", "305 m", "1 ft is 0.3048 m, exact"},
		{airspeed, 44.704, "100.0 mph", "160.9 km/h", "1 mph is 0.44704 m/s, exact"},
		{climbRate, 5.08, "1000 ft/min", "5.08 m/s", "0.3048/60 m/s"},
		{power, 74569.9872, "100.0 hp", "74.6 kW", "550 ft lbf/s"},
		{heat, 17584.2642, "1000 BTU/min", "17.6 kW", "1055.05585 J per BTU, NIST SP 811"},
		{airFlow, 0.45359237, "60.0 lb/min", "0.454 kg/s", "1 lb/s"},
		{mass, 4.5359237, "10.0 lb", "4.54 kg", "exact"},
		{force, 44.482216152605, "10.0 lb", "44 N", "pounds of force"},
	}
	for _, test := range tests {
		if us := test.measure.show("us", test.value); us != test.us {
			t.Errorf("%g is shown as %s, want %s (%s)", test.value, us, test.us, test.comments)
		}
		if si := test.measure.show("si", test.value); si != test.si {
			t.Errorf("%g is shown as %s, want %s (%s)", test.value, si, test.si, test.comments)
		}
	}
}

func TestChange(t *testing.T) {
	for value, want := range map[float64]string{1: "+1.8 °F", -1: "-1.8 °F", 0: "0.0 °F", 0.01: "0.0 °F", -0.01: "0.0 °F"} {
		if got := difference.change("us", value); got != want {
			t.Errorf("a change by %g K is shown as %s, want %s", value, got, want)
		}
	}
}

func TestClock(t *testing.T) {
	for seconds, want := range map[float64]string{0: "0:00", 59.4: "0:59", 59.6: "1:00", 754: "12:34", 7200: "120:00"} {
		if got := clock(seconds); got != want {
			t.Errorf("%g s is shown as %s, want %s", seconds, got, want)
		}
	}
}

func TestNumber(t *testing.T) {
	tests := []struct {
		value      number
		text, json string
	}{
		{0, "0", "0"},
		{-12.5, "-12.5", "-12.5"},
		{123456789.123, "1.2345679e+08", "1.2345679e+08"},
		{1.0 / 3, "0.33333333", "0.33333333"},
		{1e-16, "1e-16", "1e-16"},
		{number(math.NaN()), "", "null"},
		{number(math.Inf(1)), "", "null"},
		{number(math.Inf(-1)), "", "null"},
	}
	for _, test := range tests {
		text, err := test.value.MarshalJSON()
		if test.value.String() != test.text || string(text) != test.json || err != nil {
			t.Errorf("%g: %q and %s, want %q and %s", float64(test.value), test.value, text, test.text, test.json)
		}
	}
}
