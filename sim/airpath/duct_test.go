package airpath

import (
	"math"
	"testing"
)

// face is a core that loses K dynamic pressures on its face.
type face struct{ area, k float64 }

func (e face) PressureDrop(m, rho1, _, _ float64) (dp, slope float64) {
	slope = e.k * m / (rho1 * e.area * e.area)
	return slope * m / 2, slope
}

// wholeDuct is the worked duct: η 0.85, Cp_e −0.10, core K 8 on the face of
// 0.09 m², exit Cd·A 0.65·0.05 m². Its inlet is wide enough to lose nothing.
func wholeDuct(core Core) *Network {
	n := &Network{Places: make([]Place, 2)}
	n.add(Branch{Inlet: &Inlet{Area: 100, Recovery: 0.85}}, Outside, 0)
	n.add(Branch{Core: &core}, 0, 1)
	n.add(Branch{Exit: &Exit{Area: 0.05, Discharge: 0.65, Pressure: -0.1, JetCosine: 1}}, 1, Outside)
	return n
}

// solved returns the solver of a network after one solve of cold air.
func solved(t *testing.T, n *Network, st *Stream) *Solver {
	t.Helper()
	s, err := NewSolver(n)
	if err != nil {
		t.Fatal(err)
	}
	if err := s.Solve(st, nil); err != nil {
		t.Fatal(err)
	}
	return s
}

// Computed from the closed form
// ṁ = √(2·ρ·q0·(η − Cp_e)/(K/A_f² + 1/(Cd·A)²)).
func TestWholeDuct(t *testing.T) {
	st := seaLevel(50)
	for _, core := range []Core{
		{Element: face{0.09, 8}},
		{Element: face{0.09, 7}, FaceArea: 0.09}, // its dump head apart
		{Element: face{0.09, 4}, Factor: 2},
	} {
		s := solved(t, wholeDuct(core), st)
		m, p := s.Field.Flow[0], s.Field.Pressure[1]
		exact := math.Sqrt(2 * 1.225 * 1531.25 * 0.95 / (8/0.0081 + 1/(0.0325*0.0325)))
		near(t, "closed form", m, exact, 1e-6*exact)
		near(t, "flow", m, 1.3574, 1e-4)
		near(t, "core", s.Field.Pressure[0]-p, 742.7, 0.1)
		near(t, "plenum", p, 558.8, 0.1)
		near(t, "stream tube", m/(1.225*50), 0.02216, 1e-5)
		d := s.Drag(st)
		near(t, "drag", d.Internal, 26.87, 0.01)
		near(t, "drag area", d.Total()/1531.25, 0.01755, 1e-5)
		// The exit-plane form agrees to one percent, A_j taken as Cd·A.
		jet := m / (1.225 * 0.0325)
		near(t, "exit plane", m*(50-jet)+0.1*1531.25*0.0325, 26.57, 0.01)
	}
}

// A quadratic network flows in exact proportion to speed: 0.6787, 1.3574 and
// 2.7147 kg/s at 25, 50 and 100 m/s.
func TestFlowProportionalToSpeed(t *testing.T) {
	n := wholeDuct(Core{Element: face{0.09, 8}})
	n.add(Branch{Gap: &Gap{1e-3, 0.6}}, 0, 1)
	n.add(Branch{Gap: &Gap{5e-4, 0.6}}, 1, Outside)
	base := solved(t, n, seaLevel(50)).Field
	for _, v := range []float64{25, 100} {
		for i, m := range solved(t, n, seaLevel(v)).Field.Flow {
			near(t, n.Branches[i].Name, m*50/v, base.Flow[i], 1e-9*base.Flow[i])
		}
	}
	for v, want := range map[float64]float64{25: 0.6787, 50: 1.3574, 100: 2.7147} {
		near(t, "duct", solved(t, wholeDuct(Core{Element: face{0.09, 8}}), seaLevel(v)).Field.Flow[0], want, 1e-4)
	}
}

