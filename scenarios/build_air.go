package scenarios

import (
	"maps"
	"math"
	"slices"

	"hotclimb/sim"
	"hotclimb/sim/airpath"
	"hotclimb/sim/exchanger"
)

// air lays out the network: a place behind every inlet, in every compartment,
// between stacked cores, and between a core and an exit of its own.
func (b *builder) air() {
	for _, name := range slices.Sorted(maps.Keys(b.sc.Inlets)) {
		b.addPlace(name, 0, 0)
	}
	for _, name := range slices.Sorted(maps.Keys(b.sc.Compartments)) {
		c := b.sc.Compartments[name]
		b.addPlace(name, c.SkinLoss.Value, c.BayHeatShare.Value)
	}
	for _, name := range b.sc.order() {
		x := b.sc.Exchangers[name]
		if x.CooledBy == "coolant" {
			continue
		}
		if _, stacked := b.sc.Exchangers[x.From]; stacked {
			b.addPlace("behind_"+x.From, 0, 0)
		}
		if _, direct := b.sc.Exits[x.Into]; direct {
			b.addPlace("before_"+x.Into, 0, 0)
		}
	}
	b.inlets()
	b.cores()
	b.exits()
	b.leaks()
	if err := b.plant.Air.Check(); err != nil {
		b.tell("", err)
	}
}

// addPlace adds a place once.
func (b *builder) addPlace(name string, skin, bayShare float64) {
	if _, ok := b.place[name]; ok {
		return
	}
	b.place[name] = len(b.plant.Air.Places)
	b.plant.Air.Places = append(b.plant.Air.Places, airpath.Place{Name: name, SkinUA: skin})
	b.plant.BayShare = append(b.plant.BayShare, bayShare)
}

func (b *builder) addBranch(branch airpath.Branch) int {
	b.plant.Air.Branches = append(b.plant.Air.Branches, branch)
	return len(b.plant.Air.Branches) - 1
}

func (b *builder) inlets() {
	for _, name := range slices.Sorted(maps.Keys(b.sc.Inlets)) {
		in := b.sc.Inlets[name]
		b.addBranch(airpath.Branch{
			Name: name, From: airpath.Outside, To: b.place[name],
			Inlet: &airpath.Inlet{
				Area: in.openingArea(), Recovery: in.Recovery.Value,
				LowFlowLoss: in.LowFlowLoss.Value, FullRatio: in.FullRatio.Value,
				LipLoss: in.LipLoss.Value, DuctLoss: b.ductLoss(name, in),
				Slipstream: in.Slipstream.Value, DrawsBack: in.DrawsBack.Value,
				Spillage: in.SpillageDrag.Value, FairingDrag: in.FairingArea.Value * in.FairingDrag.Value,
			},
		})
	}
}

// ductLoss returns K_d of the duct from the throat to the core faces behind
// it: as given, of a conical diffuser, or of a dump into the plenum.
func (b *builder) ductLoss(name string, in *Inlet) float64 {
	d, face := in.Diffuser, 0.0
	for _, x := range b.sc.Exchangers {
		if x.From == name {
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

func (b *builder) cores() {
	for _, name := range b.sc.order() {
		x := b.sc.Exchangers[name]
		core, rated, err := b.core(name, x)
		if err != nil {
			b.tell(join("exchangers", name), err)
			continue
		}
		e := sim.Exchanger{
			Name: name, Oil: x.Serves == "oil", Core: core, Branch: sim.NoBranch, Share: 1,
		}
		if x.CooledBy != "coolant" {
			e.AirFlow = rated
			e.Branch = b.addBranch(airpath.Branch{
				Name: name, From: b.airFrom(x), To: b.airInto(name, x),
				Core: &airpath.Core{Element: core, FaceArea: b.dumpArea(name, core)},
			})
		}
		b.exchanger[name] = len(b.plant.Exchangers)
		b.plant.Exchangers = append(b.plant.Exchangers, e)
	}
}

func (b *builder) airFrom(x *Exchanger) int {
	if p, ok := b.place[x.From]; ok {
		return p
	}
	return b.place["behind_"+x.From]
}

func (b *builder) airInto(name string, x *Exchanger) int {
	if p, ok := b.place["behind_"+name]; ok {
		return p
	}
	if p, ok := b.place[x.Into]; ok {
		return p
	}
	return b.place["before_"+x.Into]
}

// dumpArea returns the face whose dynamic pressure is lost in the compartment
// behind it; in a duct, to the next core or to an exit of its own, it is not.
func (b *builder) dumpArea(name string, core *exchanger.Core) float64 {
	_, stacked := b.place["behind_"+name]
	_, direct := b.sc.Exits[b.sc.Exchangers[name].Into]
	if stacked || direct {
		return 0
	}
	return core.FaceArea
}

func (b *builder) exits() {
	branch := map[string]int{}
	for _, name := range slices.Sorted(maps.Keys(b.sc.Exits)) {
		e := b.sc.Exits[name]
		from, ok := b.place["before_"+name]
		if !ok {
			from = b.place[e.From]
		}
		branch[name] = b.addBranch(airpath.Branch{
			Name: name, From: from, To: airpath.Outside,
			Exit: &airpath.Exit{
				Area: e.freeArea(), Discharge: e.Discharge.Value, Pressure: e.PressureCoeff.Value,
				JetCosine: math.Cos(e.JetAngle.Value), JetLoss: e.JetLoss.Value,
				Slipstream: e.Slipstream.Value, Suction: e.Suction.Value, Rise: e.Rise.Value,
				DragArea: e.DragCoefficient.Value * e.DragArea.Value,
			},
		})
	}
	for _, name := range slices.Sorted(maps.Keys(b.sc.Vents)) {
		v := b.sc.Vents[name]
		b.plant.Vents = append(b.plant.Vents, sim.Vent{Name: name, Exit: branch[v.Behind], Share: v.Share.Value})
	}
}

func (b *builder) leaks() {
	for _, name := range slices.Sorted(maps.Keys(b.sc.Leaks)) {
		l := b.sc.Leaks[name]
		into := airpath.Outside
		if l.Into != "outside" {
			into = b.place[l.Into]
		}
		b.addBranch(airpath.Branch{
			Name: name, From: b.place[l.From], To: into,
			Gap: &airpath.Gap{Area: l.Area.Value, Discharge: l.Discharge.Value},
		})
	}
}
