package airpath

import (
	"math"
	"testing"
)

// wind is standard air at 60 m/s, q0 its dynamic pressure, of the worked
// drag checks per 1 kg/s (computed from the momentum balance).
const (
	wind    = 60.0
	airDens = 1.225
)

// The ratio of drag power to pumping power is 2/(1 + √(1 − k)), and drag
// comes out as 22.053 N at k = 0.6.
func TestColdDrag(t *testing.T) {
	q := 0.5 * airDens * wind * wind
	for _, c := range []struct{ k, ratio float64 }{{0.2, 1.0557}, {0.4, 1.1270}, {0.6, 1.2251}, {0.8, 1.3820}} {
		d := InternalDrag(1, wind, JetSpeed((1-c.k)*q, airDens), 1)
		ratio := d * wind / (c.k * q / airDens)
		near(t, "ratio", ratio, c.ratio, 1e-4)
		near(t, "closed form", ratio, 2/(1+math.Sqrt(1-c.k)), 1e-12)
	}
	jet := JetSpeed(0.4*q, airDens)
	near(t, "jet", jet, 37.947, 0.0005)
	near(t, "drag", InternalDrag(1, wind, jet, 1), 22.053, 0.0005)
	near(t, "drag power", InternalDrag(1, wind, jet, 1)*wind, 1323.2, 0.05)
}

// 40 K on 288.15 K: 40.496 m/s and 19.504 N; no drag at τ = 1/(1 − k).
func TestHeatedDrag(t *testing.T) {
	q := 0.5 * airDens * wind * wind
	st := seaLevel(wind)
	hot := st.density(55)
	jet := JetSpeed(0.4*q, hot)
	near(t, "jet", jet, 40.496, 40.496*0.001)
	near(t, "drag", InternalDrag(1, wind, jet, 1), 19.504, 19.504*0.001)
	tau := airDens / hot
	near(t, "τ", tau, 1.13882, 1e-5)
	near(t, "k of no drag", 1-1/tau, 0.1219, 1e-4)
	for _, k := range []float64{1 - 1/tau, 0.2, 0.5} {
		heated := st.density((st.Temperature+kelvin)/(1-k) - kelvin)
		near(t, "drag", InternalDrag(1, wind, JetSpeed((1-k)*q, heated), 1), 0, 1e-6)
	}
	near(t, "rise for k 0.2", (1/(1-0.2)-1)*288.15, 72.0, 0.05)
}

// Lossless heating gives the jet Q·V²/(2·cp·T0): proportional to heat and V²,
// inverse to T0 (trend: R. N. Tifford, NACA ACR, January 1942).
func TestJetRecovery(t *testing.T) {
	recovered := func(rise, speed, t0 float64) float64 {
		st := seaLevel(speed)
		st.Temperature = t0 - kelvin
		q := 0.5 * st.Density * speed * speed
		jet := JetSpeed(q, st.density(st.Temperature+rise))
		return 0.5 * (jet*jet - speed*speed) // per kg/s [W]
	}
	share := func(rise, speed, t0 float64) float64 { return recovered(rise, speed, t0) / (1004.7 * rise) }
	near(t, "100 m/s", share(1, 100, 288.15), 0.01727, 0.005*0.01727)
	near(t, "60 m/s", share(1, 60, 288.15), 0.00622, 0.005*0.00622)
	near(t, "of 60 kW", share(1, 60, 288.15)*60e3, 373, 0.005*373)
	near(t, "∝ Q", recovered(80, 60, 288.15)/recovered(40, 60, 288.15), 2, 1e-9)
	near(t, "∝ V²", recovered(40, 120, 288.15)/recovered(40, 60, 288.15), 4, 1e-9)
	near(t, "∝ 1/T", recovered(40, 60, 250)/recovered(40, 60, 300), 1.2, 1e-9)
}

// Pre-entry drag over q0·A_i is (1 − r)².
func TestSpillageDrag(t *testing.T) {
	for _, c := range []struct{ r, share float64 }{{0.3, 0.49}, {0.5, 0.25}, {0.8, 0.04}, {1.2, 0}} {
		near(t, "D_add", SpillageDrag(1, 1500, 0.02, c.r)/(1500*0.02), c.share, 1e-12)
	}
}

// TestDragOfAField: the momentum of every opening by hand, at 50 m/s with 500 Pa
// behind the propeller. Of that the inlet sees 0.3: 1681.25 Pa, 52.3918 m/s. The
// exit blows from 600 Pa into −153.125 Pa, of which a fifth is lost, at 55 °C:
// 28.9054 m/s.
func TestDragOfAField(t *testing.T) {
	n := &Network{Places: make([]Place, 1)}
	n.add(Branch{Inlet: &Inlet{Area: 0.02, Recovery: 0.9, Slipstream: 0.3, Spillage: 0.4, FairingDrag: 0.003}}, Outside, 0)
	n.add(Branch{Exit: &Exit{Area: 0.02, Discharge: 0.7, Pressure: -0.1, JetCosine: 0.8, JetLoss: 0.2, DragArea: 0.004}}, 0, Outside)
	n.add(Branch{Gap: &Gap{1e-3, 0.6}}, 0, Outside)
	n.add(Branch{Gap: &Gap{1e-3, 0.6}}, Outside, 0)
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	st := seaLevel(50)
	st.DiscRise = 500
	s.Field.Pressure[0], s.Field.Temperature[0] = 600, 55
	drag := func(flow ...float64) Drag {
		copy(s.Field.Flow, flow)
		return s.Drag(st)
	}
	d := drag(0.8, 0.7, 0.1, 0)
	near(t, "momentum", d.Internal, 0.8*52.3918-0.7*28.9054*0.8, 1e-3)
	near(t, "spillage", d.Spillage, 0.4*1681.25*0.02*0.376752*0.376752, 1e-4)
	near(t, "in the stream", d.External, 0.003*1681.25+0.004*1531.25, 1e-9)
	near(t, "sum", d.Total(), d.Internal+d.Spillage+d.External, 1e-12)

	// Air that comes in at an exit or a gap is slowed from flight speed; air
	// that leaves by an inlet or a gap pushes nothing.
	back := drag(-0.2, -0.3, -0.05, 0.04)
	near(t, "momentum, backwards", back.Internal, (0.3+0.05+0.04)*50, 1e-9)
	near(t, "spillage, backwards", back.Spillage, 0.4*1681.25*0.02, 1e-9)
	// Rolling backwards, or with the wind from behind, there is none to slow.
	st.Speed = -5
	near(t, "wind from behind", drag(-0.2, -0.3, -0.05, 0.04).Internal, 0, 0)
}
