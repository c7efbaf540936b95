package atmos

import "testing"

// TestHotDayCorrection: 14 CFR 23.1043(c), (d). Coolant peak 203 °F first reached
// at 5500 ft in air of 70 °F: the hot day there has 80.2 °F (computed).
func TestHotDayCorrection(t *testing.T) {
	h := 5500 * foot
	fluid := HotDayCorrection(celsius(203), celsius(70), h)
	near(t, "fluid in °F", 1.8*fluid+32, 213.2, 1e-9)
	barrel := HotDayBarrelCorrection(celsius(203), celsius(70), h)
	near(t, "barrel in °F", 1.8*barrel+32, 203+7.14, 1e-9)
}

// TestHotDayCorrectionNegative: air warmer than the hot day lowers the reading.
func TestHotDayCorrectionNegative(t *testing.T) {
	near(t, "fluid", HotDayCorrection(100, celsius(110), 0), 100-10/1.8, 1e-9)
	near(t, "barrel", HotDayBarrelCorrection(100, celsius(110), 0), 100-7/1.8, 1e-9)
	near(t, "on the hot day", HotDayCorrection(100, celsius(82), 5000*foot), 100, 1e-9)
}
