package main

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"hotclimb/plots"
	"hotclimb/scenarios"
)

// unit is the unit in which factor i is shown: that of the file, and inches or
// centimetres for openings that the file has no unit of.
func (z *sized) unit(i int) string {
	q := z.Factors[i].Param
	if unit := z.fileUnit(q); unit != "" {
		return unit
	}
	if q.Dimension != scenarios.DimensionOf[scenarios.Length]() || q.Made != "opening" {
		return q.Unit
	}
	if z.units == plots.SI {
		return "cm"
	}
	return "in"
}

// fileUnit is the unit of a number in the first case that gives it one, "" for
// none.
func (z *sized) fileUnit(q scenarios.Param) string {
	for _, k := range z.Cases {
		if n, ok := q.Get(k.Scenario); ok && n.Unit != "" {
			return n.Unit
		}
	}
	return ""
}

// shown is a value of factor i in the unit that is shown.
func (z *sized) shown(i int, v float64) float64 {
	q := z.Factors[i].Param
	q.Unit = z.unit(i)
	return displayed(q, v)
}

// value prints a value of factor i with its unit.
func (z *sized) value(i int, x float64) string {
	return plots.Pretty(scenarios.Format(x, z.unit(i), z.Factors[i].Param.Dimension))
}

// bare prints a value of factor i without its unit.
func (z *sized) bare(i int, x float64) string {
	number, _, _ := strings.Cut(z.value(i, x), " ")
	return number
}

// change prints a change of factor i with its sign and unit.
func (z *sized) change(i int, dx float64) string {
	unit, d := z.unit(i), z.Factors[i].Param.Dimension
	one, err := scenarios.Convert(1, unit, d)
	zero, _ := scenarios.Convert(0, unit, d)
	if err != nil {
		one, zero, unit = 1, 0, d.SI
	}
	return strings.TrimSpace(fmt.Sprintf("%+.3f %s", dx*(one-zero), plots.Pretty(unit)))
}

// inFile prints a value of a number in the unit that the file gives it.
func (z *sized) inFile(q scenarios.Param, x float64) string {
	return plots.Pretty(scenarios.Format(x, cmp.Or(z.fileUnit(q), q.Unit), q.Dimension))
}

// piece prints the size of factor i that can be made.
func (z *sized) piece(i int) string {
	x, q := z.Sized.Build.Pieces[i].Value, z.Factors[i].Param
	switch shape := z.shape(i); {
	case shape != "":
		return z.value(i, x) + ", as " + shape
	case q.Dimension == scenarios.DimensionOf[scenarios.Length]():
		return z.cut(x)
	case q.Whole:
		return z.bare(i, x) + " pieces"
	}
	return z.value(i, x)
}

// shape prints what an opening that is given by its area can be cut to, "" for
// anything else.
func (z *sized) shape(i int) string {
	s := z.Sized.Build.Pieces[i].Shape
	rectangle, circle := z.cut(s.Width)+" by "+z.cut(s.Height), "round "+z.cut(s.Diameter)
	switch {
	case s.Diameter == 0:
		return ""
	case s.Round:
		return circle + "; or " + rectangle
	}
	return rectangle + "; or " + circle
}

// cut prints a length as it is cut: in sixteenths of an inch or in millimetres.
func (z *sized) cut(length float64) string {
	if z.units == plots.SI {
		return fmt.Sprintf("%.0f mm", length*1000)
	}
	n := int(math.Round(length / 0.0254 * 16))
	whole, rest, of := n/16, n%16, 16
	for rest > 0 && rest%2 == 0 {
		rest, of = rest/2, of/2
	}
	if rest == 0 {
		return fmt.Sprintf("%d in", whole)
	}
	if whole == 0 {
		return fmt.Sprintf("%d/%d in", rest, of)
	}
	return fmt.Sprintf("%d %d/%d in", whole, rest, of)
}
