package flight

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// near fails the test unless got is within the absolute tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.9g, want %.9g ± %.2g", what, got, want, tolerance)
	}
}

// nearRel fails the test unless got is within the relative tolerance of want.
func nearRel(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	near(t, what, got, want, tolerance*math.Abs(want))
}

// usual is the propeller of the disc checks.
func usual() *Propeller {
	return &Propeller{Diameter: 1.83, EfficiencyClimb: 0.75, EfficiencyCruise: 0.82, EfficiencyStatic: 0.7}
}

// TestDisc: Rankine–Froude theory (from memory, high), computed apart from this
// program. Within 0.1 %.
func TestDisc(t *testing.T) {
	p := usual()
	nearRel(t, "A", p.DiscArea(), 2.6302, 1e-4)
	for _, r := range []struct {
		name                         string
		thrust, tas, rho             float64
		induced, wake, pressure, tol float64
	}{
		{"climb", p.Thrust(134.2e3, 41.2, 1.225, 0.75), 41.2, 1.225, 7.745, 56.69, 928.8, 1e-3},
		{"cruise", p.Thrust(100.65e3, 72, 0.9629, 0.82), 72, 0.9629, math.NaN(), math.NaN(), 435.8, 1e-3},
		{"static", 2200, 0, 1.225, 18.48, 36.95, 836.4, 1e-3},
		{"taxi", 300, 0, 1.225, math.NaN(), math.NaN(), 114.1, 1e-3},
	} {
		d := DiscOf(r.thrust, p.DiscArea(), r.tas, r.rho)
		nearRel(t, r.name+": Δp", d.Pressure, r.pressure, r.tol)
		if !math.IsNaN(r.induced) {
			nearRel(t, r.name+": w", d.Induced, r.induced, r.tol)
			nearRel(t, r.name+": Vs", d.Wake, r.wake, r.tol)
		}
		nearRel(t, r.name+": Δp from the wake", 0.5*r.rho*(d.Wake*d.Wake-r.tas*r.tas), d.Pressure, 1e-12)
	}
	near(t, "climb thrust", p.Thrust(134.2e3, 41.2, 1.225, 0.75), 2443.0, 0.1)
	near(t, "cruise thrust", p.Thrust(100.65e3, 72, 0.9629, 0.82), 1146.3, 0.1)
	climb := DiscOf(2443.0, p.DiscArea(), 41.2, 1.225)
	near(t, "climb Δp over q", climb.Pressure/(0.5*1.225*41.2*41.2), 0.893, 5e-4)
	cruise := DiscOf(1146.3, p.DiscArea(), 72, 0.9629)
	near(t, "cruise Δp over q", cruise.Pressure/(0.5*0.9629*72*72), 0.175, 5e-4)
}

// TestDiscBalance: momentum T = 2ρA·w(V + w) and pressure for any disc, and no
// NaN where the thrust is none.
func TestDiscBalance(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		thrust := rapid.Float64Range(0, 2e4).Draw(rt, "T")
		area := rapid.Float64Range(0.2, 20).Draw(rt, "A")
		tas := rapid.Float64Range(0, 150).Draw(rt, "V")
		rho := rapid.Float64Range(0.3, 1.5).Draw(rt, "ρ")
		d := DiscOf(thrust, area, tas, rho)
		momentum := 2 * rho * area * d.Induced * (tas + d.Induced)
		pressure := 0.5 * rho * (d.Wake*d.Wake - tas*tas)
		// Rounding of w is that of V; 1e-300 stands for subnormal numbers.
		if slack := 1e-12*thrust + 1e-14*rho*area*tas*tas + 1e-300; !(math.Abs(momentum-thrust) <= 4*slack) || !(math.Abs(pressure-d.Pressure) <= 8*slack/area) {
			rt.Fatalf("T %g gives %g, Δp %g gives %g", thrust, momentum, d.Pressure, pressure)
		}
	})
	if d := DiscOf(-50, 2, 40, 1.2); d != (Disc{Wake: 40}) {
		t.Errorf("a braking propeller gives %+v", d)
	}
	if d := DiscOf(0, 2, 0, 1.2); d != (Disc{}) {
		t.Errorf("nothing gives %+v", d)
	}
}

