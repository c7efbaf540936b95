package plots

import "testing"

func TestShow(t *testing.T) {
	tests := []struct {
		measure  Measure
		value    float64
		us, si   string
		comments string
	}{
		{Temperature, 100, "212.0 °F", "100.0 °C", "boiling water"},
		{Temperature, -40, "-40.0 °F", "-40.0 °C", "where both scales meet"},
		{Temperature, -17.79, "0.0 °F", "-17.8 °C", "never -0.0"},
		{Warmth, 10, "18.0 °F", "10.0 K", "1 K is 1.8 °F"},
		{Height, 304.8, "1000 ft", "305 m", "1 ft is 0.3048 m, exact"},
		{Airspeed, 44.704, "100.0 mph", "160.9 km/h", "1 mph is 0.44704 m/s, exact"},
		{ClimbRate, 5.08, "1000 ft/min", "5.08 m/s", "0.3048/60 m/s"},
		{Power, 74569.9872, "100.0 hp", "74.6 kW", "550 ft lbf/s"},
		{Heat, 17584.2642, "1000 BTU/min", "17.6 kW", "1055.05585 J per BTU, NIST SP 811"},
		{AirFlow, 0.45359237, "60.0 lb/min", "0.454 kg/s", "1 lb/s"},
		{Mass, 4.5359237, "10.0 lb", "4.54 kg", "exact"},
		{Force, 44.482216152605, "10.0 lb", "44 N", "pounds of force"},
	}
	for _, test := range tests {
		if us := test.measure.Show(US, test.value); us != test.us {
			t.Errorf("%g is shown as %s, want %s (%s)", test.value, us, test.us, test.comments)
		}
		if si := test.measure.Show(SI, test.value); si != test.si {
			t.Errorf("%g is shown as %s, want %s (%s)", test.value, si, test.si, test.comments)
		}
	}
}

func TestChange(t *testing.T) {
	for value, want := range map[float64]string{1: "+1.8 °F", -1: "-1.8 °F", 0: "0.0 °F", 0.01: "0.0 °F", -0.01: "0.0 °F"} {
		if got := Warmth.Change(US, value); got != want {
			t.Errorf("a change by %g K is shown as %s, want %s", value, got, want)
		}
	}
}

func TestClock(t *testing.T) {
	for seconds, want := range map[float64]string{0: "0:00", 59.4: "0:59", 59.6: "1:00", 754: "12:34", 7200: "120:00"} {
		if got := Clock(seconds); got != want {
			t.Errorf("%g s is shown as %s, want %s", seconds, got, want)
		}
	}
}
