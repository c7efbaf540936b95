package calibrate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

const foot = 0.3048 // m, exact

func fromF(f float64) float64 { return (f - 32) / 1.8 }

// TestCorrectByRule: computed by hand from 14 CFR 23.1043(b), (c) and CS 22.1043,
// 22.1047.
func TestCorrectByRule(t *testing.T) {
	for _, c := range []struct {
		name                        string
		recorded, outside, altitude float64 // °C, °C, m
		rule                        Rule
		want                        float64 // °C
	}{
		// The hot day has 100 - 3.6·5.5 = 80.2 °F there, 10.2 °F more than the test.
		{"203 °F first at 5500 ft in 70 °F", fromF(203), fromF(70), 5500 * foot, Part23, fromF(213.2)},
		// 100 - 3.6·5.5 = 80.2 °F, and it was 90.
		{"warmer than the hot day", fromF(203), fromF(90), 5500 * foot, Part23, fromF(193.2)},
		{"on the hot day", 95, fromF(100), 0, Part23, 95},
		// 3048 m are 10 000 ft: 100 - 36 = 64 °F = 17.78 °C.
		{"Part 23 at 3048 m", 90, 0, 3048, Part23, 90 + 32/1.8},
		// 38 - 6.5·3.048 = 18.188 °C.
		{"CS 22 at 3048 m", 90, 0, 3048, CS22, 108.188},
		{"CS 22 at sea level", 90, 40, 0, CS22, 88},
	} {
		if got := CorrectByRule(c.recorded, c.outside, c.altitude, c.rule); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %.4f °C, want %.4f", c.name, got, c.want)
		}
	}
}

// TestRuleDays: the hot days at 3048 m, to the hundredth of a degree.
func TestRuleDays(t *testing.T) {
	for rule, want := range map[Rule]float64{CS22: 18.19, Part23: 17.78} {
		if got := rule.Day().Temperature(3048); math.Abs(got-want) > 0.005 {
			t.Errorf("%v: %.3f °C, want %.2f", rule, got, want)
		}
	}
}

// TestRuleShifts: a reading and the air move the result degree for degree.
func TestRuleShifts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		rule := rapid.SampledFrom([]Rule{Part23, CS22}).Draw(t, "rule")
		recorded, air := rapid.Float64Range(40, 150).Draw(t, "recorded"), rapid.Float64Range(-40, 50).Draw(t, "air")
		h, by := rapid.Float64Range(-400, 12000).Draw(t, "altitude"), rapid.Float64Range(-30, 30).Draw(t, "by")
		base := CorrectByRule(recorded, air, h, rule)
		if d := CorrectByRule(recorded+by, air+by, h, rule) - base; math.Abs(d) > 1e-9 {
			t.Errorf("a reading and the air both shifted by %v move the result by %v", by, d)
		}
		if d := CorrectByRule(recorded, rule.Day().Temperature(h), h, rule) - recorded; math.Abs(d) > 1e-9 {
			t.Errorf("on the hot day itself the correction is %v", d)
		}
	})
}

// profile writes a record at 1 Hz: five minutes level and settled, a climb of
// eight minutes at 5 m/s in which coolant warms by 0.05 K/s, and ten level minutes
// in which it comes to rest with a time constant of 100 s. Readings have noise of
// 0.3 K and 1 m.
func profile(skip func(i int) bool) string {
	noise := rand.New(rand.NewPCG(4, 1))
	var b strings.Builder
	b.WriteString("t,h,c,o\n")
	for i := range 300 + 480 + 600 {
		t := float64(i)
		climbed := min(max(t-300, 0), 480)
		excess := 0.05 * climbed
		if t > 780 {
			excess *= 0.5 + 0.5*math.Exp(-(t-780)/100)
		}
		if skip == nil || !skip(i) {
			fmt.Fprintf(&b, "%d,%.1f,%.2f,%.2f\n", i, 500+5*climbed+noise.NormFloat64(), 80+excess+0.3*noise.NormFloat64(), 90+0.3*noise.NormFloat64())
		}
	}
	return b.String()
}

