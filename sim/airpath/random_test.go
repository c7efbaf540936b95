package airpath

import (
	"fmt"
	"math"

	"pgregory.net/rapid"
)

// bench is a core measured on a bench: Δp = a·μ·V + b·ρ·V² on the face, plus
// the acceleration of heated air.
type bench struct{ face, linear, square float64 }

func (e bench) PressureDrop(m, rho1, rho2, mu float64) (dp, slope float64) {
	g := m / e.face
	rho := 2 * rho1 * rho2 / (rho1 + rho2)
	a, b := e.linear*mu/rho, e.square/rho+max(0, 1/rho2-1/rho1)
	return g * (a + b*g), (a + 2*b*g) / e.face
}

// radiator heats the air of each core towards one temperature.
type radiator struct {
	net *Network
	hot float64   // [°C]
	ua  []float64 // per branch [W/K]
}

func (r *radiator) Outlets(flow, tIn, tOut []float64) {
	for i := range r.net.Branches {
		if r.net.Branches[i].Core == nil {
			continue
		}
		tOut[i] = r.hot
		if c := math.Abs(flow[i]) * HeatCapacity; c > 0 {
			tOut[i] -= (r.hot - tIn[i]) * math.Exp(-r.ua[i]/c)
		}
	}
}

// heat returns what the cores put into the air [W].
func (r *radiator) heat(f *Field) float64 {
	q := 0.0
	for i := range r.net.Branches {
		if r.net.Branches[i].Core != nil {
			q += math.Abs(f.Flow[i]) * HeatCapacity * (f.Out[i] - f.In[i])
		}
	}
	return q
}

// drawing draws random networks from one source.
type drawing struct{ t *rapid.T }

func (d drawing) number(lo, hi float64) float64 {
	return rapid.Float64Range(lo, hi).Draw(d.t, "number")
}
func (d drawing) count(lo, hi int) int    { return rapid.IntRange(lo, hi).Draw(d.t, "count") }
func (d drawing) chance(percent int) bool { return d.count(1, 100) > 100-percent }

// area draws an opening that is sometimes shut.
func (d drawing) area(lo, hi float64) float64 {
	if d.chance(15) {
		return 0
	}
	return lo * math.Pow(hi/lo, d.number(0, 1))
}

func (d drawing) inlet() *Inlet {
	in := &Inlet{
		Area: d.area(1e-3, 0.05), Recovery: d.number(0.4, 1), FullRatio: d.number(0.1, 1),
		LipLoss: d.number(0, 1), DuctLoss: d.number(0, 1), Slipstream: d.number(0, 0.7),
		Spillage: d.number(0, 1), FairingDrag: d.number(0, 0.01),
	}
	if d.chance(40) {
		in.LowFlowLoss = d.number(0, math.Min(0.5, in.Recovery))
	}
	if d.chance(30) {
		in.DrawsBack = d.number(0, 0.5)
	}
	if d.chance(20) {
		in.DuctLoss, in.LipLoss = 0, 0
	}
	return in
}

func (d drawing) exit() *Exit {
	return &Exit{
		Area: d.area(1e-3, 0.1), Discharge: d.number(0.5, 1), Pressure: d.number(-0.6, 0.1),
		JetCosine: d.number(0, 1), JetLoss: d.number(0, 0.5), Slipstream: d.number(0, 0.7),
		Rise: d.number(-0.5, 1), DragArea: d.number(0, 0.02),
	}
}

func (d drawing) core() *Core {
	face := d.number(0.005, 0.15)
	c := &Core{Element: bench{face, d.number(0, 5e5), d.number(0.5, 20)}, FaceArea: face}
	if d.chance(30) {
		c.FaceArea = 0
	}
	if d.chance(30) {
		c.Factor = d.number(1, 2)
	}
	return c
}

// add appends a branch between two places.
func (n *Network) add(b Branch, from, to int) {
	b.Name, b.From, b.To = fmt.Sprint(len(n.Branches)), from, to
	n.Branches = append(n.Branches, b)
}

// place draws a place; a quarter of them have no skin.
func (d drawing) place(n *Network) int {
	p := Place{SkinUA: d.number(0.5, 20)}
	if d.chance(25) {
		p.SkinUA = 0
	}
	if d.chance(50) {
		p.WallUA, p.WallTemp = d.number(0, 30), d.number(20, 250)
	}
	if d.chance(30) {
		p.Source = d.number(0, 3000)
	}
	n.Places = append(n.Places, p)
	return len(n.Places) - 1
}

// network draws 1–4 inlets with a plenum each, 1–3 compartments, 1–4 cores or
// stacks of two, exits and leaks.
func (d drawing) network() *Network {
	n := &Network{}
	plenums := d.count(1, 4)
	for range plenums {
		p := d.place(n)
		n.add(Branch{Inlet: d.inlet()}, Outside, p)
		if d.chance(30) {
			n.add(Branch{Inlet: d.inlet()}, Outside, p)
		}
	}
	compartments := d.count(1, 3)
	for range compartments {
		j := d.place(n)
		for range d.count(0, 2) {
			n.add(Branch{Exit: d.exit()}, j, Outside)
		}
		if d.chance(50) {
			n.add(Branch{Gap: &Gap{d.area(1e-5, 0.01), 0.6}}, j, Outside)
		}
	}
	open := len(n.Places)
	for range d.count(1, 4) {
		from, to := d.count(0, plenums-1), plenums+d.count(0, compartments-1)
		if d.chance(30) {
			between := d.place(n)
			n.add(Branch{Core: d.core()}, from, between)
			from = between
		}
		n.add(Branch{Core: d.core()}, from, to)
	}
	for range d.count(0, 4) {
		if from, to := d.count(0, open-1), d.count(0, open-1); from != to {
			n.add(Branch{Gap: &Gap{d.area(1e-5, 0.01), 0.6}}, from, to)
		}
	}
	return n
}

// radiator draws the heat of the cores.
func (d drawing) radiator(n *Network) *radiator {
	r := &radiator{net: n, hot: d.number(40, 120), ua: make([]float64, len(n.Branches))}
	for i := range r.ua {
		r.ua[i] = d.number(0, 1500)
	}
	return r
}

// seaLevel returns standard air met at a speed.
func seaLevel(speed float64) *Stream {
	return &Stream{
		Temperature: 15, Density: 1.225, Speed: speed,
	}
}

// stream draws flight, taxi, a tailwind, static running or rest.
func (d drawing) stream() *Stream {
	st := seaLevel(d.number(-15, 130))
	st.Temperature = d.number(-30, 45)
	st.Density = 101325 / (287.05287 * (st.Temperature + kelvin))
	if d.chance(20) {
		st.Speed = 0
	}
	if d.chance(60) {
		st.DiscRise = d.number(0, 1000)
	}
	return st
}
