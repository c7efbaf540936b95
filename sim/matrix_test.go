package sim_test

import (
	"math"
	"testing"
)

// matrix is square, for the linear systems of the tests.
type matrix [6][6]float64

func (m matrix) scaled(x float64) matrix {
	for i := range m {
		for j := range m {
			m[i][j] *= x
		}
	}
	return m
}

func (m matrix) times(o matrix) (p matrix) {
	for i := range m {
		for j := range m {
			for k := range m {
				p[i][j] += m[i][k] * o[k][j]
			}
		}
	}
	return p
}

// exponential returns e^m by scaling, a Taylor series and squaring.
func (m matrix) exponential() matrix {
	largest := 0.0
	for i := range m {
		for j := range m {
			largest = math.Max(largest, math.Abs(m[i][j]))
		}
	}
	halvings := max(0, int(math.Ceil(math.Log2(largest)))+4)
	m = m.scaled(math.Ldexp(1, -halvings))
	var sum, term matrix
	for i := range sum {
		sum[i][i], term[i][i] = 1, 1
	}
	for n := 1; n <= 24; n++ {
		term = term.times(m).scaled(1 / float64(n))
		for i := range sum {
			for j := range sum {
				sum[i][j] += term[i][j]
			}
		}
	}
	for range halvings {
		sum = sum.times(sum)
	}
	return sum
}

// TestExponential checks the tool: a rotation and a decay.
func TestExponential(t *testing.T) {
	var m matrix
	m[0][1], m[1][0], m[2][2] = -20, 20, -50
	e := m.exponential()
	near(t, "cos 20", e[0][0], math.Cos(20), 1e-12)
	near(t, "sin 20", e[1][0], math.Sin(20), 1e-12)
	near(t, "e^-50 relative", e[2][2]/math.Exp(-50), 1, 1e-12)
}