// TestStaticThrust: P_ideal = T^1.5/√(2ρA) is the static efficiency times P.
func TestStaticThrust(t *testing.T) {
	p := usual()
	static := p.Thrust(134.2e3, 0, 1.225, 0.75)
	nearRel(t, "ideal power", math.Pow(static, 1.5)/math.Sqrt(2*1.225*p.DiscArea()), 0.7*134.2e3, 1e-12)
	near(t, "from behind", p.Thrust(134.2e3, -5, 1.225, 0.75), static, 0)
	near(t, "walking", p.Thrust(134.2e3, 1e-9, 1.225, 0.75), static, 0)
	near(t, "no power", p.Thrust(0, 30, 1.225, 0.75), 0, 0)
	near(t, "windmilling", p.Thrust(-1e3, 30, 1.225, 0.75), 0, 0)
	near(t, "in flight", p.Thrust(134.2e3, 60, 1.225, 0.8), 0.8*134.2e3/60, 1e-9)
}

// TestThrustLosesToTheIdeal: near 25 m/s neither η nor the static thrust binds;
// the ideal disc T·(V + w) = P does. At 25 m/s the root of u²(u − 25) = 20826
// is 38.8195 (bisection, apart from this program).
func TestThrustLosesToTheIdeal(t *testing.T) {
	p := usual()
	thrust := p.Thrust(134.2e3, 25, 1.225, 0.75)
	d := DiscOf(thrust, p.DiscArea(), 25, 1.225)
	nearRel(t, "power in the air", thrust*(25+d.Induced), 134.2e3, 1e-12)
	near(t, "speed through the disc", 25+d.Induced, 38.8195, 1e-4)
	if most := min(0.75*134.2e3/25, p.Thrust(134.2e3, 0, 1.225, 0.75)); thrust > 0.95*most {
		t.Errorf("thrust %g N hardly below %g N", thrust, most)
	}
}

// TestThrustIsContinuous: no NaN; falls with speed, without a step; grows with
// power; never more than each of its three bounds.
func TestThrustIsContinuous(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p := &Propeller{
			Diameter:         rapid.Float64Range(0.5, 5).Draw(rt, "D"),
			EfficiencyStatic: rapid.Float64Range(0.2, 1).Draw(rt, "η_static"),
		}
		power := rapid.Float64Range(1, 1e6).Draw(rt, "P")
		rho := rapid.Float64Range(0.3, 1.5).Draw(rt, "ρ")
		eta := rapid.Float64Range(0.2, 0.95).Draw(rt, "η")
		tas := rapid.Float64Range(0, 150).Draw(rt, "V")
		thrust := p.Thrust(power, tas, rho, eta)
		static := p.Thrust(power, 0, rho, eta)
		if !(thrust > 0 && thrust <= static*(1+1e-12) && thrust*tas <= eta*power*(1+1e-12)) {
			rt.Fatalf("thrust %g N, static %g N", thrust, static)
		}
		if d := DiscOf(thrust, p.DiscArea(), tas, rho); thrust*(tas+d.Induced) > power*(1+1e-9) {
			rt.Fatalf("%g W in the air from %g W", thrust*(tas+d.Induced), power)
		}
		// No bound is steeper than T/V, nor than T over the induced speed.
		const step = 1e-6
		faster := p.Thrust(power, tas+step, rho, eta)
		slope := thrust / math.Cbrt(power/(2*rho*p.DiscArea())) / 0.04
		if faster > thrust*(1+1e-12) || thrust-faster > slope*step+1e-12*thrust {
			rt.Fatalf("%g N, then %g N", thrust, faster)
		}
		if more := p.Thrust(1.1*power, tas, rho, eta); !(more > thrust) {
			rt.Fatalf("%g N with more power than for %g N", more, thrust)
		}
	})
}
