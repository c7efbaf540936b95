// Package loop is what happens inside the pipes: thermostat, flow through
// cores in series and parallel, and the exchange with the metal.
//
// Left out: the transport delay of the pipes (a few seconds, part of the two
// well-mixed legs) and the curve of the pump, whose flow follows engine speed.
package loop

// Thermostat opens the way through the cores.
type Thermostat struct {
	Opens   float64 // starts to open [°C]
	Full    float64 // fully open [°C]
	Closing float64 // the closing curve lies this much lower [K]
	Leak    float64 // least share that passes [-]
	Lag     float64 // time constant of the wax [s]
}

// curve returns the opening 0…1 on the opening curve at temperature t [°C]:
// linear from Opens to Full.
func (th *Thermostat) curve(t float64) float64 {
	return min(max((t-th.Opens)/(th.Full-th.Opens), 0), 1)
}

// Settled returns the opening of a thermostat that has been warmed slowly to
// t [°C]; one that has been cooled slowly stays open further.
func (th *Thermostat) Settled(t float64) float64 { return th.curve(t) }

// Rate returns d(opening)/dt [1/s] at opening u and liquid temperature t [°C].
// The wax follows the opening curve when it warms and the closing curve when
// it cools, rests between them, and lags in the first order:
//
//	du/dt = (clamp(u, u_opening(t), u_closing(t)) − u)/τ
//
// Source: workshop manuals give opening ranges and hysteresis; lag 10–30 s
// from memory, medium.
func (th *Thermostat) Rate(u, t float64) float64 {
	opening, closing := th.curve(t), th.curve(t+th.Closing)
	return (min(max(u, opening), closing) - u) / th.Lag
}

// Share returns the share of the pump flow that goes through the cores at
// opening u: the leak and the rest in proportion. A nil thermostat passes all.
func (th *Thermostat) Share(u float64) float64 {
	if th == nil {
		return 1
	}
	return th.Leak + (1-th.Leak)*min(max(u, 0), 1)
}
