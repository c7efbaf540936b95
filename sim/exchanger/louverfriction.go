package exchanger

import "math"

// Blend limits of the 2006 amendment: below reLow the low-Re form, above
// reHigh the high-Re form.
const reLow, reHigh = 130, 230

// louverFriction holds what the friction correlation keeps of a geometry.
type louverFriction struct {
	low, lowPower   float64 // f = low·Re^lowPower·[ln(0.5Re)]^−3.01
	high, highPower float64 // f = high·Re^highPower·[ln(0.3Re)]^−2.966
	atLow, atHigh   float64 // f² at reLow and reHigh
	join, laminar   float64 // below Re = join, f = laminar/Re
}

// friction works out the constants of f for hydraulic diameter dh [m].
func (g LouverGeometry) friction(dh float64) louverFriction {
	theta := degrees(g.LouverAngle)
	fp, lp, ll, dm := g.FinPitch, g.LouverPitch, g.LouverLength, g.TubeThickness
	r := louverFriction{
		lowPower:  -0.805 * fp / g.FinLength,
		highPower: 0.6049 - 1.064/math.Pow(theta, 0.2),
		low: 14.39 * math.Pow(math.Log(1+fp/lp), 3.04) *
			math.Pow(math.Log(math.Pow(g.FinThickness/fp, 0.48)+0.9), -1.435) * math.Pow(dh/lp, -3.01) *
			math.Pow(fp/ll, -0.308) * math.Pow(g.FinDepth/ll, -0.308) *
			math.Exp(-0.1167*g.TubePitch/dm) * math.Pow(theta, 0.35),
		high: 4.97 * math.Pow(math.Log(math.Pow(g.FinThickness/fp, 0.5)+0.9), -0.527) *
			math.Pow(dh/lp, -2.966) * math.Pow(fp/ll, -0.7931*g.TubePitch/(g.TubePitch-dm)) *
			math.Pow(g.TubePitch/dm, -0.0446) * math.Pow(math.Log(1.2+math.Pow(lp/fp, 1.4)), -3.553) *
			math.Pow(theta, -0.477),
	}
	r.atLow, _ = r.lowForm(reLow)
	r.atHigh, _ = r.highForm(reHigh)
	r.atLow, r.atHigh = r.atLow*r.atLow, r.atHigh*r.atHigh
	r.join = reLow
	if 1+r.lowPower > 0 {
		r.join = math.Min(reLow, 2*math.Exp(3.01/(1+r.lowPower)))
	}
	f, _ := r.lowForm(r.join)
	r.laminar = f * r.join
	return r
}

// lowForm returns f [-] and its local exponent d ln f/d ln Re for low Re.
func (r *louverFriction) lowForm(re float64) (f, exponent float64) {
	ln := math.Log(0.5 * re)
	return r.low * math.Pow(re, r.lowPower) * math.Pow(ln, -3.01), r.lowPower - 3.01/ln
}

// highForm returns the same for high Re.
func (r *louverFriction) highForm(re float64) (f, exponent float64) {
	ln := math.Log(0.3 * re)
	return r.high * math.Pow(re, r.highPower) * math.Pow(ln, -2.966), r.highPower - 2.966/ln
}

// at returns f [-] and its local exponent at re > 0.
func (r *louverFriction) at(re float64) (f, exponent float64) {
	switch {
	case re < r.join:
		return r.laminar / re, -1
	case re < reLow:
		return r.lowForm(re)
	case re < reHigh:
		w := 3.6 - 0.02*re
		f2 := ((1+w)*r.atLow + (1-w)*r.atHigh) / 2
		return math.Sqrt(f2), 0.005 * re * (r.atHigh - r.atLow) / f2
	}
	return r.highForm(re)
}

// Fanning returns the friction factor f [-] at re > 0 [-] on the louver pitch.
//
// Source: Chang, Hsu, Lin & Wang, A generalized friction correlation for louver
// fin geometry, Int. J. Heat Mass Transfer 43 (2000) 2237–2243, f = f1·f2·f3 in
// two ranges of Re; between Re 130 and 230 the blend of the amendment, IJHMT 49
// (2006) 4250 (its form from memory, medium confidence):
//
//	f = √{[(1 + w)·f130² + (1 − w)·f230²]/2},  w = 3.6 − 0.02·Re
//
// which is continuous. About 83 % of the data within ±15 % (from memory), valid
// to Re 5000. The low form has a pole at Re = 2; below the Re where its local
// exponent reaches −1 (64 for a common core, at most 130) the laminar law
// f ∝ 1/Re is carried on (engineering judgement), tangent where it joins.
func (l *LouveredFin) Fanning(re float64) float64 {
	f, _ := l.friction.at(re)
	return f
}

// Friction implements [Drop]: friction and end losses of the Kays & London
// equation at one density,
//
//	Δp = G²/(2ρ)·[f·A/Ac + Kc + Ke]
//
// with A the fin and tube area together. At rest the slope is that of the laminar
// law.
func (l *LouveredFin) Friction(flow, rho, mu float64) (dp, slope float64) {
	return coreFriction(coreFlow{
		mass: flow, rho: rho, free: l.free, ratio: l.area / l.free,
		ends: EntryLoss(l.sigma) + ExitLoss(l.sigma), re: l.Reynolds(1, mu),
	}, &l.friction)
}
