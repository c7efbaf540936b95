package airpath

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// clean draws a network in flight whose field is unique: no recovery that
// grows with flow, and no chimney that may draw either way.
func (d drawing) clean() (*Network, *radiator, *Stream) {
	n := d.network()
	for i := range n.Branches {
		if in := n.Branches[i].Inlet; in != nil {
			in.LowFlowLoss = 0
		}
		if out := n.Branches[i].Exit; out != nil {
			out.Rise = 0
		}
	}
	st := d.stream()
	st.Speed = d.number(20, 130)
	return n, d.radiator(n), st
}

// The field does not depend on where the solver starts, and is the same to
// the last bit when it starts from the same place.
func TestWarmStartGivesTheSameField(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawing{t}
		n, r, st := d.clean()
		fields := [3]*Solver{}
		for k := range fields {
			s, err := NewSolver(n)
			if err != nil {
				t.Fatal(err)
			}
			if k == 2 {
				other := *st
				other.Speed *= d.number(0.5, 1.5)
				if err := s.Solve(&other, r); err != nil {
					t.Fatal(err)
				}
			}
			if err := s.Solve(st, r); err != nil {
				t.Fatal(err)
			}
			fields[k] = s
		}
		total := 0.0
		for i, m := range fields[0].Field.Flow {
			total += math.Abs(m)
			if fields[1].Field.Flow[i] != m {
				t.Fatalf("branch %d: %g, then %g", i, m, fields[1].Field.Flow[i])
			}
		}
		for i, m := range fields[0].Field.Flow {
			if warm := fields[2].Field.Flow[i]; math.Abs(warm-m) > 1e-8*max(total, 1e-3)+digits(fields[0], i) {
				t.Fatalf("branch %d: cold %.12g, warm %.12g of %g", i, m, warm, total)
			}
		}
	})
}

// A larger exit: more flow, less pressure in the compartment, more internal
// drag. Unheated air: a jet hot enough to push would hide the trend.
func TestLargerExit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := drawing{t}
		st := seaLevel(d.number(10, 120))
		core := Core{Element: face{d.number(0.02, 0.1), d.number(2, 20)}}
		inlet := d.number(0.03, 0.05)
		var last *Solver
		for _, area := range []float64{0.005, 0.01, 0.02, 0.04, 0.08} {
			n := wholeDuct(core)
			n.Branches[0].Inlet.Area = inlet
			n.Branches[0].Inlet.DuctLoss = 0.3
			n.Branches[2].Exit.Area = area
			s, err := NewSolver(n)
			if err == nil {
				err = s.Solve(st, nil)
			}
			if err != nil {
				t.Fatal(err)
			}
			if last != nil {
				if s.Field.Flow[0] <= last.Field.Flow[0] {
					t.Fatalf("flow %g after %g", s.Field.Flow[0], last.Field.Flow[0])
				}
				if s.Field.Pressure[1] >= last.Field.Pressure[1] {
					t.Fatalf("pressure %g after %g", s.Field.Pressure[1], last.Field.Pressure[1])
				}
				if s.Drag(st).Internal <= last.Drag(st).Internal {
					t.Fatalf("drag %g after %g", s.Drag(st).Internal, last.Drag(st).Internal)
				}
			}
			last = s
		}
	})
}

// Exit air drawn back warms the inlet by d/(1 − d) of the rise through the
// cowl when the heat is fixed.
func TestDrawsBack(t *testing.T) {
	for _, share := range []float64{0, 0.1, 0.3, 0.5} {
		n := wholeDuct(Core{Element: face{0.09, 8}})
		n.Branches[0].Inlet.DrawsBack = share
		n.Places[1].Source = 30e3
		st := seaLevel(50)
		s := solved(t, n, st)
		rise := 30e3 / (s.Field.Flow[0] * HeatCapacity)
		near(t, "inlet", s.Field.In[0], 15+rise*share/(1-share), 1e-5)
		near(t, "heat", s.HeatOut(st), 30e3, 30e3*1e-8)
	}
}

// After shutdown the heat alone moves the air: with ρ_0/ρ = T/T_0 = 1 + x,
// ρ_0·g·H·x/(1 + x) is lost in the core and the exit.
func TestBuoyancyAlone(t *testing.T) {
	n := wholeDuct(Core{Element: face{0.09, 8}})
	n.Places[1].Source = 500
	n.Branches[2].Exit.Rise = 0.5
	st := seaLevel(0)
	s := solved(t, n, st)
	m := s.Field.Flow[0]
	x := 500 / (m*HeatCapacity + leastSkin) / 288.15
	lost := m * m / (2 * 1.225) * (8/0.0081 + (1+x)/(0.0325*0.0325))
	near(t, "head", lost, 1.225*gravity*0.5*x/(1+x), 1e-6)
	if m < 0.005 {
		t.Errorf("flow %g kg/s", m)
	}
	// A low exit: the same heat draws air in there and out of the inlet.
	n.Branches[2].Exit.Rise = -0.5
	if m := solved(t, n, st).Field.Flow[0]; m >= 0 {
		t.Errorf("low exit: flow %g kg/s", m)
	}
}

// A recovery that grows with flow: the operating point solves
// [η − Δη·(1 − r/r_full)]·q − Cp_e·q = R·ṁ²/(2ρ), a quadratic in ṁ.
func TestLowFlowRecovery(t *testing.T) {
	st := seaLevel(50)
	q := st.ram()
	for _, loss := range []float64{0.1, 0.3, 0.5} {
		n := wholeDuct(Core{Element: face{0.09, 8}})
		in := n.Branches[0].Inlet
		in.Area, in.DuctLoss, in.LowFlowLoss, in.FullRatio = 0.06, 0.1, loss, 1
		m := solved(t, n, st).Field.Flow[0]
		a := (0.1/(0.06*0.06) + 8/0.0081 + 1/(0.0325*0.0325)) / (2 * 1.225)
		b := loss * q / (1.225 * 0.06 * 50)
		c := (0.85 - loss + 0.1) * q
		near(t, "flow", m, (b+math.Sqrt(b*b+4*a*c))/(2*a), 1e-8)
	}
}

// Everything shut, or nothing to move the air: no flow and no error.
func TestNothingMoves(t *testing.T) {
	shut := wholeDuct(Core{Element: face{0.09, 8}})
	shut.Branches[0].Inlet.Area, shut.Branches[2].Exit.Area = 0, 0
	for _, c := range []struct {
		n     *Network
		speed float64
	}{{shut, 100}, {wholeDuct(Core{Element: face{0.09, 8}}), 0}} {
		st := seaLevel(c.speed)
		s := solved(t, c.n, st)
		for i, m := range s.Field.Flow {
			near(t, c.n.Branches[i].Name, m, 0, 1e-12)
		}
		near(t, "drag", s.Drag(st).Internal, 0, 1e-9)
	}
}

// A wind from behind turns the flow.
func TestTailwind(t *testing.T) {
	s := solved(t, wholeDuct(Core{Element: face{0.09, 8}}), seaLevel(-10))
	if s.Field.Flow[0] >= 0 {
		t.Errorf("flow %g", s.Field.Flow[0])
	}
}
