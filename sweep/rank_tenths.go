package sweep

import (
	"cmp"
	"math"
	"slices"

	"hotclimb/scenarios"
)

// Tenth is a number that a builder makes, moved by a tenth up and down in every
// case that has it, each time from its value there. One that counts pieces
// moves by a whole piece at least.
type Tenth struct {
	Param    scenarios.Param
	From     float64 // its value in the first case that has it [SI]
	Step     float64 // by which it is moved there [SI]
	Unit     string  // of the value in the file, or else that of display
	Up, Down Effect
}

const tenth = 0.1

// tenthStep is by how much a number is moved.
func tenthStep(p scenarios.Param, value float64) float64 {
	if p.Whole {
		return math.Max(1, math.Round(tenth*value))
	}
	return tenth * math.Abs(value)
}

// numbers are the numbers that a builder makes, given and not zero in some
// case, in the order of the sections.
func (k *ranker) numbers() []scenarios.Param {
	if !k.Tenths {
		return nil
	}
	var list []scenarios.Param
	known := map[string]bool{}
	for _, c := range k.Cases {
		for _, path := range c.Scenario.Paths() {
			if known[path] {
				continue
			}
			p, err := c.Scenario.Compile(path)
			if err != nil || p.Made == "" {
				continue
			}
			if n, ok := p.Get(c.Scenario); ok && n.Value != 0 {
				known[path] = true
				list = append(list, p)
			}
		}
	}
	return list
}

// tenthTrial is a number on trial.
type tenthTrial struct {
	Tenth
	up, down *variant
}

// tenths are the numbers on trial.
func (k *ranker) tenths() []tenthTrial {
	var list []tenthTrial
	for _, p := range k.numbers() {
		t := tenthTrial{Tenth{Param: p}, k.moved(p, 1), k.moved(p, -1)}
		for _, c := range k.Cases {
			if n, ok := p.Get(c.Scenario); ok {
				t.From, t.Step, t.Unit = n.Value, tenthStep(p, n.Value), cmp.Or(n.Unit, p.Unit)
				break
			}
		}
		list = append(list, t)
	}
	return list
}

// moved is a number moved by a tenth in every case, up or down.
func (k *ranker) moved(p scenarios.Param, sign float64) *variant {
	return &variant{in: func(i int) (*scenarios.Scenario, error) {
		sc := k.Cases[i].Scenario
		n, ok := p.Get(sc)
		if !ok || n.Value == 0 {
			return nil, nil
		}
		return sc.Edit(func(c *scenarios.Scenario) error {
			return p.Set(c, n.Value+sign*tenthStep(p, n.Value))
		})
	}}
}

func variantsOf(trials []tenthTrial) []*variant {
	var list []*variant
	for _, t := range trials {
		list = append(list, t.up, t.down)
	}
	return list
}

// tenthEffects compares the numbers moved with the cases as they are; the one
// that gains most comes first.
func (k *ranker) tenthEffects(trials []tenthTrial) []Tenth {
	var list []Tenth
	for _, t := range trials {
		t.Up, t.Down = k.effect(t.up), k.effect(t.down)
		list = append(list, t.Tenth)
	}
	slices.SortStableFunc(list, func(a, b Tenth) int { return cmp.Compare(b.most(), a.most()) })
	return list
}

// most is the greater gain of the lesser margin of both ways [K].
func (t *Tenth) most() float64 {
	most := math.Inf(-1)
	for _, e := range []*Effect{&t.Up, &t.Down} {
		if e.Err == nil {
			most = math.Max(most, e.LeastGain)
		}
	}
	return most
}
