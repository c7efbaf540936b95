package flight

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

const footPerMinute = 0.3048 / 60 // m/s

// single is the light single of the climb check.
func single() *Aircraft {
	return &Aircraft{
		Mass: 10231 / 9.80665, WingArea: 16.2, AspectRatio: 7.32, SpanEfficiency: 0.75, ParasiteDrag: 0.032,
	}
}

const (
	climbSpeed = 41.2
	climbQ     = 0.5 * 1.225 * climbSpeed * climbSpeed
	climbPower = 134.2e3
)

// TestClimb: computed apart from this program, sea level; 1 ft/min.
func TestClimb(t *testing.T) {
	a := single()
	drag := a.Drag(climbQ)
	near(t, "D", drag, 899.3, 0.1)
	near(t, "CD", drag/(climbQ*16.2), 0.05339, 5e-6)
	roc := a.RateOfClimb(0.75*climbPower, drag, climbSpeed)
	near(t, "rate of climb", roc, 6.216, 1e-3)
	near(t, "in ft/min", roc/footPerMinute, 1224, 1)

	dirty := a.RateOfClimb(0.75*climbPower, drag+0.02*climbQ, climbSpeed)
	near(t, "0.02 m² of drag area", dirty-roc, -0.084, 5e-4)
	near(t, "in ft/min", (dirty-roc)/footPerMinute, -16.5, 0.05)
	cost := a.Cost(0.02*climbQ, climbSpeed, climbQ, 0.75)
	near(t, "the same as a cost", cost.RateOfClimb, roc-dirty, 1e-12)
}

// TestDrag: limits, and the cooling drag that CD0 holds comes out.
func TestDrag(t *testing.T) {
	a := single()
	near(t, "standing", a.Drag(0), 0, 0)
	near(t, "fast: CD0 alone", a.Drag(1e7)/(1e7*16.2), 0.032, 1e-9)
	with := a.Drag(climbQ)
	a.CoolingDrag = 0.03
	near(t, "without its cooling drag", a.Drag(climbQ), with-0.03*climbQ, 1e-9)
	near(t, "weight", a.Weight(), 10231, 1e-9)
	near(t, "gliding", a.RateOfClimb(0, 1000, 40), -40000/10231.0, 1e-12)
}

// TestLeastDrag: at the speed of least drag the parasite part equals the
// induced part, D = 2W·√(CD0/(π·AR·e)).
func TestLeastDrag(t *testing.T) {
	a := single()
	k := 1 / (math.Pi * a.AspectRatio * a.SpanEfficiency)
	q := a.Weight() / (a.WingArea * math.Sqrt(a.ParasiteDrag/k))
	least := a.Drag(q)
	nearRel(t, "least drag", least, 2*a.Weight()*math.Sqrt(a.ParasiteDrag*k), 1e-12)
	if a.Drag(0.98*q) <= least || a.Drag(1.02*q) <= least {
		t.Error("less drag beside the least")
	}
}

// levelSpeed returns the speed [m/s] above low at which the drag takes the
// thrust power, by bisection.
func levelSpeed(a *Aircraft, rho, thrustPower, low float64) float64 {
	high := 300.0
	for range 200 {
		mid := 0.5 * (low + high)
		if a.Drag(0.5*rho*mid*mid)*mid < thrustPower {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// TestCost: against the level-flight power balance solved with and without a
// small drag, and against differences of the rate of climb.
func TestCost(t *testing.T) {
	const rho, eta = 1.0, 0.8
	for _, coolingDrag := range []float64{0, 0.03} {
		a := single()
		a.CoolingDrag = coolingDrag
		for _, tas := range []float64{40, 55, 70, 90} {
			q := 0.5 * rho * tas * tas
			const extra = 1e-3
			cost := a.Cost(extra, tas, q, eta)
			needed := (a.Drag(q) + extra) * tas
			nearRel(t, "speed", cost.Speed, levelSpeed(a, rho, needed, tas-1)-tas, 1e-4)
			nearRel(t, "power", cost.Power, (needed-a.Drag(q)*tas)/eta, 1e-6)
			climb := a.RateOfClimb(1e5, a.Drag(q), tas) - a.RateOfClimb(1e5, a.Drag(q)+extra, tas)
			nearRel(t, "rate of climb", cost.RateOfClimb, climb, 1e-6)
		}
	}
}

// TestCostAtItsLimits: the speed of least power, where D_induced = 3·D_parasite,
// parts stable from unstable level flight.
func TestCostAtItsLimits(t *testing.T) {
	a := single()
	k := 1 / (math.Pi * a.AspectRatio * a.SpanEfficiency)
	q := a.Weight() / (a.WingArea * math.Sqrt(3*a.ParasiteDrag/k))
	tas := math.Sqrt(2 * q / 1.225)
	near(t, "slower", a.Cost(10, 0.99*tas, 0.99*0.99*q, 0.8).Speed, 0, 0)
	if c := a.Cost(10, 1.01*tas, 1.01*1.01*q, 0.8); !(c.Speed > 1) {
		t.Errorf("just faster it costs only %g m/s", c.Speed)
	}
	if c := a.Cost(10, 0, 0, 0.8); c != (Cost{}) {
		t.Errorf("standing it costs %+v", c)
	}
}

// TestAircraftIsSane: no NaN; cost in proportion to the drag and less climb
// with more drag.
func TestAircraftIsSane(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		a := single()
		a.Mass = rapid.Float64Range(150, 5000).Draw(rt, "m")
		a.ParasiteDrag = rapid.Float64Range(0.01, 0.1).Draw(rt, "CD0")
		tas := rapid.Float64Range(0, 150).Draw(rt, "V")
		q := 0.5 * rapid.Float64Range(0.3, 1.5).Draw(rt, "ρ") * tas * tas
		extra := rapid.Float64Range(0, 500).Draw(rt, "ΔD")
		drag := a.Drag(q)
		one, two := a.Cost(extra, tas, q, 0.7), a.Cost(2*extra, tas, q, 0.7)
		for _, v := range []float64{drag, one.Power, one.Speed, one.RateOfClimb} {
			if !(v >= 0) {
				rt.Fatalf("drag %g N, cost %+v", drag, one)
			}
		}
		const subnormal = 1e-300 // numbers below carry too few digits to compare
		if math.Abs(two.Speed-2*one.Speed) > 1e-9*two.Speed+subnormal || math.Abs(two.Power-2*one.Power) > 1e-9*two.Power+subnormal {
			rt.Fatalf("%+v, twice %+v", one, two)
		}
		if a.RateOfClimb(5e4, drag+extra, tas) > a.RateOfClimb(5e4, drag, tas) {
			rt.Fatal("climbs better with more drag")
		}
	})
}
