package scenarios_test

import (
	"testing"

	"hotclimb/sim"
	"hotclimb/sim/exchanger"
)

// exchangerOf returns an exchanger of a plant by name.
func exchangerOf(t testing.TB, p *sim.Plant, name string) *sim.Exchanger {
	t.Helper()
	for i := range p.Exchangers {
		if p.Exchangers[i].Name == name {
			return &p.Exchangers[i]
		}
	}
	t.Fatalf("no exchanger %s", name)
	return nil
}

// TestTubeRows: the liquid side of a core of 22 by 12 in, 32 mm deep, tubes of
// 2 mm with walls of 0.3 mm every 10 mm, two behind each other, by hand: 60.96
// tubes of 1.4 by 15.4 mm inside.
func TestTubeRows(t *testing.T) {
	p := edited(t, "tug", "rating:\n      heat: 78 kW", "liquid_drop: 3.0 psi", louvered("1.5 mm")+"  tube_rows: 2\n    ", "hot_tow")
	const count, high, deep, long = 60.96, 1.4e-3, 15.4e-3, 22 * 0.0254
	want, err := exchanger.NewTube(exchanger.TubeGeometry{
		Diameter: 2 * high * deep / (high + deep), Length: long, FlowArea: count * high * deep,
		WettedArea: count * 2 * (high + deep) * long, Developed: exchanger.NusseltWall(high / deep),
	}, p.Coolant.Liquid)
	if err != nil {
		t.Fatal(err)
	}
	core := exchangerOf(t, p, "radiator").Core
	for _, flow := range []float64{0.05, 0.5, 2.5} { // laminar to turbulent [kg/s]
		nearly(t, "conductance", core.Liquid.At(flow, 90), want.At(flow, 90), 1e-9)
	}
}

// TestTapedRating: tape over half of a core takes half of its face, of its free
// area and of its rated air.
func TestTapedRating(t *testing.T) {
	whole := exchangerOf(t, plantOf(t, "tug", "hot_tow"), "radiator")
	half := exchangerOf(t, plantOf(t, "tug", "hot_tow", "exchangers.radiator.open_share=0.5"), "radiator")
	nearly(t, "rated air", half.AirFlow, whole.AirFlow/2, 1e-12)
	nearly(t, "face", half.Core.FaceArea, whole.Core.FaceArea/2, 1e-12)
	nearly(t, "free area", half.Core.FreeArea, whole.Core.FreeArea/2, 1e-12)
	// 22 by 12 in at 8 m/s of standard air.
	nearly(t, "rated air of the whole", whole.AirFlow, 22*12*0.0254*0.0254*8*1.225, 1e-12)
}

// TestDumpedFace: behind a core in a compartment the dynamic pressure of its
// face is lost; before an exit of its own, or another core, it is not.
func TestDumpedFace(t *testing.T) {
	face := func(p *sim.Plant, name string) float64 {
		return p.Air.Branches[exchangerOf(t, p, name).Branch].Core.FaceArea
	}
	high := plantOf(t, highwing, "climb")
	nearly(t, "into the cowl", face(high, "radiator"), exchangerOf(t, high, "radiator").Core.FaceArea, 0)
	nearly(t, "into louvers of its own", face(high, "second"), 0, 0)
	stacked := plantOf(t, "tug", "hot_tow", "exchangers.oil_cooler.from=radiator", "leaks.cowl_seams.from=cheek_right")
	nearly(t, "in front of another core", face(stacked, "radiator"), 0, 0)
}

// TestDiffuserFace: the loss of a diffuser of no length is that of Idelchik 1966
// for 180°, on the face that it names instead of the cores behind: 0.65 for an
// inlet of 11 in² before 55 in².
func TestDiffuserFace(t *testing.T) {
	p := plantOf(t, "tug", "hot_tow", "inlets.cheek_left.diffuser.face_area=55 in^2", "inlets.cheek_left.diffuser.length=0 in")
	for _, b := range p.Air.Branches {
		if b.Name == "cheek_left" {
			nearly(t, "loss", b.Inlet.DuctLoss, 0.65, 1e-9)
			return
		}
	}
	t.Fatal("no inlet")
}
