package plots

import (
	"errors"
	"fmt"

	"gonum.org/v1/plot/vg/draw"
)

// GaugeReadings is what one gauge showed on a flight, beside what the model
// says it should have shown. Without readings the record lacks the gauge.
type GaugeReadings struct {
	Time    []float64 // from the start of the record, never back [s]
	Read    []float64 // [°C]
	Model   []float64 // with the lag and the bias of the gauge [°C]
	Refused []bool    // readings that were left out of the fit; nil for none
	Noise   float64   // one standard deviation of a reading [K]; 0 for none told
}

// FlightRecord is one record of a flight.
type FlightRecord struct {
	Name         string
	Coolant, Oil GaugeReadings
}

// gauges are both gauges in the order of circuitNames.
func (r *FlightRecord) gauges() [2]*GaugeReadings { return [2]*GaugeReadings{&r.Coolant, &r.Oil} }

func (g *GaugeReadings) refused(i int) bool { return g.Refused != nil && g.Refused[i] }

// check returns what keeps the readings from being drawn.
func (g *GaugeReadings) check(what string) error {
	n := len(g.Time)
	if len(g.Read) != n || len(g.Model) != n {
		return fmt.Errorf("%s: %d times, %d readings, %d values of the model", what, n, len(g.Read), len(g.Model))
	}
	if g.Refused != nil && len(g.Refused) != n {
		return fmt.Errorf("%s: %d readings, %d of them told as refused or not", what, n, len(g.Refused))
	}
	if err := shown("the noise of "+what, g.Noise); err != nil {
		return err
	}
	if g.Noise < 0 {
		return fmt.Errorf("the noise of %s is negative: %g", what, g.Noise)
	}
	for i, t := range g.Time {
		if err := shown(fmt.Sprintf("%s: the time of reading %d", what, i+1), t); err != nil {
			return err
		}
		if i > 0 && t < g.Time[i-1] {
			return fmt.Errorf("%s: reading %d is earlier than the one before", what, i+1)
		}
		if err := shown(fmt.Sprintf("%s: reading %d", what, i+1), g.Read[i]); err != nil {
			return err
		}
		if err := shown(fmt.Sprintf("%s: the model at reading %d", what, i+1), g.Model[i]); err != nil {
			return err
		}
	}
	return nil
}

// checkRecords returns what keeps records from being drawn.
func checkRecords(records []FlightRecord) error {
	if len(records) == 0 {
		return errors.New("no records of flights to draw")
	}
	for i := range records {
		r := &records[i]
		if r.Name == "" {
			return fmt.Errorf("record %d has no name", i+1)
		}
		if len(r.Coolant.Time)+len(r.Oil.Time) == 0 {
			return fmt.Errorf("record %s has no readings", r.Name)
		}
		for k, g := range r.gauges() {
			if err := g.check(circuitNames[k] + " of record " + r.Name); err != nil {
				return err
			}
		}
	}
	return nil
}

// gaugesRead lists the circuits of which there are readings.
func gaugesRead(records []FlightRecord) []int {
	var list []int
	for k := range circuitNames {
		for i := range records {
			if len(records[i].gauges()[k].Time) > 0 {
				list = append(list, k)
				break
			}
		}
	}
	return list
}

// tally counts the readings of a circuit, and those refused.
func tally(records []FlightRecord, circuit int) (all, refused int) {
	for i := range records {
		g := records[i].gauges()[circuit]
		for k := range g.Time {
			all++
			if g.refused(k) {
				refused++
			}
		}
	}
	return all, refused
}

// tallied says in words how many readings there are.
func tallied(records []FlightRecord, circuit int) string {
	all, refused := tally(records, circuit)
	text := circuitNames[circuit] + " " + counted(all, "reading")
	if refused > 0 {
		text += fmt.Sprintf(", %d refused", refused)
	}
	return text
}

// refusedMark is a cross lighter than a passed limit.
var refusedMark = draw.GlyphStyle{Color: noteInk, Radius: 3, Shape: crossGlyph{}}

// beyondMark points to what lies above or below a frame.
func beyondMark(above bool) draw.GlyphStyle {
	corners := downward
	if above {
		corners = upward
	}
	return draw.GlyphStyle{Color: noteInk, Radius: 3, Shape: cornered{corners, true}}
}

// refusedKey explains the marks of refused readings that are there.
func refusedKey(inside, beyond bool) []keyEntry {
	var key []keyEntry
	if inside {
		key = append(key, keyEntry{"refused", glyphSample(refusedMark)})
	}
	if beyond {
		key = append(key, keyEntry{"refused, beyond the frame", glyphSample(beyondMark(true))})
	}
	return key
}

// wideSigmas is the half width of the bands of noise, in standard deviations.
const wideSigmas = 2
