// Package loop is what happens inside the pipes: thermostat, flow through
// cores in series and parallel, and the exchange with the metal.
//
// Left out: the transport delay of the pipes (a few seconds, part of the two
// well-mixed legs) and the curve of the pump, whose flow follows engine speed.
package loop

// Thermostat opens the way through the cores.
type Thermostat struct {
	Opens   float64 // starts to open [°C]
	Full    float64 // fully open, above Opens [°C]
	Closing float64 // the closing curve lies this much lower, not below 0 [K]
	Leak    float64 // share that passes when closed, 0…1 [-]
	Lag     float64 // time constant of the wax τ, above 0 [s]
}

// curve returns the opening 0…1 on the opening curve at temperature t [°C]:
// linear from Opens to Full.
func (th *Thermostat) curve(t float64) float64 {
	switch {
	case t <= th.Opens:
		return 0
	case t >= th.Full:
		return 1
	}
	return (t - th.Opens) / (th.Full - th.Opens)
}

// Settled returns the opening 0…1 of a thermostat that has been warmed slowly
// to t [°C]; one that has been cooled slowly stays open further.
func (th *Thermostat) Settled(t float64) float64 { return th.curve(t) }

// Rate returns d(opening)/dt [1/s] at opening u and liquid temperature t [°C].
// The wax follows the opening curve when it warms and the closing curve when
// it cools, rests between them, and lags in the first order:
//
//	du/dt = (clamp(u, u_opening(t), u_closing(t)) − u)/τ
//
// with u_closing(t) = u_opening(t + Closing).
//
// Source: workshop manuals of cars give 80–87 °C to open, 13 K more to be fully
// open and 1–7 K of hysteresis; lag 10–30 s from memory, medium. Error: linear
// travel is common practice; the wax of one thermostat opens within 2 K of
// another (engineering judgement).
func (th *Thermostat) Rate(u, t float64) float64 {
	opening, closing := th.curve(t), th.curve(t+th.Closing)
	return (min(max(u, opening), closing) - u) / th.Lag
}

// Share returns the share of the pump flow that goes through the cores at
// opening u: the leak and the rest in proportion, Leak + (1 − Leak)·u, with u
// clamped to 0…1. A nil thermostat passes all.
func (th *Thermostat) Share(u float64) float64 {
	if th == nil {
		return 1
	}
	return th.Leak + (1-th.Leak)*min(max(u, 0), 1)
}
