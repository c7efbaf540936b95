package calibrate

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"hotclimb/scenarios"
)

// Text is the value found and the doubt that is left, as a scenario file takes
// them: the doubt to four digits, the value as far as that.
func (n *SharpNumber) Text() string { return n.text(n.After, n.Left) }

// TextBefore is the same of before the records.
func (n *SharpNumber) TextBefore() string { return n.text(n.Before, n.Doubt) }

// In is a value in the unit that the scenario writes the number in.
func (n *SharpNumber) In(value float64) float64 {
	v, err := scenarios.Convert(value, n.Unit, n.Param.Dimension)
	if err != nil {
		return value // a unit that it was read in
	}
	return v
}

// DoubtIn is a doubt in that unit.
func (n *SharpNumber) DoubtIn(value, doubt float64) float64 {
	return math.Abs(n.In(value+doubt) - n.In(value))
}

func (n *SharpNumber) text(value, doubt float64) string {
	x, s := n.In(value), n.DoubtIn(value, doubt)
	places := 3
	if s > 0 {
		places = 3 - int(math.Floor(math.Log10(s)))
	}
	unit := ""
	if n.Unit != "" {
		unit = " " + n.Unit
	}
	return fmt.Sprintf("%s%s ± %s%s", rounded(x, places), unit, rounded(s, places), unit)
}

// rounded is a number to so many places, which may be negative.
func rounded(x float64, places int) string {
	if places < 0 {
		p := math.Pow(10, float64(-places))
		x, places = math.Round(x/p)*p, 0
	}
	return strconv.FormatFloat(x, 'f', places, 64)
}

// correlationDigits are the decimals that correlations are kept with: numbers
// that go together nearly altogether need more than three to stay apart.
const correlationDigits = 6

// Correlations are those of the numbers after the records, under the names that a
// scenario has for their pairs, or new ones. Those that round to 0 are left out,
// unless they replace one.
func (c *Calibrated) Correlations(sc *scenarios.Scenario) []*scenarios.Correlation {
	names, taken := map[[2]string]string{}, map[string]bool{}
	for _, r := range sc.Correlations {
		names[pairOf(r.Of, r.With)] = r.Name
		taken[r.Name] = true
	}
	next := 0
	fresh := func() string {
		for {
			next++
			if name := "fitted_" + strconv.Itoa(next); !taken[name] {
				return name
			}
		}
	}
	var list []*scenarios.Correlation
	for k := range c.Numbers {
		for j := range k {
			of, with := c.Numbers[j].Param.Path, c.Numbers[k].Param.Path
			scale := math.Pow10(correlationDigits)
			rho := math.Round(c.Correlation.At(j, k)*scale) / scale
			name := names[pairOf(of, with)]
			if rho == 0 && name == "" {
				continue
			}
			if name == "" {
				name = fresh()
			}
			r := &scenarios.Correlation{Name: name, Of: of, With: with}
			r.Value.Number = scenarios.Number{Value: rho, Known: true, Written: true}
			list = append(list, r)
		}
	}
	return list
}

func pairOf(a, b string) [2]string { return [2]string{min(a, b), max(a, b)} }

// Posterior is an effective scenario, of a case or as it was flown, with the
// numbers found, the doubts that are left and their correlations. A number that
// the scenario itself has otherwise than it was before the records stays.
func (c *Calibrated) Posterior(sc *scenarios.Scenario) (*scenarios.Scenario, error) {
	return sc.Edit(func(s *scenarios.Scenario) error {
		for i := range c.Numbers {
			n := &c.Numbers[i]
			if own, ok := n.Param.Get(s); !ok || own.Value != n.Before {
				continue
			}
			if err := n.Param.SetText(s, n.Text()); err != nil {
				return err
			}
		}
		s.Correlations = slices.Clone(s.Correlations) // copies of a scenario share them
		for _, r := range c.Correlations(sc) {
			at := slices.IndexFunc(s.Correlations, func(o *scenarios.Correlation) bool { return o.Name == r.Name })
			if at < 0 {
				s.Correlations = append(s.Correlations, r)
			} else {
				s.Correlations[at] = r
			}
		}
		return nil
	})
}
