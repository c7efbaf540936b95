package main

import (
	"math"
	"strings"

	"github.com/guptarohit/asciigraph"
	"hotclimb/sim"
)

// Size of the chart in a terminal.
const (
	chartHeight = 11 // rows
	chartLabels = 10 // columns left of the curves and spare ones to the right
	chartTicks  = 5
)

// chart adds both temperatures against time. On a screen with colour they are
// lines; elsewhere rows of letters in plain ASCII.
func (p *page) chart(r *sim.Result) {
	if r.Trajectory == nil || len(r.Trajectory.Channels[0].Values) < 2 {
		return
	}
	times := r.Trajectory.Channels[0].Values
	last := times[len(times)-1]
	unit := temperature.in(p.units)
	var curves [][]float64
	var legend []string
	for i, k := range r.Peaks {
		channel := r.Trajectory.Find(k.Channel + "_degC")
		if channel == nil {
			return
		}
		curve := even(times, channel.Values, p.width-chartLabels)
		for j := range curve {
			curve[j] = unit.of(curve[j])
		}
		curves = append(curves, curve)
		legend = append(legend, p.mark(i)+" "+channelName(k.Channel)+", limit "+unit.number(k.Limit))
	}
	p.line("")
	p.line("  %s against min:s: %s", unit.name, strings.Join(legend, "; "))
	options := append(p.chartStyle(), asciigraph.Height(chartHeight), asciigraph.Precision(0),
		asciigraph.XAxisRange(times[0], last), asciigraph.XAxisTickCount(chartTicks),
		asciigraph.XAxisValueFormatter(clock))
	text := asciigraph.PlotMany(curves, options...)
	if !p.terminal {
		text = axesInASCII.Replace(text)
	}
	for row := range strings.Lines(text) {
		p.line("%s", strings.TrimRight(row, " \n"))
	}
}

// Letters of the curves without colour, and their colours.
var (
	chartLetters = []string{"c", "o"}
	chartColours = []asciigraph.AnsiColor{asciigraph.Blue, asciigraph.Red}
	legendMarks  = []colour{"\x1b[94m", "\x1b[91m"} // of the same two colours
)

// axesInASCII draws the axes with letters that any file can hold.
var axesInASCII = strings.NewReplacer("┤", "|", "┼", "+", "└", "+", "┬", "+", "─", "-", "│", "|")

// chartStyle says how the curves are drawn.
func (p *page) chartStyle() []asciigraph.Option {
	if p.colour {
		return []asciigraph.Option{asciigraph.SeriesColors(chartColours...)}
	}
	sets := make([]asciigraph.CharSet, len(chartLetters))
	for i, letter := range chartLetters {
		sets[i] = asciigraph.CreateCharSet(letter)
	}
	return []asciigraph.Option{asciigraph.SeriesChars(sets...)}
}

// mark is what a curve is known by in the legend.
func (p *page) mark(curve int) string {
	if p.colour {
		return p.paint(legendMarks[curve], "──")
	}
	return chartLetters[curve]
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
