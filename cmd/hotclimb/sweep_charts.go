package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"hotclimb/plots"
	"hotclimb/sweep"
)

// Charts in the folder of a sweep.
const (
	sensitivityChart = "sensitivity"
	contourChart     = "contour"
)

// writeCharts draws the charts of a grid that was flown whole: both margins
// along each number and, when there are several, over the first two.
func (s *swept) writeCharts() error {
	c := s.cutter()
	if c == nil {
		return nil
	}
	if err := s.eachRow(c.take); err != nil {
		return err
	}
	charts, err := s.charts(c)
	if err != nil {
		return err
	}
	for _, k := range charts {
		if err := writeAll(s.folder, images(k.name, k.Figure)); err != nil {
			return err
		}
	}
	return nil
}

// cutter takes the rows that charts need; nil when there is nothing to draw.
func (s *swept) cutter() *cutter {
	if s.manifest.Design != sweep.GridDesign || s.manifest.Shard != nil {
		return nil
	}
	if c := newCutter(s); len(c.cuts) > 0 {
		return c
	}
	return nil
}

// charts draws what the rows come to.
func (s *swept) charts(c *cutter) ([]drawn, error) {
	var charts []drawn
	var curves []plots.SensitivityCurve
	for _, k := range c.cuts {
		if k.y != nil {
			figure, err := s.contour(c, k)
			if err != nil {
				return nil, undrawn(contourChart, err)
			}
			charts = append(charts, drawn{contourChart, figure})
			continue
		}
		curve := plots.SensitivityCurve{
			Axis: s.axis(k.x), Coolant: k.margins[sweep.Coolant][0], Oil: k.margins[sweep.Oil][0], Present: s.present(k.x),
		}
		if s.manifest.Draws != nil {
			curve.CoolantBand = &plots.MarginBand{Low: k.low[sweep.Coolant][0], High: k.high[sweep.Coolant][0]}
			curve.OilBand = &plots.MarginBand{Low: k.low[sweep.Oil][0], High: k.high[sweep.Oil][0]}
		}
		curves = append(curves, curve)
	}
	var moved []int
	if len(c.cuts) == 1 {
		moved = []int{c.cuts[0].x.factor}
	}
	figure, err := plots.Sensitivity(curves, s.units, s.chartCaption(c, moved...))
	if err != nil {
		return nil, undrawn(sensitivityChart, err)
	}
	return slices.Insert(charts, 0, drawn{sensitivityChart, figure}), nil
}

// undrawn says which chart failed.
func undrawn(name string, err error) error {
	return fmt.Errorf("the chart %s cannot be drawn: %w", name, err)
}

// contour draws both margins over two numbers.
func (s *swept) contour(c *cutter, k *cut) (*plots.Figure, error) {
	d := plots.ContourData{
		X: s.axis(k.x), Y: s.axis(k.y), Coolant: k.margins[sweep.Coolant], Oil: k.margins[sweep.Oil],
	}
	if size := s.scenario.Size; size != nil {
		d.NeedCoolant, d.NeedOil = size.CoolantMargin.Value, size.OilMargin.Value
	}
	if x, y := s.present(k.x), s.present(k.y); !math.IsNaN(x) && !math.IsNaN(y) {
		d.Present = &[2]float64{x, y}
	}
	return plots.Contour(d, s.units, s.chartCaption(c, k.x.factor, k.y.factor))
}

func (s *swept) axis(x *scale) plots.Axis {
	p := s.study.Factors[x.factor].Param
	return plots.Axis{Label: p.Path, Unit: p.Unit, Values: x.values}
}

// present is the value of the file in the unit displayed; NaN when there is none.
func (s *swept) present(x *scale) float64 {
	p := s.study.Factors[x.factor].Param
	if own, ok := sweep.Filed(s.study.Cases, p); ok {
		return displayed(p, own)
	}
	return math.NaN()
}

// chartCaption says where a chart comes from and at what the factors stay other
// than those moved in all of it.
func (s *swept) chartCaption(c *cutter, moved ...int) plots.Caption {
	var held []string
	for i, f := range s.study.Factors {
		if slices.Contains(moved, i) {
			continue
		}
		at := ""
		if f.Param.IsNumber() {
			at = levelText(f, f.Values[c.own[i]])
			if own, ok := sweep.Filed(s.study.Cases, f.Param); ok && levelText(f, own) != at {
				at += " (as filed " + levelText(f, own) + ")"
			}
		} else {
			at = f.Words[c.own[i]]
		}
		held = append(held, f.Param.Path+" "+at)
	}
	caption := s.caption("", s.manifest.Cases...)
	if len(held) > 0 {
		caption.Scenario += " · others at " + strings.Join(held, ", ")
	}
	return caption
}
