package main

import (
	"math"
	"testing"
)

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