// Equal inlet pressures: 1/√R_par = Σ 1/√R, then resistances add in series.
func TestParallelCores(t *testing.T) {
	st := seaLevel(60)
	n := wholeDuct(Core{Element: face{0.09, 8}})
	n.add(Branch{Core: &Core{Element: face{0.05, 5}}}, 0, 1)
	n.add(Branch{Core: &Core{Element: face{0.03, 12}}}, 0, 1)
	s := solved(t, n, st)
	g := 0.09/math.Sqrt(8) + 0.05/math.Sqrt(5) + 0.03/math.Sqrt(12)
	total := math.Sqrt(2 * 1.225 * st.ram() * 0.95 / (1/(g*g) + 1/(0.0325*0.0325)))
	near(t, "total", s.Field.Flow[0], total, 1e-6*total)
	near(t, "first", s.Field.Flow[1], total*0.09/math.Sqrt(8)/g, 1e-6*total)
}

// plenumFlow is the balance of one plenum: inflow less outflow at pressure p,
// falling in p; its root is found by bisection.
func plenumRoot(q []float64, r []float64, rho, outside, exit float64) float64 {
	balance := func(p float64) float64 {
		flow := func(d, c float64) float64 { return math.Copysign(c*math.Sqrt(2*rho*math.Abs(d)), d) }
		sum := -flow(p-outside, exit)
		for i := range q {
			sum += flow(q[i]-p, 1/math.Sqrt(r[i]))
		}
		return sum
	}
	low, high := -1e5, 1e5
	for range 200 {
		if mid := (low + high) / 2; balance(mid) > 0 {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// Several inlets and one plenum: the solver finds the root that bisection
// finds, also where the weak inlet flows backwards.
func TestPlenumAgainstBisection(t *testing.T) {
	for _, c := range []struct {
		name    string
		eta     []float64
		exit    float64
		backing bool
	}{
		{"two", []float64{0.9, 0.8}, 0.03, false},
		{"weak", []float64{0.95, 0.2}, 0.01, true},
		{"four", []float64{0.95, 0.8, 0.6, 0.1}, 0.02, true},
		{"shut", []float64{0.95, 0.5}, 1e-9, true},
	} {
		st := seaLevel(50)
		n := &Network{Places: make([]Place, len(c.eta)+1)}
		pl := len(c.eta)
		q, r := make([]float64, pl), make([]float64, pl)
		for i, eta := range c.eta {
			area, k := 0.02+0.01*float64(i), 6+float64(i)
			n.add(Branch{Inlet: &Inlet{Area: 1000, Recovery: eta}}, Outside, i)
			n.add(Branch{Core: &Core{Element: face{area, k}}}, i, pl)
			q[i], r[i] = eta*st.ram(), k/(area*area)
		}
		n.add(Branch{Exit: &Exit{Area: c.exit, Discharge: 1, Pressure: -0.1}}, pl, Outside)
		s := solved(t, n, st)
		p := plenumRoot(q, r, 1.225, -0.1*st.ram(), c.exit)
		near(t, c.name+": plenum", s.Field.Pressure[pl], p, 1e-6*st.ram())
		if back := s.Field.Flow[2*(pl-1)] < 0; back != c.backing {
			t.Errorf("%s: backflow %v, want %v", c.name, back, c.backing)
		}
	}
}

// TestFaceHead: a core without any loss of its own costs the dynamic pressure of
// the air that enters it, whatever becomes of its density behind; the drop of
// the element alone is multiplied when it is wet.
func TestFaceHead(t *testing.T) {
	head := Core{Element: face{0.09, 0}, FaceArea: 0.09}
	dp, slope := head.drop(0.9, 1.2, 0.8, 1.8e-5)
	near(t, "10 kg/(m² s) at 1.2 kg/m³", dp, 0.5*1.2*(10/1.2)*(10/1.2), 1e-9)
	near(t, "slope", slope, 2*dp/0.9, 1e-9)
	back, _ := head.drop(-0.9, 1.2, 0.8, 1.8e-5)
	near(t, "backwards", back, -dp, 1e-12)

	wet := Core{Element: face{0.09, 3}, FaceArea: 0.09, Factor: 2}
	both, _ := wet.drop(0.9, 1.2, 0.8, 1.8e-5)
	near(t, "wet, with its head", both, (2*3+1)*dp, 1e-9)
}
