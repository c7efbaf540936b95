package fluid

import (
	"fmt"
	"math"
	"strings"
)

// oilGrade is a typical oil of one SAE grade.
type oilGrade struct {
	name        string
	nu40, nu100 float64 // kinematic viscosity at 40 and 100 °C, mm²/s
}

// oilGrades lists typical oils, thin to thick; viscosities from memory, ±10 %.
var oilGrades = [...]oilGrade{
	{"sae_30", 97, 11.0},
	{"10w_40", 96, 14.3},
	{"15w_50", 140, 19.5},
	{"20w_50", 165, 18.5},
	{"sae_50", 215, 19.6},
}

// oilTable is the viscosity of unused engine oil.
//
// Source: F. P. Incropera & D. P. DeWitt, Fundamentals of Heat and Mass Transfer,
// table A.5.
var oilTable = [...]struct{ kelvin, mu float64 }{
	{273, 3.85}, {280, 2.17}, {290, 0.999}, {300, 0.486}, {310, 0.253},
	{320, 0.141}, {330, 0.0836}, {340, 0.0531}, {350, 0.0356}, {360, 0.0252},
	{370, 0.0186}, {380, 0.0141}, {390, 0.0110},
}

// OilGrades returns the names [EngineOil] takes, thin to thick.
func OilGrades() []string {
	names := make([]string, len(oilGrades))
	for i, g := range oilGrades {
		names[i] = g.name
	}
	return names
}

// EngineOil returns a typical engine oil of the grade, one of [OilGrades].
//
// Density, heat capacity and conductivity are lines fitted to unused engine oil,
//
//	ρ = 899.56 − 0.5934t,  cp = 1795.6 + 4.233t,  k = 0.14679 − 1.015e-4t
//
// (within 0.062 %, 0.2 %, 1.5 % of F. P. Incropera & D. P. DeWitt, Fundamentals of
// Heat and Mass Transfer, table A.5, 0–117 °C). Viscosity is the line of ASTM
// D341 through the grade's viscosities at 40 and 100 °C (from memory, ±10 %).
// Range and evaluation span 0…150 °C; the lines bend little beyond their data.
func EngineOil(grade string) (*Liquid, error) {
	for _, g := range oilGrades {
		if g.name == grade {
			l := plainOil("engine oil "+strings.ReplaceAll(strings.ToUpper(g.name), "_", " "), 0, 150)
			l.viscosity = waltherLine(g.nu40, g.nu100)
			return l, nil
		}
	}
	return nil, fmt.Errorf("oil grade %q is not one of %s", grade, strings.Join(OilGrades(), ", "))
}

// OilTableA5 returns unused engine oil with the viscosity of F. P. Incropera & D.
// P. DeWitt, Fundamentals of Heat and Mass Transfer, table A.5, interpolated
// linearly in ln µ: about an SAE 50. The other properties as [EngineOil]. Range
// and evaluation span are the table's, −0.15…116.85 °C.
func OilTableA5() *Liquid {
	n := len(oilTable)
	l := plainOil("engine oil, table A.5", oilTable[0].kelvin-zeroCelsius, oilTable[n-1].kelvin-zeroCelsius)
	l.viscosity = viscosity{law: tableLaw, t: make([]float64, n), lnMu: make([]float64, n)}
	for i, row := range oilTable {
		l.viscosity.t[i] = row.kelvin - zeroCelsius
		l.viscosity.lnMu[i] = math.Log(row.mu)
	}
	return l
}

// plainOil returns an oil without viscosity, for low…high [°C].
func plainOil(name string, low, high float64) *Liquid {
	return &Liquid{
		name: name,
		low:  low, high: high,
		coldest: low, hottest: high,
		density:      series{899.56, -0.5934},
		capacity:     series{1795.6, 4.233},
		conductivity: series{0.14679, -1.015e-4},
	}
}
