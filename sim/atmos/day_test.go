package atmos

import (
	"fmt"
	"testing"
)

// TestHotDay: 14 CFR 23.1043(b); densities computed apart from this program.
func TestHotDay(t *testing.T) {
	for _, r := range table(t, "hot_day.csv") {
		h := r["alt_ft"] * foot
		s := HotDay().At(h)
		name := fmt.Sprintf("%g ft: ", r["alt_ft"])
		near(t, name+"temperature in °F", 1.8*s.Temperature+32, r["t_f"], 1e-9)
		near(t, name+"temperature", s.Temperature, r["t_c"], 0.51e-3)
		nearRel(t, name+"pressure", s.Pressure, r["p_pa"], 2e-5)
		nearRel(t, name+"density", s.Density, r["rho"], 2e-5)
		near(t, name+"density altitude in ft", DensityAltitude(s.Density)/foot, r["density_alt_ft"], 1)
	}
}

// TestHotDayFloor: 14 CFR 23.1043(b), −69.7 °F from 47 139 ft up.
func TestHotDayFloor(t *testing.T) {
	at := func(ft float64) float64 { return 1.8*HotDay().At(ft*foot).Temperature + 32 }
	near(t, "°F at 47 000 ft", at(47000), -69.2, 1e-9)
	near(t, "°F at 47 139 ft", at(47139), -69.7, 0.001)
	near(t, "°F at 50 000 ft", at(50000), -69.7, 1e-9)
	near(t, "°F at 65 000 ft", at(65000), -69.7, 1e-9)
}

// TestHotDays compares the two rules at 3048 m: CS 22.1043 and 14 CFR 23.1043.
func TestHotDays(t *testing.T) {
	near(t, "CS 22", HotDayCS22().At(3048).Temperature, 18.19, 0.005)
	near(t, "Part 23", HotDay().At(3048).Temperature, 17.78, 0.005)
	near(t, "CS 22 at sea level", HotDayCS22().At(0).Temperature, 38, 0)
	near(t, "CS 22 above 11 km", HotDayCS22().At(15000).Temperature, 38-71.5, 1e-9)
}

func TestOffset(t *testing.T) {
	for _, h := range []float64{-500, 0, 3000, 11000, 15000} {
		warm, plain := Offset(20).At(h), Standard().At(h)
		near(t, "warmer by", warm.Temperature-plain.Temperature, 20, 1e-9)
		near(t, "pressure", warm.Pressure, plain.Pressure, 0)
		ratio := (plain.Temperature + 273.15) / (warm.Temperature + 273.15)
		nearRel(t, "density", warm.Density, plain.Density*ratio, 1e-12)
	}
}

func TestAtField(t *testing.T) {
	d := AtField(1500, 30)
	near(t, "at the field", d.At(1500).Temperature, 30, 1e-9)
	near(t, "1000 m above", d.At(2500).Temperature, 23.5, 1e-9)
	near(t, "field at 15 °C, sea level", AtField(0, 15).At(5000).Temperature, Standard().At(5000).Temperature, 1e-9)
	near(t, "field above the tropopause", AtField(12000, -40).At(12000).Temperature, -40, 1e-9)
}
