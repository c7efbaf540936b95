package calibrate

import "math"

// published is a problem of J. J. Moré, B. S. Garbow and K. E. Hillstrom,
// "Testing unconstrained optimization software", ACM Transactions on
// Mathematical Software 7 (1981) 17-41, by its name there, from memory. Least are
// the sums of squares of its known leasts. Those marked near are only found from
// their published start: ten and a hundred times as far away the search ends on a
// plain that goes on without end (Bard at 17.43, as published for other programs;
// Gaussian, Box, Biggs, Osborne), creeps along one (Beale, Powell, Chebyquad), or
// there is nothing to compute (Jennrich and Sampson: e^400).
type published struct {
	name  string
	near  bool
	m     int
	start []float64
	least []float64
	f     func(x, r []float64)
}

var moreGarbowHillstrom = []published{
	{"Rosenbrock", false, 2, []float64{-1.2, 1}, []float64{0}, func(x, r []float64) {
		r[0], r[1] = 10*(x[1]-sq(x[0])), 1-x[0]
	}},
	{"Freudenstein and Roth", false, 2, []float64{0.5, -2}, []float64{0, 48.98425}, func(x, r []float64) {
		r[0] = -13 + x[0] + ((5-x[1])*x[1]-2)*x[1]
		r[1] = -29 + x[0] + ((x[1]+1)*x[1]-14)*x[1]
	}},
	{"Powell badly scaled", true, 2, []float64{0, 1}, []float64{0}, func(x, r []float64) {
		r[0], r[1] = 1e4*x[0]*x[1]-1, math.Exp(-x[0])+math.Exp(-x[1])-1.0001
	}},
	{"Brown badly scaled", false, 3, []float64{1, 1}, []float64{0}, func(x, r []float64) {
		r[0], r[1], r[2] = x[0]-1e6, x[1]-2e-6, x[0]*x[1]-2
	}},
	{"Beale", true, 3, []float64{1, 1}, []float64{0}, func(x, r []float64) {
		for i, y := range []float64{1.5, 2.25, 2.625} {
			r[i] = y - x[0]*(1-math.Pow(x[1], float64(i+1)))
		}
	}},
	{"Jennrich and Sampson", true, 10, []float64{0.3, 0.4}, []float64{124.3622}, func(x, r []float64) {
		for i := range r {
			t := float64(i + 1)
			r[i] = 2 + 2*t - math.Exp(t*x[0]) - math.Exp(t*x[1])
		}
	}},
	{"Helical valley", false, 3, []float64{-1, 0, 0}, []float64{0}, func(x, r []float64) {
		turns := math.Atan2(x[1], x[0]) / (2 * math.Pi)
		if turns < -0.25 { // the cut lies along the negative second axis
			turns++
		}
		r[0], r[1], r[2] = 10*(x[2]-10*turns), 10*(math.Hypot(x[0], x[1])-1), x[2]
	}},
	{"Bard", true, 15, []float64{1, 1, 1}, []float64{8.214877e-3}, func(x, r []float64) {
		y := []float64{0.14, 0.18, 0.22, 0.25, 0.29, 0.32, 0.35, 0.39, 0.37, 0.58, 0.73, 0.96, 1.34, 2.10, 4.39}
		for i := range r {
			u, v := float64(i+1), float64(15-i)
			r[i] = y[i] - x[0] - u/(v*x[1]+math.Min(u, v)*x[2])
		}
	}},
	{"Gaussian", true, 15, []float64{0.4, 1, 0}, []float64{1.127933e-8}, func(x, r []float64) {
		y := []float64{0.0009, 0.0044, 0.0175, 0.0540, 0.1295, 0.2420, 0.3521, 0.3989}
		for i := range r {
			t := float64(7-i) / 2
			r[i] = x[0]*math.Exp(-x[1]*sq(t-x[2])/2) - y[min(i, 14-i)]
		}
	}},
	{"Box three-dimensional", true, 10, []float64{0, 10, 20}, []float64{0}, func(x, r []float64) {
		for i := range r {
			t := float64(i+1) / 10
			r[i] = math.Exp(-t*x[0]) - math.Exp(-t*x[1]) - x[2]*(math.Exp(-t)-math.Exp(-10*t))
		}
	}},
	{"Powell singular", false, 4, []float64{3, -1, 0, 1}, []float64{0}, func(x, r []float64) {
		r[0], r[1] = x[0]+10*x[1], math.Sqrt(5)*(x[2]-x[3])
		r[2], r[3] = sq(x[1]-2*x[2]), math.Sqrt(10)*sq(x[0]-x[3])
	}},
	{"Wood", false, 6, []float64{-3, -1, -3, -1}, []float64{0}, func(x, r []float64) {
		r[0], r[1] = 10*(x[1]-sq(x[0])), 1-x[0]
		r[2], r[3] = math.Sqrt(90)*(x[3]-sq(x[2])), 1-x[2]
		r[4], r[5] = math.Sqrt(10)*(x[1]+x[3]-2), (x[1]-x[3])/math.Sqrt(10)
	}},
	{"Brown and Dennis", false, 20, []float64{25, 5, -5, -1}, []float64{85822.20}, func(x, r []float64) {
		for i := range r {
			t := float64(i+1) / 5
			r[i] = sq(x[0]+t*x[1]-math.Exp(t)) + sq(x[2]+x[3]*math.Sin(t)-math.Cos(t))
		}
	}},
	{"Biggs EXP6", true, 13, []float64{1, 2, 1, 1, 1, 1}, []float64{0, 5.655650e-3}, func(x, r []float64) {
		for i := range r {
			t := float64(i+1) / 10
			y := math.Exp(-t) - 5*math.Exp(-10*t) + 3*math.Exp(-4*t)
			r[i] = x[2]*math.Exp(-t*x[0]) - x[3]*math.Exp(-t*x[1]) + x[5]*math.Exp(-t*x[4]) - y
		}
	}},
	{"Osborne 2", true, 65, []float64{1.3, 0.65, 0.65, 0.7, 0.6, 3, 5, 7, 2, 4.5, 5.5}, []float64{4.013774e-2}, osborne2},
	{"Watson of 6", false, 31, make([]float64, 6), []float64{2.287670e-3}, watson},
	{"Watson of 9", false, 31, make([]float64, 9), []float64{1.399760e-6}, watson},
	{"Penalty I", false, 5, []float64{1, 2, 3, 4}, []float64{2.249978e-5}, func(x, r []float64) {
		r[4] = -0.25
		for i, v := range x {
			r[i] = math.Sqrt(1e-5) * (v - 1)
			r[4] += v * v
		}
	}},
	{"Variably dimensioned", false, 12, []float64{0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.1, 0}, []float64{0}, func(x, r []float64) {
		sum := 0.0
		for i, v := range x {
			r[i] = v - 1
			sum += float64(i+1) * (v - 1)
		}
		r[10], r[11] = sum, sum*sum
	}},
	{"Brown almost linear", false, 5, []float64{0.5, 0.5, 0.5, 0.5, 0.5}, []float64{0, 1}, func(x, r []float64) {
		sum, product := -float64(len(x)+1), 1.0
		for _, v := range x {
			sum += v
			product *= v
		}
		for i, v := range x {
			r[i] = v + sum
		}
		r[len(x)-1] = product - 1
	}},
	{"Chebyquad of 8", true, 8, []float64{1. / 9, 2. / 9, 3. / 9, 4. / 9, 5. / 9, 6. / 9, 7. / 9, 8. / 9}, []float64{3.516873e-3}, chebyquad},
	{"Linear, full rank", false, 10, []float64{1, 1, 1, 1, 1}, []float64{5}, func(x, r []float64) {
		sum := 0.0
		for _, v := range x {
			sum += v
		}
		for i := range r {
			r[i] = -2*sum/10 - 1
			if i < len(x) {
				r[i] += x[i]
			}
		}
	}},
	{"Linear, rank 1", false, 10, []float64{1, 1, 1, 1, 1}, []float64{15. / 7}, func(x, r []float64) {
		sum := 0.0
		for k, v := range x {
			sum += float64(k+1) * v
		}
		for i := range r {
			r[i] = float64(i+1)*sum - 1
		}
	}},
}

