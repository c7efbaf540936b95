package scenarios

import (
	"math"

	"hotclimb/sim"
	"hotclimb/sim/airpath"
)

// air fills the network, a branch for each inlet, core, exit and leak.
func (b *builder) air() {
	if b.in.any("compartments", "exchangers") { // in whose order places between cores and before exits come
		b.places()
	}
	if !b.coresChange() && !b.in.any("inlets", "exits", "vents", "leaks") {
		return
	}
	branches := make([]airpath.Branch, len(b.layout.branch))
	copy(branches, b.plant.Air.Branches)
	b.plant.Air.Branches = branches
	if b.in.any("inlets", "exchangers") { // whose faces end the ducts
		b.inlets()
	}
	if b.coresChange() {
		b.coresInAir()
	}
	if b.in.any("exits", "exchangers") { // in whose order the places before them come
		b.exits()
	}
	if b.in.any("vents") {
		b.vents()
	}
	if b.in.any("leaks") {
		b.leaks()
	}
	if err := b.plant.Air.Check(); err != nil {
		b.tell("", err)
	}
}

func (b *builder) places() {
	n := len(b.layout.places)
	b.plant.Air.Places, b.plant.BayShare = make([]airpath.Place, n), make([]float64, n)
	for i, name := range b.layout.places {
		b.plant.Air.Places[i].Name = name
		if c := b.sc.Compartments[name]; c != nil {
			b.plant.Air.Places[i].SkinUA, b.plant.BayShare[i] = c.SkinLoss.Value, c.BayHeatShare.Value
		}
	}
}

// branch is that of the network with a name.
func (b *builder) branch(name string) *airpath.Branch {
	return &b.plant.Air.Branches[b.layout.branch[name]]
}

func (b *builder) inlets() {
	inlets := make([]airpath.Inlet, len(b.layout.inlets))
	for i, name := range b.layout.inlets {
		in := b.sc.Inlets[name]
		inlets[i] = airpath.Inlet{
			Area: in.openingArea(), Recovery: in.Recovery.Value,
			LowFlowLoss: in.LowFlowLoss.Value, FullRatio: in.FullRatio.Value,
			LipLoss: in.LipLoss.Value, DuctLoss: b.ductLoss(name, in),
			Slipstream: in.Slipstream.Value, DrawsBack: in.DrawsBack.Value,
			Spillage: in.SpillageDrag.Value, FairingDrag: in.FairingArea.Value * in.FairingDrag.Value,
		}
		*b.branch(name) = airpath.Branch{Name: name, From: airpath.Outside, To: b.layout.place[name], Inlet: &inlets[i]}
	}
}

// ductLoss returns K_d of the duct from the throat to the core faces behind
// it: as given, of a conical diffuser, or of a dump into the plenum.
func (b *builder) ductLoss(name string, in *Inlet) float64 {
	d, face := in.Diffuser, 0.0
	for _, behind := range b.layout.exchangers {
		if x := b.sc.Exchangers[behind]; x.From == name {
			face += x.faceArea()
		}
	}
	if d != nil && d.FaceArea.Known {
		face = d.FaceArea.Value
	}
	throat := in.openingArea()
	if throat <= 0 {
		return 0
	}
	a := 0.0
	if face > 0 {
		a = math.Min(1, throat/face)
	}
	switch {
	case d == nil:
		return airpath.SuddenExpansion(a)
	case d.Loss.Known:
		return d.Loss.Value
	case d.Angle.Known:
		return d.Multiplier.Value * airpath.ConicalDiffuser(a, d.Angle.Value)
	case d.Length.Known && a > 0:
		return d.Multiplier.Value * airpath.ConicalDiffuser(a, airpath.AngleOfLength(d.Length.Value, throat, throat/a))
	}
	return d.Multiplier.Value * airpath.SuddenExpansion(a)
}

// coresInAir joins the cores to the network. Behind a core in a compartment the
// dynamic pressure of its face is lost; in a duct, to the next core or to an exit
// of its own, it is not.
func (b *builder) coresInAir() {
	for i, name := range b.layout.exchangers {
		e, way := &b.plant.Exchangers[i], b.layout.ways[i]
		if e.Branch == sim.NoBranch {
			continue
		}
		core := &airpath.Core{Element: e.Core}
		if way.free {
			core.FaceArea = e.Core.FaceArea
		}
		*b.branch(name) = airpath.Branch{Name: name, From: way.from, To: way.into, Core: core}
	}
}

func (b *builder) exits() {
	for _, name := range b.layout.exits {
		e := b.sc.Exits[name]
		*b.branch(name) = airpath.Branch{
			Name: name, From: b.layout.placeOr("before_"+name, e.From), To: airpath.Outside,
			Exit: &airpath.Exit{
				Area: e.freeArea(), Discharge: e.Discharge.Value, Pressure: e.PressureCoeff.Value,
				JetCosine: math.Cos(e.JetAngle.Value), JetLoss: e.JetLoss.Value,
				Slipstream: e.Slipstream.Value, Suction: e.Suction.Value, Rise: e.Rise.Value,
				DragArea: e.DragCoefficient.Value * e.DragArea.Value,
			},
		}
	}
}

func (b *builder) vents() {
	b.plant.Vents = nil
	for _, name := range b.layout.vents {
		v := b.sc.Vents[name]
		b.plant.Vents = append(b.plant.Vents, sim.Vent{Name: name, Exit: b.layout.branch[v.Behind], Share: v.Share.Value})
	}
}

func (b *builder) leaks() {
	for _, name := range b.layout.leaks {
		l := b.sc.Leaks[name]
		into := airpath.Outside
		if l.Into != outside {
			into = b.layout.place[l.Into]
		}
		*b.branch(name) = airpath.Branch{
			Name: name, From: b.layout.place[l.From], To: into,
			Gap: &airpath.Gap{Area: l.Area.Value, Discharge: l.Discharge.Value},
		}
	}
}
