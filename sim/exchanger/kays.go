package exchanger

// EntryLoss returns Kc [-], the loss of the flow narrowing into a core of
// free-to-frontal area ratio sigma [-]: 0.4(1 − σ²).
//
// Source: fit to the Re = ∞ curve of Kays & London, Compact Heat Exchangers,
// for interrupted fins (from memory, medium confidence).
func EntryLoss(sigma float64) float64 { return 0.4 * (1 - sigma*sigma) }

// ExitLoss returns Ke [-], the loss of the flow widening out of a core of
// free-to-frontal area ratio sigma [-]: (1 − σ)².
//
// Source: Borda–Carnot, the Re = ∞ curve of Kays & London (from memory, medium
// confidence).
func ExitLoss(sigma float64) float64 { return (1 - sigma) * (1 - sigma) }

// KaysLondon holds the inputs of the full core pressure-drop equation, 1 = in,
// 2 = out:
//
//	Δp = (G²/2)·[(Kc + 1 − σ²)/ρ1 + 2(1/ρ2 − 1/ρ1) + f·(A/Ac)/ρm − (1 − σ² − Ke)/ρ2]
//
// with 1/ρm = ½(1/ρ1 + 1/ρ2).
//
// Source: Kays & London, Compact Heat Exchangers; also Heat Exchanger Design
// Handbook §3.9.10.
type KaysLondon struct {
	MassFlux   float64 // G = ṁ/Ac, on the minimum free area [kg/(s m²)]
	DensityIn  float64 // ρ1 [kg/m³]
	DensityOut float64 // ρ2 [kg/m³]
	Sigma      float64 // free/frontal area [-]
	Entry      float64 // Kc [-], see EntryLoss
	Exit       float64 // Ke [-], see ExitLoss
	Fanning    float64 // friction factor f [-]
	AreaRatio  float64 // wetted area over free area A/Ac = 4L/Dh [-]
}

// Terms returns the four terms [Pa] whose sum is the drop: entry, acceleration
// by heating, friction and exit recovery (usually negative).
func (k KaysLondon) Terms() (entry, acceleration, friction, exit float64) {
	q := k.MassFlux * k.MassFlux / 2
	v1, v2 := 1/k.DensityIn, 1/k.DensityOut
	contraction := 1 - k.Sigma*k.Sigma
	entry = q * (k.Entry + contraction) * v1
	acceleration = q * 2 * (v2 - v1)
	friction = q * k.Fanning * k.AreaRatio * (v1 + v2) / 2
	exit = -q * (contraction - k.Exit) * v2
	return entry, acceleration, friction, exit
}

// Drop returns the sum of the four terms [Pa].
func (k KaysLondon) Drop() float64 {
	entry, acceleration, friction, exit := k.Terms()
	return entry + acceleration + friction + exit
}
