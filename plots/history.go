package plots

import (
	"slices"
	"strings"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"hotclimb/sim"
)

// History draws a run over time: coolant and oil at their sensors with
// cautions, limits, peaks and the moments a limit is passed; altitude; outside
// air; and the air through each exchanger. The result must have a trajectory.
// A temperature may have a band that the doubt of the numbers gives it. A
// number that is not finite is an error that names it.
func History(res *sim.Result, u Units, c Caption, bands ...Band) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if err := checkResult(res); err != nil {
		return nil, err
	}
	if err := checkBands(bands, res.Peaks); err != nil {
		return nil, err
	}
	b := &historian{res: res, units: u, bands: bands}
	h, err := b.history(c)
	if err != nil {
		return nil, err
	}
	layout := h.place()
	return &Figure{
		title: h.heading, about: b.describe(),
		width: pageWidth, height: layout.height, paint: layout.paint, data: b.data(),
	}, nil
}

// historian gathers what the history of a run shows.
type historian struct {
	res   *sim.Result
	units Units
	bands []Band
	time  []float64 // of the samples [min]
}

func (b *historian) history(c Caption) (*history, error) {
	var err error
	if b.time, err = clockwork(b.res.Trajectory); err != nil {
		return nil, err
	}
	h := &history{heading: c.heading("History of the run"), caption: c, x: b.duration()}
	for _, l := range b.res.Legs {
		h.legs = append(h.legs, moment{minutes().of(l.Start), l.Name})
	}
	h.events = b.events()
	for _, build := range []func() (*panel, error){b.temperatures, b.altitude, b.outside, b.airFlows} {
		p, err := build()
		if err != nil {
			return nil, err
		}
		if p != nil {
			h.panels = append(h.panels, p)
		}
	}
	return h, nil
}

// duration is the range of the time axis [min]: all that is drawn lies in it.
func (b *historian) duration() span {
	x := nothing.with(b.time...)
	for _, l := range b.res.Legs {
		x = x.with(minutes().of(l.Start), minutes().of(l.End))
	}
	for _, e := range b.res.Events {
		x = x.with(minutes().of(e.Time))
	}
	for _, p := range b.res.Peaks {
		x = x.with(minutes().of(p.Time))
		if p.Exceeded {
			x = x.with(minutes().of(p.TimeToLimit))
		}
	}
	for _, d := range b.bands {
		x = x.with(minutes().all(d.Time)...)
	}
	const shortest = 0.02 // min
	if x.hi-x.lo < shortest {
		x = x.atLeast(1)
	}
	return x
}

// events lists what the spray and the thermostats did, the spray first and
// the later of each first.
func (b *historian) events() []moment {
	var list []moment
	for _, word := range []string{"spray", "thermostat"} {
		for _, e := range slices.Backward(b.res.Events) {
			if strings.Contains(e.What, word) {
				list = append(list, moment{minutes().of(e.Time), brief.Replace(e.What)})
			}
		}
	}
	return list
}

// brief shortens what events are called.
var brief = strings.NewReplacer("starts to open", "opens", "is fully open", "full open")

// curve returns a channel as a line, thinned.
func (b *historian) curve(name, label string, s scale, line draw.LineStyle) (curve, error) {
	c, err := channel(b.res.Trajectory, name)
	if err != nil {
		return curve{}, err
	}
	x, y := thin(b.time, s.all(c.Values))
	return curve{name: label, line: line, x: x, y: y}, nil
}

// single returns a panel with one curve.
func (b *historian) single(channel, name, label string, s scale, least float64) (*panel, error) {
	l, err := b.curve(channel, label, s, stroke(ink, 1.4, solid))
	if err != nil {
		return nil, err
	}
	p := &panel{name: name, unit: s.unit, height: 58, steps: 4, curves: []curve{l}}
	p.y = nothing.with(l.y...).atLeast(least * s.factor)
	p.y = p.y.outward(p.levels())
	return p, nil
}

func (b *historian) altitude() (*panel, error) {
	const least = 200 // m
	return b.single("altitude_m", "Altitude", "altitude", b.units.altitude(), least)
}

func (b *historian) outside() (*panel, error) {
	const least = 4 // K
	return b.single("outside_degC", "Outside air", "outside air", b.units.temperature(), least)
}

// airFlows returns the panel of the exchangers in the air, or nil if there
// are none.
func (b *historian) airFlows() (*panel, error) {
	s := b.units.airFlow()
	p := &panel{name: "Air through each exchanger", unit: s.unit, height: 76, steps: 5, y: nothing.with(0)}
	count := map[string]int{}
	for _, e := range b.res.Exchangers {
		name := e.Name + "_air_kg_s"
		if b.res.Trajectory.Find(name) == nil {
			continue // a core in the coolant
		}
		styles := styleOf(e.Serves).cores
		l, err := b.curve(name, spaced(e.Name), s, styles[count[e.Serves]%len(styles)])
		if err != nil {
			return nil, err
		}
		count[e.Serves]++
		p.curves = append(p.curves, l)
		p.y = p.y.with(l.y...)
	}
	if len(p.curves) == 0 {
		return nil, nil
	}
	const least = 0.01 // kg/s
	if p.y.hi-p.y.lo < least*s.factor {
		p.y.hi = p.y.lo + least*s.factor
	}
	p.height = max(p.height, vg.Length(len(p.curves)+1)*endGap)
	const head = 1.03 // keeps a steady flow off the frame
	p.y.hi *= head
	p.y = p.y.outward(p.levels())
	if p.y.lo < 0 {
		p.rules = append(p.rules, rule{"backwards below 0", stroke(ink, 0.7, shortDash), 0})
	}
	return p, nil
}

// spaced turns a name of the scenario into words.
func spaced(name string) string { return strings.ReplaceAll(name, "_", " ") }
