package scenarios

import "math"

// inletPreset is a kind of inlet.
type inletPreset struct{ recovery, lowFlowLoss, fullRatio, slipstream known }

var (
	noLowFlowLoss = standard[Ratio]("0", "flat for velocity ratios of 0.2 to 0.8: from memory, medium")
	anyRatio      = standard[Ratio]("0.2", "flat for velocity ratios of 0.2 to 0.8: from memory, medium")
	thickLayer    = standard[Ratio]("0.65 ± 0.05", "a thick boundary layer separates ahead of the inlet below 0.6 to 0.7: from memory, high")
	layerLoss     = standard[Ratio]("0.15 ± 0.08", "engineering judgement")
	besideSpinner = standard[Ratio]("0.15 ± 0.10", "0 to 0.3 beside the spinner: from memory, low; engineering judgement")
	farFromRoot   = standard[Ratio]("0.10 ± 0.10", "engineering judgement")
	noSlipstream  = standard[Ratio]("0", "the propeller is behind")
)

var inletPresets = map[string]inletPreset{
	"nose": {standard[Ratio]("0.95 ± 0.03", "rounded lip clear of the spinner, 0.90 to 1.00: from memory, medium"),
		noLowFlowLoss, anyRatio, besideSpinner},
	"spinner_slot": {standard[Ratio]("0.70 ± 0.12", "slot beside the spinner, 0.50 to 0.90: from memory, medium"),
		noLowFlowLoss, anyRatio, besideSpinner},
	"scoop": {standard[Ratio]("0.70 ± 0.08", "chin or belly scoop in the boundary layer: from memory, medium"),
		layerLoss, thickLayer, besideSpinner},
	"scoop_diverted": {standard[Ratio]("0.90 ± 0.05", "chin or belly scoop, boundary layer diverted: from memory, medium"),
		noLowFlowLoss, anyRatio, besideSpinner},
	"side": {standard[Ratio]("0.60 ± 0.12", "armpit or side opening, 0.4 to 0.8: engineering judgement"),
		layerLoss, thickLayer, farFromRoot},
	"submerged": {standard[Ratio]("0.95 ± 0.05", "at mass-flow coefficient 1: NACA RM A8B16, 1948, second-hand"),
		standard[Ratio]("0.45 ± 0.1", "0.50 at no flow: NACA RM A8B16, 1948, second-hand"),
		standard[Ratio]("1.0", "NACA RM A8B16, 1948, second-hand"), farFromRoot},
}

// lipPreset is a shape of inlet lip.
type lipPreset struct{ loss, spillage known }

var lipPresets = map[string]lipPreset{
	"rounded": {standard[Ratio]("0.12 ± 0.06", "bellmouth of lip radius 0.1 diameters: Idelchik 1966, ASHRAE fitting 1-2"),
		standard[Ratio]("0.10 ± 0.06", "rounded lip, 0 to 0.2: from memory, medium")},
	"sharp": {standard[Ratio]("0.50 ± 0.1", "sharp flush entry: handbooks, Rennels & Hudson 2012 gives 0.57"),
		standard[Ratio]("0.75 ± 0.15", "sharp lip, 0.5 to 1: from memory, medium")},
}

func (in *Inlet) fill(propeller string) {
	kind, lip := inletPresets[in.Kind], lipPresets[in.Lip]
	if propeller == "pusher" {
		kind.slipstream = noSlipstream
	}
	give(&in.Recovery, kind.recovery)
	give(&in.LowFlowLoss, kind.lowFlowLoss)
	give(&in.FullRatio, kind.fullRatio)
	give(&in.Slipstream, kind.slipstream)
	give(&in.LipLoss, lip.loss)
	give(&in.SpillageDrag, lip.spillage)
}

// exitPreset is a kind of exit.
type exitPreset struct{ discharge, pressure, jetAngle, jetLoss, drag known }

var outsideTheStream = standard[Ratio]("0", "out of the slipstream")

