package atmos

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestCalibratedToTrue: computed apart from this program, standard day.
func TestCalibratedToTrue(t *testing.T) {
	for _, c := range []struct{ kt, ft, want float64 }{{100, 8000, 112.68}, {150, 10000, 174.05}} {
		s := Standard().At(c.ft * foot)
		near(t, fmt.Sprintf("%g kt at %g ft", c.kt, c.ft), CalibratedToTrue(c.kt*knot, s)/knot, c.want, 0.006)
	}
	s := Standard().At(8000 * foot)
	near(t, "100 kt equivalent at 8000 ft", EquivalentToTrue(100*knot, s)/knot, 112.79, 0.006)
}

// TestAirspeedsReturn: the two conversions undo each other; the true airspeed
// grows with height and, at low speed, tends to the equivalent one.
func TestAirspeedsReturn(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		v := rapid.Float64Range(0.001, 200).Draw(rt, "cas")
		h := rapid.Float64Range(-500, 12000).Draw(rt, "h")
		s := Offset(rapid.Float64Range(-30, 40).Draw(rt, "dT")).At(h)
		tas := CalibratedToTrue(v, s)
		if back := TrueToCalibrated(tas, s); !(math.Abs(back/v-1) < 1e-9) {
			rt.Errorf("%g m/s comes back as %g", v, back)
		}
		if slow := CalibratedToTrue(1e-3, s); !(math.Abs(slow/EquivalentToTrue(1e-3, s)-1) < 1e-5) {
			rt.Errorf("slow flight: calibrated %g, equivalent %g", slow, EquivalentToTrue(1e-3, s))
		}
	})
}

func TestAirspeedLimits(t *testing.T) {
	sea := Standard().At(0)
	near(t, "true at sea level", CalibratedToTrue(80, sea), 80, 1e-4)
	near(t, "negative", CalibratedToTrue(-10, sea), 0, 0)
	near(t, "negative back", TrueToCalibrated(-10, sea), 0, 0)
	near(t, "no air", CalibratedToTrue(50, State{}), 0, 0)
	near(t, "no air back", TrueToCalibrated(50, State{}), 0, 0)
	near(t, "no air, equivalent", EquivalentToTrue(50, State{}), 0, 0)
	// ½ρV² for slow flight.
	nearRel(t, "impact pressure at 20 m/s", ImpactPressure(20), 0.5*1.225*400, 0.001)
}
