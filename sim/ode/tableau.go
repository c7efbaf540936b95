package ode

// rosenbrock holds a Rosenbrock formula in the form without products by the
// Jacobian (HW II, section IV.7, eq. 7.25): stage i solves
//
//	(I/(γh) − J)·u_i = f(t + α_i·h, y + Σ a_ij·u_j) + Σ c_ij·u_j/h + γ_i·h·∂f/∂t
//
// and y1 = y + Σ m_j·u_j, with the error estimate Σ e_j·u_j.
type rosenbrock struct {
	order    int  // of y1
	embedded int  // of the comparison solution
	shared   bool // the last stage takes f where the one before it does
	γ        float64
	a, c     [][]float64 // strictly lower triangles
	m, e     []float64
	α, γsum  []float64 // Σ_j α_ij, Σ_j γ_ij
	d2, d3   []float64 // dense output; nil: cubic through the end slopes
}

// The formulas, worked out once; steppers only read them.
var kapsFormula, rodasFormula = grk4t(), rodas4()

// grk4t is GRK4T: order 4(3), four stages with three values of f, stable for all
// decays and for oscillations within 89.3° of one; at infinity it keeps 0.45 of
// a decay per step. It needs the exact J and ∂f/∂t. Its error constant is small
// where L-stable formulas of four stages pay with a large one.
//
// Source: P. Kaps, P. Rentrop, Generalized Runge–Kutta methods of order four with
// stepsize control for stiff ordinary differential equations, Numer. Math. 33
// (1979) 55–68. Twelve digits from memory, the others from the order conditions;
// a test checks these to 1e-14.
func grk4t() rosenbrock {
	const γ = 0.231
	α3 := []float64{-0.08156681683275883, 0.96177515016610716, 0, 0}
	α := [][]float64{{0, 0, 0, 0}, {2 * γ, 0, 0, 0}, α3, α3}
	Γ := [][]float64{
		{γ, 0, 0, 0},
		{-0.270629667752443, γ, 0, 0},
		{0.31125448329394159, 0.00852445628521133, γ, 0},
		{0.28281683204367506, -0.45795948328091089, -0.11120833333329044, γ},
	}
	b := []float64{0.21748737165271508, 0.48622903799015795, 0, 0.29628359035712698}
	bHat := []float64{-0.71708850449926303, 1.7761791217609489, -0.059090617261685868, 0}
	r := transformed(α, Γ, b, bHat)
	r.order, r.embedded, r.shared = 4, 3, true
	return r
}

// rodas4 is RODAS: order 4(3), six stages, stiffly accurate and L-stable, with a
// dense output of order 3. It needs the exact J and ∂f/∂t.
//
// Source: HW II, section VI.4 and the code RODAS (method 1). Coefficients from
// memory; a test checks the order conditions to 1e-14.
func rodas4() rosenbrock {
	a5 := []float64{1.221224509226641, 6.019134481288629, 12.53708332932087, -0.6878860361058950}
	return rosenbrock{
		order: 4, embedded: 3, γ: 0.25,
		a: [][]float64{
			{},
			{1.544},
			{0.9466785280815826, 0.2557011698983284},
			{3.314825187068521, 2.896124015972201, 0.9986419139977817},
			a5,
			{a5[0], a5[1], a5[2], a5[3], 1},
		},
		c: [][]float64{
			{},
			{-5.6688},
			{-2.430093356833875, -0.2063599157091915},
			{-0.1073529058151375, -9.594562251023355, -20.47028614809616},
			{7.496443313967647, -10.24680431464352, -33.99990352819905, 11.70890893206160},
			{8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054},
		},
		m:    []float64{a5[0], a5[1], a5[2], a5[3], 1, 1},
		e:    []float64{0, 0, 0, 0, 0, 1},
		α:    []float64{0, 0.386, 0.21, 0.63, 1, 1},
		γsum: []float64{0.25, -0.1043, 0.1035, -0.0362, 0, 0},
		d2:   []float64{10.12623508344586, -7.487995877610167, -34.80091861555747, -7.992771707568823, 1.025137723295662, 0},
		d3:   []float64{-0.6762803392806898, 6.087714651680015, 16.43084320892478, 24.76722511418386, -6.594389125716872, 0},
	}
}

// transformed converts a formula k_i = h·f(y + Σ α_ij·k_j) + h·J·Σ γ_ij·k_j,
// y1 = y + Σ b_j·k_j, by u = Γ·k: a = α·Γ⁻¹, c = I/γ − Γ⁻¹, m = b·Γ⁻¹.
func transformed(α, Γ [][]float64, b, bHat []float64) rosenbrock {
	s := len(b)
	inv := lowerInverse(Γ)
	r := rosenbrock{γ: Γ[0][0], α: make([]float64, s), γsum: make([]float64, s)}
	for i := range s {
		for j := range s {
			r.α[i] += α[i][j]
			r.γsum[i] += Γ[i][j]
		}
		r.a = append(r.a, timesLower(α[i], inv)[:i])
		c := make([]float64, i)
		for j := range c {
			c[j] = -inv[i][j]
		}
		r.c = append(r.c, c)
	}
	r.m = timesLower(b, inv)
	r.e = timesLower(bHat, inv)
	for j := range r.e {
		r.e[j] = r.m[j] - r.e[j]
	}
	return r
}

// lowerInverse returns the inverse of a lower triangular matrix.
func lowerInverse(l [][]float64) [][]float64 {
	inv := make([][]float64, len(l))
	for i := range l {
		inv[i] = make([]float64, len(l))
		inv[i][i] = 1 / l[i][i]
		for j := range i {
			sum := 0.0
			for k := j; k < i; k++ {
				sum += l[i][k] * inv[k][j]
			}
			inv[i][j] = -sum / l[i][i]
		}
	}
	return inv
}

// timesLower returns the row vector v times the square matrix m.
func timesLower(v []float64, m [][]float64) []float64 {
	out := make([]float64, len(v))
	for j := range out {
		for k := range v {
			out[j] += v[k] * m[k][j]
		}
	}
	return out
}