func watson(x, r []float64) {
	for i := range 29 {
		t := float64(i+1) / 29
		slope, value := 0.0, 0.0
		for k := len(x) - 1; k >= 0; k-- {
			value = value*t + x[k]
			if k > 0 {
				slope = slope*t + float64(k)*x[k]
			}
		}
		r[i] = slope - value*value - 1
	}
	r[29], r[30] = x[0], x[1]-sq(x[0])-1
}

func chebyquad(x, r []float64) {
	clear(r)
	n := float64(len(x))
	for _, v := range x {
		before, now := 1.0, 2*v-1
		for i := range r {
			r[i] += now / n
			before, now = now, 2*(2*v-1)*now-before
		}
	}
	for i := range r {
		if k := float64(i + 1); i%2 == 1 {
			r[i] += 1 / (k*k - 1)
		}
	}
}

func osborne2(x, r []float64) {
	y := []float64{
		1.366, 1.191, 1.112, 1.013, 0.991, 0.885, 0.831, 0.847, 0.786, 0.725, 0.746, 0.679, 0.608,
		0.655, 0.616, 0.606, 0.602, 0.626, 0.651, 0.724, 0.649, 0.649, 0.694, 0.644, 0.624, 0.661,
		0.612, 0.558, 0.533, 0.495, 0.500, 0.423, 0.395, 0.375, 0.372, 0.391, 0.396, 0.405, 0.428,
		0.429, 0.523, 0.562, 0.607, 0.653, 0.672, 0.708, 0.633, 0.668, 0.645, 0.632, 0.591, 0.559,
		0.597, 0.625, 0.739, 0.710, 0.729, 0.720, 0.636, 0.581, 0.428, 0.292, 0.162, 0.098, 0.054,
	}
	for i := range r {
		t := float64(i) / 10
		r[i] = x[0]*math.Exp(-t*x[4]) - y[i]
		for k := range 3 {
			r[i] += x[1+k] * math.Exp(-sq(t-x[8+k])*x[5+k])
		}
	}
}
