package bench

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"hotclimb/plots"
	"hotclimb/scenarios"
)

// Groups of sliders.
const (
	groupOpenings = "openings"
	groupSpray    = "spray"
	groupAir      = "air"
	groupClimb    = "climb"
)

// Slider is a control of one number. What is typed beside it may lie beyond its
// ends, within the range of the path.
type Slider struct {
	ID    string // fit for HTML, its own among all
	Path  string
	Label string
	Group string // openings, spray, air or climb

	OfCase bool   // its path counts for one case
	Case   string // that case; "" when it counts for all

	Unit           string  // of its values, as in files: in^2; "" for a pure number
	UnitShown      string  // the same in print: in²
	Min, Max, Step float64 // in the unit
	Value          float64 // as filed, in the first case that has it
	Text           string  // the same with its unit, in print

	param scenarios.Param
	cases []string // that have it
}

// control is where a slider stands.
type control struct {
	Path  string  `json:"path"`
	Value float64 `json:"value"` // in the unit of the slider
	Text  string  `json:"text"`
}

// wish is a slider that would be good to have: a path, its words, and its ends if
// the file names none [SI].
type wish struct {
	path, label, group string
	at, lo, hi         float64 // at is where it stands while the path has no value
	unit               string  // while the file gives none; "" for that of display
}

// slidersOf are the sliders of a scenario: the openings and the spray of all cases,
// then the air and the climb of each.
func slidersOf(sc *scenarios.Scenario, cases []readyCase) []Slider {
	var list []Slider
	for i, k := range cases {
		for _, w := range slices.Concat(openings(k), spray(k), air(k), climb(k)) {
			own := w.group == groupAir || w.group == groupClimb
			have := slices.IndexFunc(list, func(s Slider) bool { return s.Path == w.path && !s.OfCase })
			switch {
			case own:
				if s, ok := slider(sc, k, w); ok {
					s.OfCase = true
					if len(sc.Cases) > 0 {
						s.Case = k.Name
					}
					s.ID = idOf(i, s.Path)
					list = append(list, s)
				}
			case have >= 0:
				list[have].cases = append(list[have].cases, k.Name)
			default:
				if s, ok := slider(sc, k, w); ok {
					s.ID = idOf(-1, s.Path)
					list = append(list, s)
				}
			}
		}
	}
	order := []string{groupOpenings, groupSpray, groupAir, groupClimb}
	slices.SortStableFunc(list, func(a, b Slider) int {
		return cmp.Compare(slices.Index(order, a.Group), slices.Index(order, b.Group))
	})
	return list
}

// idOf is the name of a slider in HTML; n is the number of its case, -1 for all.
func idOf(n int, path string) string {
	id := "set-" + strings.ReplaceAll(path, ".", "-")
	if n > 0 {
		id += "-" + strconv.Itoa(n)
	}
	return id
}

// slider makes a wish come true, where the path can be set and moves.
func slider(sc *scenarios.Scenario, k readyCase, w wish) (Slider, bool) {
	p, err := k.Scenario.Compile(w.path)
	if err != nil || !p.IsNumber() {
		return Slider{}, false
	}
	if w.unit != "" {
		p.Unit = w.unit
	}
	if n, ok := p.Get(k.Scenario); ok && n.Written {
		p.Unit = n.Unit
	}
	s := Slider{
		Path: w.path, Label: w.label, Group: w.group, param: p, cases: []string{k.Name},
		Unit: p.Unit, UnitShown: plots.Pretty(p.Unit),
	}
	lo, hi := w.lo, w.hi
	if v, ok := varied(sc, p); ok && v.Lo <= w.at && w.at <= v.Hi {
		lo, hi = v.Lo, v.Hi
	}
	lo, hi = math.Max(lo, p.Lo), math.Min(hi, p.Hi)
	if lo >= hi {
		return Slider{}, false
	}
	s.ends(lo, hi)
	c := s.at(k, w.at)
	s.Value, s.Text = c.Value, c.Text
	return s, true
}

// varied is the range of a path in the section size, or in the section sweep.
func varied(sc *scenarios.Scenario, p scenarios.Param) (scenarios.VaryRange, bool) {
	var texts []string
	if sc.Size != nil {
		texts = append(texts, sc.Size.Vary[p.Path])
	}
	if sc.Sweep != nil {
		texts = append(texts, sc.Sweep.Vary[p.Path])
	}
	for _, text := range texts {
		if v, err := scenarios.ParseVary(text, p); text != "" && err == nil && v.Lo < v.Hi {
			return v, true
		}
	}
	return scenarios.VaryRange{}, false
}

// mostSteps is how many steps a slider has at the least from end to end; at most
// it has some two and a half times as many.
const mostSteps = 100

// ends sets the ends [SI], moved outwards to whole steps where the range of the
// path has room.
func (s *Slider) ends(lo, hi float64) {
	a, b := s.show(lo), s.show(hi)
	decade := math.Pow(10, math.Floor(math.Log10((b-a)/mostSteps)))
	s.Step = decade
	for _, n := range []float64{2, 5} {
		if (b-a)/(n*decade) >= mostSteps {
			s.Step = n * decade
		}
	}
	s.Min, s.Max = s.whole(math.Floor(a/s.Step+slip)), s.whole(math.Ceil(b/s.Step-slip))
	if s.Min < s.show(s.param.Lo)-slip*s.Step {
		s.Min = s.whole(math.Ceil(a/s.Step - slip))
	}
	if s.Max > s.show(s.param.Hi)+slip*s.Step {
		s.Max = s.whole(math.Floor(b/s.Step + slip))
	}
}

// slip is by how many steps rounding may move an end.
const slip = 1e-6

// whole is n steps, without the dust of rounding.
func (s *Slider) whole(n float64) float64 {
	return tidy(n * s.Step)
}

// tidy rounds to ten digits.
func tidy(x float64) float64 {
	if x == 0 {
		return 0
	}
	scale := math.Pow(10, 9-math.Floor(math.Log10(math.Abs(x))))
	return math.Round(x*scale) / scale
}

// show is a value [SI] in the unit of the slider.
func (s *Slider) show(x float64) float64 {
	v, err := scenarios.Convert(x, s.Unit, s.param.Dimension)
	if err != nil {
		return x
	}
	return v
}

// at is where the slider stands in a case; without a value of its path, where the
// case puts it itself.
func (s *Slider) at(k readyCase, without float64) control {
	n, ok := s.param.Get(k.Scenario)
	if !ok {
		n = scenarios.Number{Value: without}
	}
	unit := n.Unit
	if !n.Written {
		unit = s.Unit
	}
	text := plots.Pretty(scenarios.Format(n.Value, unit, s.param.Dimension))
	return control{s.Path, tidy(s.show(n.Value)), text}
}

// slidersAt are all sliders, those of a case where they stand in it.
func (s *server) slidersAt(k readyCase) []Slider {
	list := slices.Clone(s.sliders)
	for _, c := range s.controls(k) {
		for i := range list {
			if one := &list[i]; one.Path == c.Path && slices.Contains(one.cases, k.Name) {
				one.Value, one.Text = c.Value, c.Text
			}
		}
	}
	return list
}

// controls are where all sliders of a case stand.
func (s *server) controls(k readyCase) []control {
	list := []control{}
	stands := map[string]float64{}
	for _, w := range slices.Concat(openings(k), spray(k), air(k), climb(k)) {
		stands[w.path] = w.at
	}
	for i := range s.sliders {
		one := &s.sliders[i]
		if slices.Contains(one.cases, k.Name) {
			list = append(list, one.at(k, stands[one.Path]))
		}
	}
	return list
}
