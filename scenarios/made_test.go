package scenarios

import "testing"

// TestMadeHere: the face of a core is made where geometry gives its heat, which
// a rating or a conductance does not let grow with it; the angle of a flap is
// set at a flap.
func TestMadeHere(t *testing.T) {
	rated := mustLoad(t, good)
	fins := mustLoad(t, edited(t, "    conductance: {air: 400 W/K, air_flow: 0.4 kg/s, liquid: 2 kW/K, liquid_flow: 40 L/min}",
		"    geometry: {fin: louvered, depth: 30 mm, fin_pitch: 1.5 mm, fin_height: 8 mm, fin_thickness: 0.1 mm, louver_pitch: 1.2 mm, louver_length: 6 mm, louver_angle: 27 deg, tube_height: 2 mm}"))
	tug, err := LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	seaplane, err := LoadFile("seaplane", nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		sc   *Scenario
		path string
		made string
	}{
		{rated, "exchangers.aux.face_area", ""},
		{rated, "exchangers.aux.conductance.air", "core"},
		{fins, "exchangers.aux.face_area", "core"},
		{fins, "exchangers.aux.geometry.depth", "core"},
		{tug, "exchangers.radiator.width", ""},
		{tug, "exchangers.radiator.rating.heat", "core"},
		{tug, "exits.belly.flap_angle", "setting"},
		{seaplane, "exits.gills_left.flap_angle", ""},
		{seaplane, "exits.gills_left.count", "opening"},
	} {
		if got := mustCompile(t, c.sc, c.path).Made; got != c.made {
			t.Errorf("%s: made %q, want %q", c.path, got, c.made)
		}
	}
}
