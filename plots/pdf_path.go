package plots

import (
	"math"

	"gonum.org/v1/plot/vg"
)

// trace goes along a path.
func (p *pdfPage) trace(path vg.Path) {
	open := false // whether there is a point to go on from
	for _, c := range path {
		switch c.Type {
		case vg.MoveComp:
			p.pdf.MoveTo(p.at(c.Pos))
		case vg.LineComp:
			p.pdf.LineTo(p.at(c.Pos))
		case vg.ArcComp:
			p.arc(c, open)
		case vg.CurveComp:
			p.curve(c)
		case vg.CloseComp:
			p.pdf.ClosePath()
		}
		open = c.Type != vg.CloseComp
	}
}

// curve adds a Bézier curve. One with a single handle is raised to two by thirds:
// what the library offers for that is another curve.
func (p *pdfPage) curve(c vg.PathComp) {
	first, last := c.Control[0], c.Control[len(c.Control)-1]
	if len(c.Control) == 1 {
		x, y := p.pdf.GetXY()
		start := vg.Point{X: vg.Length(x), Y: p.height - vg.Length(y)}
		first = start.Add(first.Sub(start).Scale(2.0 / 3))
		last = c.Pos.Add(last.Sub(c.Pos).Scale(2.0 / 3))
	}
	p.bezier(first, last, c.Pos)
}

func (p *pdfPage) bezier(first, last, end vg.Point) {
	ax, ay := p.at(first)
	bx, by := p.at(last)
	x, y := p.at(end)
	p.pdf.CurveBezierCubicTo(ax, ay, bx, by, x, y)
}

// arc adds an arc in pieces of at most a quarter, each a Bézier curve whose
// handles are 4/3·tan(θ/4) long: off the circle by 0.03 % at most. The arcs of
// the library are off by 1.5 % at a quarter, and by more where the angle falls,
// of which it makes two pieces however long.
func (p *pdfPage) arc(c vg.PathComp, open bool) {
	n := math.Ceil(math.Abs(c.Angle)/(math.Pi/2) - 1e-9)
	step := c.Angle / max(n, 1)
	// on is the point at an angle, moved along the tangent by a share of the radius.
	on := func(angle, along float64) vg.Point {
		sin, cos := math.Sincos(angle)
		return c.Pos.Add(vg.Point{X: vg.Length(cos - along*sin), Y: vg.Length(sin + along*cos)}.Scale(c.Radius))
	}
	if open {
		p.pdf.LineTo(p.at(on(c.Start, 0)))
	} else {
		p.pdf.MoveTo(p.at(on(c.Start, 0)))
	}
	handle := 4.0 / 3 * math.Tan(step/4)
	for i := range int(n) {
		from, to := c.Start+float64(i)*step, c.Start+float64(i+1)*step
		p.bezier(on(from, handle), on(to, -handle), on(to, 0))
	}
}
