package scenarios

import "strings"

// Dimension is what a kind of quantity measures and how people write it.
type Dimension struct {
	Name    string   // in words, such as "area"
	SI      string   // the unit that Number.Value is in, "" for a ratio
	US      string   // unit of results printed for display: us
	Metric  string   // unit of results printed for display: si
	Accepts []string // a few of the units it takes, for error texts

	powers      powers
	thermometer bool // a reading with a zero of its own, not a difference
}

// powers are the exponents of the base units. The radian counts as one of
// them, so that an angle is no ratio and rpm is no frequency.
type powers struct {
	metre, kilogram, second, kelvin, radian int
}

// add returns p with n times the exponents of q.
func (p powers) add(q powers, n int) powers {
	return powers{
		metre:    p.metre + n*q.metre,
		kilogram: p.kilogram + n*q.kilogram,
		second:   p.second + n*q.second,
		kelvin:   p.kelvin + n*q.kelvin,
		radian:   p.radian + n*q.radian,
	}
}

// Exponents of the base units by what they measure.
var (
	ofRatio        = powers{}
	ofLength       = powers{metre: 1}
	ofArea         = powers{metre: 2}
	ofVolume       = powers{metre: 3}
	ofMass         = powers{kilogram: 1}
	ofTime         = powers{second: 1}
	ofTemperature  = powers{kelvin: 1}
	ofAngle        = powers{radian: 1}
	ofRotation     = powers{radian: 1, second: -1}
	ofSpeed        = powers{metre: 1, second: -1}
	ofForce        = powers{kilogram: 1, metre: 1, second: -2}
	ofPressure     = powers{kilogram: 1, metre: -1, second: -2}
	ofEnergy       = powers{kilogram: 1, metre: 2, second: -2}
	ofPower        = powers{kilogram: 1, metre: 2, second: -3}
	ofHeatCapacity = ofEnergy.add(ofTemperature, -1)
	ofConductance  = ofPower.add(ofTemperature, -1)
	ofMassFlow     = powers{kilogram: 1, second: -1}
	ofVolumeFlow   = powers{metre: 3, second: -1}
	ofFuelRate     = ofMass.add(ofEnergy, -1)
	ofMassEnergy   = ofEnergy.add(ofMass, -1)
	ofDensity      = powers{kilogram: 1, metre: -3}
	ofSpecificHeat = ofMassEnergy.add(ofTemperature, -1)
	ofConductivity = ofConductance.add(ofLength, -1)
	ofViscosity    = powers{kilogram: 1, metre: -1, second: -1}
	ofFilm         = ofConductance.add(ofArea, -1)
)

// otherNames says what a unit measures that no field of a scenario takes. The names
// of the kinds come first; see measures.
var otherNames = map[powers]string{
	ofForce:  "force",
	ofEnergy: "energy",
	ofFilm:   "heat transfer coefficient",
}

// measures names what a unit measures, "" when it has no name.
func measures(u unit) string {
	if u.thermometer && !u.difference {
		return temperature.Name
	}
	for _, d := range dimensions {
		if d.powers == u.powers && !d.thermometer {
			return d.Name
		}
	}
	return otherNames[u.powers]
}

// takes is the part of an error text that names the accepted units.
func (d *Dimension) takes() string {
	return d.Name + " takes " + strings.Join(d.Accepts, ", ")
}

// withArticle puts a or an before a name.
func withArticle(name string) string {
	if strings.ContainsRune("aeio", rune(name[0])) {
		return "an " + name
	}
	return "a " + name
}
