package main

import (
	"math"
	"strings"

	"github.com/guptarohit/asciigraph"
	"hotclimb/plots"
	"hotclimb/sim"
)

// Size of the chart in a terminal.
const (
	chartHeight = 13 // rows, at most
	chartLabels = 10 // columns left of the curves and spare ones to the right
	chartTicks  = 5
)

// chart adds both temperatures and their limits against time. On a screen with
// colour they are lines; elsewhere rows of letters in plain ASCII.
func (p *page) chart(r *sim.Result) {
	if r.Trajectory == nil || len(r.Trajectory.Channels[0].Values) < 2 {
		return
	}
	times := r.Trajectory.Channels[0].Values
	unit, columns := temperature.In(p.units), p.width-chartLabels
	var curves, limits [][]float64
	var legend []string
	for i, k := range r.Peaks {
		channel := r.Trajectory.Find(k.Channel + "_degC")
		if channel == nil {
			return
		}
		curve := even(times, channel.Values, columns)
		for j := range curve {
			curve[j] = unit.Of(curve[j])
		}
		curves = append(curves, curve)
		limits = append(limits, dashes(unit.Of(k.Limit), columns, i))
		legend = append(legend, p.mark(strokes[2+i])+" "+channelName(k.Channel)+", "+p.mark(strokes[i])+" its limit")
	}
	p.line("")
	p.line("  %s against min:s: %s", unit.Name, strings.Join(legend, "; "))
	series := append(limits, curves...)
	lo, hi, rows := axis(series)
	text := asciigraph.PlotMany(series, p.chartStyle(), asciigraph.Precision(0),
		asciigraph.Height(rows), asciigraph.LowerBound(lo), asciigraph.UpperBound(hi),
		asciigraph.XAxisRange(times[0], times[len(times)-1]), asciigraph.XAxisTickCount(chartTicks),
		asciigraph.XAxisValueFormatter(plots.Clock))
	if !p.terminal {
		text = axesInASCII.Replace(text)
	}
	for row := range strings.Lines(text) {
		p.line("%s", strings.TrimRight(row, " \n"))
	}
}

// axis returns bounds around all values, rows apart by the smallest of some
// round steps that fits the height. With bounds that are multiples of the step
// every row stands exactly at its label.
func axis(series [][]float64) (lo, hi float64, rows int) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, line := range series {
		for _, v := range line {
			if !math.IsNaN(v) && !math.IsInf(v, 0) {
				lo, hi = math.Min(lo, v), math.Max(hi, v)
			}
		}
	}
	if lo > hi {
		return 0, 1, 1
	}
	for decade := 1.0; ; decade *= 10 {
		for _, step := range []float64{decade, 2 * decade, 5 * decade} {
			first, last := math.Floor(lo/step), math.Ceil(hi/step)
			if n := last - first; n <= chartHeight {
				return first * step, last * step, max(int(n), 1)
			}
		}
	}
}

// dashes is a dashed level line; those of both limits alternate, so that equal
// limits show both.
func dashes(level float64, n, which int) []float64 {
	line := make([]float64, n)
	for i := range line {
		line[i] = level
		if (i/3)%2 != which {
			line[i] = math.NaN()
		}
	}
	return line
}

// stroke is how a curve is drawn: as a letter, or in a colour.
type stroke struct {
	letter string
	drawn  asciigraph.AnsiColor
	named  colour // the same, for the legend
	sample string // of the line, for the legend
}

// strokes are those of the coolant limit, the oil limit, coolant and oil.
var strokes = []stroke{
	{"-", asciigraph.Blue, "\x1b[94m", "- -"},
	{"=", asciigraph.Red, "\x1b[91m", "- -"},
	{"c", asciigraph.Blue, "\x1b[94m", "──"},
	{"o", asciigraph.Red, "\x1b[91m", "──"},
}

// axesInASCII draws the axes with letters that any file can hold.
var axesInASCII = strings.NewReplacer("┤", "|", "┼", "+", "└", "+", "┬", "+", "─", "-", "│", "|")

// chartStyle says how the curves are drawn.
func (p *page) chartStyle() asciigraph.Option {
	var letters []asciigraph.CharSet
	var colours []asciigraph.AnsiColor
	for _, s := range strokes {
		letters = append(letters, asciigraph.CreateCharSet(s.letter))
		colours = append(colours, s.drawn)
	}
	if p.colour {
		return asciigraph.SeriesColors(colours...)
	}
	return asciigraph.SeriesChars(letters...)
}

// mark is what a stroke is known by in the legend.
func (p *page) mark(s stroke) string {
	if p.colour {
		return p.paint(s.named, s.sample)
	}
	return s.letter
}

// even samples a history at n evenly spaced times, by straight lines.
func even(times, values []float64, n int) []float64 {
	samples := make([]float64, n)
	first, last := times[0], times[len(times)-1]
	k := 0
	for i := range samples {
		t := first + (last-first)*float64(i)/float64(n-1)
		for k < len(times)-2 && times[k+1] < t {
			k++
		}
		share := (t - times[k]) / (times[k+1] - times[k])
		samples[i] = values[k] + math.Min(1, share)*(values[k+1]-values[k])
	}
	return samples
}
