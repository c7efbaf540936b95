package plots

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/vg/draw"

	"hotclimb/sim"
)

// otherLeg names the temperature at the other end of a circuit.
var otherLeg = map[string]string{
	"coolant_out": "coolant_in", "coolant_in": "coolant_out",
	"oil_sump": "oil_in", "oil_in": "oil_sump",
}

// circuitOf returns the circuit of a temperature: the first word of its name.
func circuitOf(channel string) string {
	name, _, _ := strings.Cut(channel, "_")
	return name
}

func styleOf(circuit string) circuitStyle {
	if circuit == "oil" {
		return oilStyle
	}
	return coolantStyle
}

// temperatures returns the panel of both circuits.
func (b *historian) temperatures() (*panel, error) {
	s := b.units.temperature()
	p := &panel{name: "Coolant and oil", unit: s.unit, height: 252, steps: 9, y: nothing}
	for i := range b.res.Peaks {
		if err := b.circuit(p, &b.res.Peaks[i]); err != nil {
			return nil, err
		}
	}
	for _, l := range p.curves {
		p.y = p.y.with(l.y...)
	}
	for _, m := range p.marks {
		p.y = p.y.with(m.y)
	}
	for _, r := range p.rules {
		p.y = p.y.with(r.y)
	}
	if err := b.boiling(p); err != nil {
		return nil, err
	}
	const least = 10 // K
	p.y = p.y.atLeast(least * s.factor)
	head := 0.07 * (p.y.hi - p.y.lo) // room for notes
	p.y = span{p.y.lo - head/2, p.y.hi + head}
	return p, nil
}

// circuit adds one circuit to the panel: the line of its sensor and of its
// other leg, its caution and limit, its peak, and when it passes its limit.
func (b *historian) circuit(p *panel, peak *sim.Peak) error {
	s, style := b.units.temperature(), styleOf(circuitOf(peak.Channel))
	sensed, err := b.curve(peak.Channel+"_degC", spaced(peak.Channel), s, style.sensed())
	if err != nil {
		return err
	}
	sensed.bold = true
	if other, ok := otherLeg[peak.Channel]; ok && b.res.Trajectory.Find(other+"_degC") != nil {
		l, err := b.curve(other+"_degC", spaced(other), s, style.other())
		if err != nil {
			return err
		}
		p.curves = append(p.curves, l)
	}
	b.doubt(p, peak.Channel)
	p.curves = append(p.curves, sensed)
	p.limits(peak, s, style)
	p.moments(peak, s, style)
	if d := b.bandOf(peak.Channel); d != nil {
		p.marks[len(p.marks)-1].more = d.Chance
	}
	return nil
}

// limits adds the limit of a circuit, and its caution if that lies below.
func (p *panel) limits(peak *sim.Peak, s scale, style circuitStyle) {
	name, limit, caution := circuitOf(peak.Channel), s.of(peak.Limit), s.of(peak.Caution)
	p.rules = append(p.rules, rule{fmt.Sprintf("%s limit %s", name, decimal(limit, 0)), stroke(style.color, 1.2, style.limit), limit})
	if caution < limit {
		p.rules = append(p.rules, rule{fmt.Sprintf("%s caution %s", name, decimal(caution, 0)), style.caution(), caution})
		p.bands = append(p.bands, band{caution, limit, draw.LineStyle{Color: tint(style.color, 0.13)}})
	}
}

// moments adds the peak of a circuit and, if the limit was passed, when.
func (p *panel) moments(peak *sim.Peak, s scale, style circuitStyle) {
	name, t, v := circuitOf(peak.Channel), minutes().of(peak.Time), s.of(peak.Value)
	p.marks = append(p.marks, mark{
		x: t, y: v, note: fmt.Sprintf("%s peak %s %s, %s", name, decimal(v, 0), s.unit, clock(t)),
		shape: draw.GlyphStyle{Color: style.color, Radius: 3, Shape: style.mark},
	})
	if peak.Exceeded {
		t := minutes().of(peak.TimeToLimit)
		p.marks = append(p.marks, mark{
			x: t, y: s.of(peak.Limit), note: fmt.Sprintf("%s passes its limit, %s", name, clock(t)),
			shape: draw.GlyphStyle{Color: ink, Radius: 4.5, Shape: crossGlyph{}}, passing: true,
		})
	}
}

// boiling adds the boiling point of the coolant where it comes near the other
// temperatures of the panel. A coolant without one has it at 0 °C.
func (b *historian) boiling(p *panel) error {
	if b.res.Trajectory.Find("boil_degC") == nil {
		return nil
	}
	s := b.units.temperature()
	l, err := b.curve("boil_degC", "coolant boils", s, stroke(ink, 1, shortDash))
	if err != nil {
		return err
	}
	const near = 12 // K
	y := nothing.with(l.y...)
	if y.lo <= s.of(0) || y.lo > p.y.hi+near*s.factor {
		return nil
	}
	p.curves = append(p.curves, l)
	p.y = p.y.with(y.lo, y.hi)
	return nil
}

// describe says in words what the figure shows, for people who do not see it.
func (b *historian) describe() string {
	s := b.units.temperature()
	var text strings.Builder
	text.WriteString("Temperatures, altitude, outside air and air flows over time. ")
	for _, p := range b.res.Peaks {
		fmt.Fprintf(&text, "The %s peaks at %s %s after %s; its limit is %s %s",
			circuitOf(p.Channel), decimal(s.of(p.Value), 0), s.unit, clock(minutes().of(p.Time)), decimal(s.of(p.Limit), 0), s.unit)
		if p.Exceeded {
			fmt.Fprintf(&text, ", passed after %s", clock(minutes().of(p.TimeToLimit)))
		}
		if d := b.bandOf(p.Channel); d != nil && d.Chance != "" {
			text.WriteString("; " + d.Chance)
		}
		text.WriteString(". ")
	}
	text.WriteString("An " + reminder + ".")
	return text.String()
}