var profileColumns = ColumnMap{Time: {"t", "s"}, Altitude: {"h", "m"}, Coolant: {"c", "degC"}, Oil: {"o", "degC"}}

// TestSegments: the bounds are known from the profile. Bounds are right to half
// a window (30 s), which the ends of the record lack. The coolant cools by less than 2 °F/min = 1/54 K/s after
// 100·ln(12·54/100) = 187 s, so after 967 s.
func TestSegments(t *testing.T) {
	l := read(t, profile(nil), profileColumns, LogSettings{})
	all := Segments(l, SegmentSettings{})
	if len(all) != 3 || all[0].Kind != Settled || all[1].Kind != Climb || all[2].Kind != Settled {
		t.Fatalf("segments: %+v", all)
	}
	for i, want := range [][2]float64{{30, 300}, {300, 780}, {967, 1349}} {
		if s := all[i]; math.Abs(s.From-want[0]) > 30 || math.Abs(s.To-want[1]) > 30 {
			t.Errorf("%v from %v to %v s, want %v", s.Kind, s.From, s.To, want)
		}
	}
	if climb := all[1].Climb; math.Abs(climb-5) > 0.25 {
		t.Errorf("climbs at %v m/s", climb)
	}
	if s := all[0]; s.Steep >= settledRate || math.Abs(s.Means[Coolant]-80) > 0.1 || math.Abs(s.Means[Oil]-90) > 0.1 || len(s.Fluids) != 2 {
		t.Errorf("settled: %+v", s)
	}
}

// TestSegmentsGap: no segment reaches over a gap.
func TestSegmentsGap(t *testing.T) {
	l := read(t, profile(func(i int) bool { return i > 140 && i < 180 }), profileColumns, LogSettings{})
	for _, s := range Segments(l, SegmentSettings{}) {
		if s.From < 141 && s.To > 179 {
			t.Errorf("%v from %v to %v s", s.Kind, s.From, s.To)
		}
	}
	if n := len(Segments(l, SegmentSettings{})); n != 4 {
		t.Errorf("%d segments, want one more than without the gap", n)
	}
}

// TestSettledPeak: coolant that turns from +3 to -3 °F/min is not settled there.
func TestSettledPeak(t *testing.T) {
	var b strings.Builder
	b.WriteString("t,c\n")
	for i := range 600 {
		fmt.Fprintf(&b, "%d,%.4f\n", i, 200-3*math.Abs(float64(i-300))/60)
	}
	l := read(t, b.String(), ColumnMap{Time: {"t", "s"}, Coolant: {"c", "degF"}}, LogSettings{})
	if all := Segments(l, SegmentSettings{}); len(all) > 0 {
		t.Errorf("segments: %+v", all)
	}
	if all := Segments(l, SegmentSettings{Least: 10}); len(all) != 1 || math.Abs(all[0].From+all[0].To-600) > 2 {
		t.Errorf("with short segments: %+v", all)
	}
}

// TestSettledRate: a fluid that drifts at 1.9 °F/min is settled, one at 2.1 is not.
func TestSettledRate(t *testing.T) {
	for _, c := range []struct {
		perMinute float64 // °F
		segments  int
	}{{1.9, 1}, {-1.9, 1}, {2.1, 0}, {-2.1, 0}} {
		var b strings.Builder
		b.WriteString("t,c\n")
		for i := range 300 {
			fmt.Fprintf(&b, "%d,%.4f\n", i, 180+c.perMinute*float64(i)/60)
		}
		l := read(t, b.String(), ColumnMap{Time: {"t", "s"}, Coolant: {"c", "degF"}}, LogSettings{})
		all := Segments(l, SegmentSettings{})
		if len(all) != c.segments {
			t.Errorf("%v °F/min: %d segments", c.perMinute, len(all))
		}
		if len(all) == 1 && (all[0].First != 29 || all[0].End != 271) {
			t.Errorf("%v °F/min: rows %d to %d", c.perMinute, all[0].First, all[0].End)
		}
	}
}
