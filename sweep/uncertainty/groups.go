package uncertainty

import (
	"fmt"
	"strings"
)

// grouped are the groups of a study, complete, with a name each. tied are its
// inputs by what goes together.
func (s *Study) grouped(tied [][]int) ([]Group, error) {
	if s.Groups == nil {
		groups := make([]Group, len(tied))
		for i, inputs := range tied {
			groups[i] = Group{s.names(inputs), inputs}
		}
		return groups, nil
	}
	groups, of, err := s.named()
	if err != nil {
		return nil, err
	}
	for _, inputs := range tied {
		for _, k := range inputs[1:] {
			if of[k] != of[inputs[0]] {
				return nil, fmt.Errorf("%s stand in different groups, but are correlated: put them into one", s.names([]int{inputs[0], k}))
			}
		}
	}
	return groups, nil
}

// named are the groups that are given, and one more of the inputs in none of
// them; of is the place of the group of each input.
func (s *Study) named() (groups []Group, of []int, err error) {
	of = make([]int, len(s.Inputs))
	for g, group := range s.Groups {
		if len(group.Inputs) == 0 {
			return nil, nil, fmt.Errorf("group %q has no inputs", group.Name)
		}
		for _, k := range group.Inputs {
			if k < 0 || k >= len(of) {
				return nil, nil, fmt.Errorf("group %q: there is no input %d", group.Name, k)
			}
			if of[k] != 0 {
				return nil, nil, fmt.Errorf("%s stands in two groups: keep it in one", s.Inputs[k].Name)
			}
			of[k] = g + 1 // 0 is that of all others
		}
		if group.Name == "" {
			group.Name = s.names(group.Inputs)
		}
		groups = append(groups, group)
	}
	var rest []int
	for k, g := range of {
		if g == 0 {
			rest = append(rest, k)
		}
	}
	if rest != nil {
		groups = append(groups, Group{AllOthers, rest})
	}
	return groups, of, nil
}

// names are those of some inputs.
func (s *Study) names(inputs []int) string {
	list := make([]string, len(inputs))
	for i, k := range inputs {
		list[i] = s.Inputs[k].Name
	}
	last := len(list) - 1
	if last == 0 {
		return list[0]
	}
	return strings.Join(list[:last], ", ") + " and " + list[last]
}