var exitPresets = map[string]exitPreset{
	"nozzle": {standard[Ratio]("0.94 ± 0.02", "smooth converging nozzle, 0.90 to 0.98: from memory, medium"),
		standard[Ratio]("0.0 ± 0.05", "facing aft, -0.05 to 0.10: from memory, medium"),
		standard[Angle]("5 deg", "facing aft"), standard[Ratio]("0.05 ± 0.03", "engineering judgement"),
		standard[Ratio]("0", "flush")},
	"hole": {standard[Ratio]("0.60 ± 0.05", "flush sharp hole, 0.60 to 0.65, less for a slow jet: from memory, medium"),
		standard[Ratio]("-0.12 ± 0.05", "skin pressure, -0.05 to -0.2: from memory, medium"),
		standard[Angle]("60 deg ± 15 deg", "engineering judgement"), standard[Ratio]("0.1 ± 0.1", "engineering judgement"),
		standard[Ratio]("0.05 ± 0.05", "engineering judgement")},
	"louvers": {standard[Ratio]("0.60 ± 0.07", "on free area, 0.5 to 0.7: from memory, low; engineering judgement"),
		standard[Ratio]("-0.12 ± 0.06", "-0.05 to -0.2: from memory, low; very shallow louvers may have none"),
		standard[Angle]("30 deg ± 10 deg", "engineering judgement"), standard[Ratio]("0.3 ± 0.15", "engineering judgement"),
		standard[Ratio]("0.12 ± 0.05", "0.05 to 0.2: engineering judgement; from memory, low")},
	"lip": {standard[Ratio]("0.70 ± 0.06", "lip of 5 to 15 mm ahead, 0.6 to 0.8: from memory, low"),
		standard[Ratio]("-0.30 ± 0.07", "-0.2 to -0.4: from memory, low"),
		standard[Angle]("40 deg ± 10 deg", "engineering judgement"), standard[Ratio]("0.2 ± 0.1", "engineering judgement"),
		standard[Ratio]("0.4 ± 0.15", "engineering judgement")},
	"side": {standard[Ratio]("0.60 ± 0.06", "flush opening: from memory, medium"),
		standard[Ratio]("-0.50 ± 0.15", "suction side of wing or nacelle: engineering judgement"),
		standard[Angle]("60 deg ± 15 deg", "engineering judgement"), standard[Ratio]("0.1 ± 0.1", "engineering judgement"),
		standard[Ratio]("0.3 ± 0.2", "large drag, Katz, Corsiglia & Barlow, J. Aircraft 19 (1982), abstract: the size is engineering judgement")},
}

// The flap at the opening angles for which practice gives bands.
var flapPresets = []struct {
	angle                     float64 // deg
	discharge, pressure, drag known
}{
	{0, standard[Ratio]("0.87 ± 0.05", "cowl flap: from memory of NACA radial-cowl practice, low"),
		standard[Ratio]("-0.10 ± 0.05", "cowl flap shut: from memory of NACA radial-cowl practice, low"),
		standard[Ratio]("0", "flush")},
	{15, standard[Ratio]("0.87 ± 0.05", "cowl flap: from memory of NACA radial-cowl practice, low"),
		standard[Ratio]("-0.27 ± 0.06", "cowl flap at 15°, -0.2 to -0.35: from memory of NACA radial-cowl practice, low"),
		standard[Ratio]("0.35 ± 0.15", "cowl flap, 0.1 to 0.3 below 10°: engineering judgement")},
	{30, standard[Ratio]("0.87 ± 0.05", "cowl flap: from memory of NACA radial-cowl practice, low"),
		standard[Ratio]("-0.47 ± 0.08", "cowl flap at 30°, -0.35 to -0.6: from memory of NACA radial-cowl practice, low"),
		standard[Ratio]("1.1 ± 0.2", "steep flap, 1.0 to 1.2: engineering judgement")},
}

var (
	flapJet     = standard[Angle]("20 deg ± 10 deg", "engineering judgement")
	flapJetLoss = standard[Ratio]("0.15 ± 0.1", "engineering judgement")
)

func (e *Exit) fill() {
	p := exitPresets[e.Kind]
	if e.Kind == "flap" {
		p = flapAt(e.FlapAngle.Value)
	}
	give(&e.Discharge, p.discharge)
	give(&e.PressureCoeff, p.pressure)
	give(&e.JetAngle, p.jetAngle)
	give(&e.JetLoss, p.jetLoss)
	give(&e.Slipstream, outsideTheStream)
	give(&e.DragCoefficient, p.drag)
	if !e.DragArea.Known {
		if n := e.freeArea(); n > 0 {
			e.DragArea.Number = Number{Value: n, Known: true, Source: "the free area"}
			if e.Kind == "louvers" {
				e.DragArea.Value *= bankOverFree
				e.DragArea.Source = "the bank, 2.5 times the free area: engineering judgement"
			}
		}
	}
}

// bankOverFree is the area of a bank of louvers over its free area.
const bankOverFree = 2.5

// freeArea returns the open area of the exit [m²].
func (e *Exit) freeArea() float64 {
	if e.Area.Known {
		return e.Area.Value
	}
	count := 1.0
	if e.Count.Known {
		count = e.Count.Value
	}
	return count * e.Width.Value * e.Height.Value
}

// flapAt returns the numbers of a flap at an angle [rad], linear between the
// angles of practice and held beyond.
func flapAt(angle float64) exitPreset {
	deg := angle * 180 / math.Pi
	i := 1
	if deg > flapPresets[1].angle {
		i = 2
	}
	a, b := flapPresets[i-1], flapPresets[i]
	share := min(max((deg-a.angle)/(b.angle-a.angle), 0), 1)
	return exitPreset{
		discharge: between(a.discharge, b.discharge, share), pressure: between(a.pressure, b.pressure, share),
		drag: between(a.drag, b.drag, share), jetAngle: flapJet, jetLoss: flapJetLoss,
	}
}

// between returns the number a share of the way from a to b.
func between(a, b known, share float64) known {
	n := b
	n.Value = a.Value + share*(b.Value-a.Value)
	n.Doubt = a.Doubt + share*(b.Doubt-a.Doubt)
	return n
}
