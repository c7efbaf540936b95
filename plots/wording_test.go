package plots

import (
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// Lines fit, and together they are the text unless they end in an ellipsis.
func TestBreakText(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringOfN(rapid.RuneFrom([]rune("abWi._/ é")), 0, 200, -1).Draw(t, "text")
		const room, most = 100, 4
		lines := breakText(text, words{size: textSize}, room, most)
		if len(lines) > most {
			t.Fatalf("%d lines", len(lines))
		}
		whole := ""
		for _, line := range lines {
			if line.width() > room {
				t.Fatalf("%q is too wide", line.text)
			}
			whole += line.text
		}
		bare := func(s string) string { return strings.ReplaceAll(s, " ", "") }
		if kept, cut := strings.CutSuffix(bare(whole), "…"); cut {
			if !strings.HasPrefix(bare(text), kept) {
				t.Fatalf("%q of %q", kept, text)
			}
		} else if kept != bare(text) {
			t.Fatalf("%q of %q", kept, text)
		}
	})
}

func TestNamesBreakAfterDots(t *testing.T) {
	var got []string
	for _, line := range breakText("exchangers.oil_cooler.power_law +10 %", words{size: textSize}, 100, 3) {
		got = append(got, line.text)
	}
	if want := "exchangers.oil_cooler.|power_law +10 %"; strings.Join(got, "|") != want {
		t.Errorf("got %q, want %s", got, want)
	}
}

func TestAxisKeepsItsUnit(t *testing.T) {
	lines := axisLines(strings.Repeat("very.long.name.", 40), "lb/min", 120, 2)
	last := lines[len(lines)-1].text
	if len(lines) > 2 || !strings.HasSuffix(last, "…, lb/min") {
		t.Errorf("lines end in %q", last)
	}
	for unit, want := range map[string]string{"": "x", "degF": "x, °F", "in^2": "x, in²", "ddegF": "x, °F", "deg": "x, °", "°C": "x, °C", "lb/hp/h": "x, lb/hp/h"} {
		if got := axisText("x", unit); got != want {
			t.Errorf("unit %q: the label is %q, want %q", unit, got, want)
		}
	}
}

func TestFigures(t *testing.T) {
	for x, want := range map[float64]string{0: "0", 8.5: "8.50", 161.2: "161", 1234.5: "1234", 0.0123: "0.0123", -0.5: "−0.500", 1e-9: "0.000000"} {
		if got := figures(x); got != want {
			t.Errorf("%g is printed %q, want %q", x, got, want)
		}
	}
}

func TestLongPartsOfCaptionsAreBroken(t *testing.T) {
	long := "others at day.temperature 95 degF, exits.belly.height 8 in, inlets.chin.height 5.333 in, spray.rate 0 L/min, oil.volume 6 qt"
	var got []string
	for _, line := range wrap([]string{long, "", "case hot"}, words{size: smallSize}, 300) {
		if line.width() > 300 {
			t.Errorf("%q is too wide", line.text)
		}
		got = append(got, line.text)
	}
	if whole := strings.Join(got, " "); whole != long+" · case hot" {
		t.Errorf("got %q", whole)
	}
}

func TestCaptionNamesItsCases(t *testing.T) {
	for want, cases := range map[string][]string{
		"tug · version 1 · " + reminder:                         nil,
		"tug · case hot_tow · version 1 · " + reminder:          {"hot_tow"},
		"tug · cases hot_tow, cruise · version 1 · " + reminder: {"hot_tow", "cruise"},
	} {
		lines := Caption{Cases: cases, Scenario: "tug", Version: "1"}.lines(1000)
		if len(lines) != 1 || lines[0].text != want {
			t.Errorf("%v: got %v, want %q", cases, lines, want)
		}
	}
}
