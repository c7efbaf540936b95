package scenarios

import (
	"fmt"
	"strings"
	"testing"
)

const oneReading = "    points:\n      top: {time: 9 min, altitude: 4000 ft, speed: 70 mph, outside: 68 degF, coolant: 212 degF}\n"

// Faults of flight records, of flights to come and of correlations.
var recordRows = []faultRow{
	{"test with a log and points",
		[]string{oneReading, "    log: june.csv\n" + oneReading},
		[]string{
			`base.yaml:101:5: tests.june: has both a log and points (keep one, or make two tests of them)`,
		}},
	{"columns without a log",
		[]string{oneReading, oneReading + "    columns: {coolant: \"CLT [degF]\"}\n"},
		[]string{
			`base.yaml:107:5: tests.june.columns: belong to a log, and there is none (give log, or remove them)`,
		}},
	{"column of nothing known",
		[]string{oneReading, "    log: june.csv\n    columns: {colant: \"CLT [degF]\"}\n"},
		[]string{
			`base.yaml:106:15: tests.june.columns.colant: unknown key (did you mean coolant?)`,
		}},
	{"reading without a condition",
		[]string{"speed: 70 mph, outside: 68 degF", "outside: 68 degF"},
		[]string{
			`base.yaml:106:7: tests.june.points.top.speed: is missing (give it here, or once for all readings as tests.june.speed)`,
		}},
	{"reading of nothing",
		[]string{", coolant: 212 degF}", "}"},
		[]string{
			`base.yaml:106:7: tests.june.points.top: reads neither coolant nor oil (give one of them, or remove it)`,
		}},
	{"two readings at once",
		[]string{oneReading, oneReading + "      again: {time: 540 s, altitude: 4000 ft, speed: 70 mph, outside: 68 degF, oil: 212 degF}\n"},
		[]string{
			`base.yaml:106:19: tests.june.points.top.time: is that of again too (give each reading its own time, or join both)`,
		}},
	{"flight to come with an unknown path",
		[]string{"fit:\n", "next:\n  - name: taped\n    case: taxy\n    set: {inlets.left.aera: 12 in^2}\nfit:\n"},
		[]string{
			`base.yaml:109:11: next.taped.case: "taxy" is the name of nothing in cases (did you mean taxi?)`,
			`base.yaml:110:29: next.taped.set.inlets.left.aera: unknown path: there is no aera (did you mean inlets.left.area?)`,
		}},
	{"correlations of nothing, of words, of one and twice",
		[]string{"fit:\n", `correlations:
  - {name: a, of: aircraft.mas, with: aircraft.mass, value: 0.5}
  - {name: b, of: aircraft.propeller.place, with: aircraft.mass, value: 0.5}
  - {name: c, of: aircraft.mass, with: aircraft.mass, value: 0.5}
  - {name: d, of: aircraft.mass, with: aircraft.parasite_drag, value: -0.5}
  - {name: e, of: aircraft.parasite_drag, with: aircraft.mass, value: 0.4}
fit:
`},
		[]string{
			`base.yaml:108:19: correlations.a.of: aircraft.mas: unknown path: there is no mas (did you mean aircraft.mass?)`,
			`base.yaml:109:19: correlations.b.of: aircraft.propeller.place is a word, not a number`,
			`base.yaml:110:5: correlations.c: is of a number with itself (name two numbers)`,
			`base.yaml:112:5: correlations.e: is of the same numbers as d (keep one)`,
		}},
	{"correlation of one number",
		[]string{"fit:\n", "correlations:\n  - {name: a, of: aircraft.mass}\nfit:\n"},
		[]string{
			`base.yaml:108:5: correlations.a.with: is missing (path of the other)`,
			`base.yaml:108:5: correlations.a.value: is missing (coefficient of correlation)`,
		}},
	{"correlation set by a path",
		[]string{"      inlets.left.area: 25 in^2\n", "      correlations.a.value: 0.5\n"},
		[]string{
			`base.yaml:89:29: changes.bigger.set.correlations.a.value: unknown path: correlations cannot be set`,
		}},
	{"correlation above 1",
		[]string{"fit:\n", "correlations:\n  - {name: a, of: aircraft.mass, with: aircraft.wing_area, value: 1.5}\nfit:\n"},
		[]string{
			`base.yaml:108:67: correlations.a.value: 1.5 is out of range (-1 to 1)`,
		}},
}

// TestFitOfWhatAnOverlaySets: an overlay that sets a number of the fit without a
// doubt makes it known, which is no fault; an overlay that asks for the fit of
// a number without one is.
func TestFitOfWhatAnOverlaySets(t *testing.T) {
	mustLoad(t, good, "aircraft:\n  parasite_drag: 0.05\n")
	_, err := Load(sources([]string{good, "fit:\n  paths: [aircraft.mass]\n"})...)
	const want = "over1.yaml:2:11: fit.paths.aircraft.mass: has no doubt to sharpen (write its value as in 0.60 ± 0.10)"
	if err == nil || err.Error() != want {
		t.Errorf("got  %v\nwant %s", err, want)
	}
}

// TestManyCorrelations: those of 150 numbers load, and copies of a scenario share
// them, so that they cost a flight nothing; what a copy appends is its own.
func TestManyCorrelations(t *testing.T) {
	var b strings.Builder
	b.WriteString("correlations:\n")
	for i := range mostCorrelations {
		fmt.Fprintf(&b, "  - {name: c%d, of: aircraft.mass, with: aircraft.wing_area, value: 0.1}\n", i)
	}
	_, err := Load(sources([]string{good, b.String()})...)
	if err == nil || strings.Contains(err.Error(), "too many") {
		t.Errorf("want the faults of equal pairs alone, got %.200v", err)
	}
	sc := mustLoad(t, good, "correlations:\n  - {name: a, of: aircraft.mass, with: aircraft.wing_area, value: 0.1}\n")
	a, c := sc.Clone(), sc.Clone()
	a.Correlations = append(a.Correlations, &Correlation{Name: "b"})
	c.Correlations = append(c.Correlations, &Correlation{Name: "c"})
	if a.Correlations[0] != sc.Correlations[0] || len(sc.Correlations) != 1 || a.Correlations[1].Name != "b" {
		t.Errorf("copies have %v and %v of %v", a.Correlations, c.Correlations, sc.Correlations)
	}
	other := mustLoad(t, good, "correlations:\n  - {name: a, of: aircraft.mass, with: aircraft.wing_area, value: 0.2}\n")
	if sc.SHA256() == other.SHA256() {
		t.Error("the hash does not see correlations")
	}
}
