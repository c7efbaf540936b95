package bench

import (
	"slices"
	"strings"

	"hotclimb/scenarios"
)

// command is what flies a case of a state in a terminal.
func (s *server) command(st *state, k readyCase) string {
	list := append([]string{"hotclimb", "run", s.File}, s.flags(k)...)
	if len(s.Scenario.Cases) > 0 {
		list = append(list, "--case", k.Name)
	}
	for _, one := range st.settings {
		text := one.Path + "=" + one.Text
		if k.holds(one.CaseSetting) && !slices.Contains(list, text) {
			list = append(list, "--set", text)
		}
	}
	for i := range list {
		list[i] = quoted(list[i])
	}
	return strings.Join(list, " ")
}

// flags are those of the bench without the settings that edits have overruled in a
// case, or that have no place there.
func (s *server) flags(k readyCase) []string {
	var list []string
	for i := 0; i < len(s.Flags); i++ {
		if s.Flags[i] == "--set" && i+1 < len(s.Flags) {
			i++
			one, err := scenarios.ParseSetting(s.Flags[i])
			if err != nil || !k.holds(scenarios.CaseSetting{Setting: one}) {
				continue
			}
			list = append(list, "--set")
		}
		list = append(list, s.Flags[i])
	}
	return list
}

// holds says that a setting has its way in a case: neither is it one of another
// case, nor does a later one set or exclude what it sets.
func (k *readyCase) holds(one scenarios.CaseSetting) bool {
	if strings.HasPrefix(one.Path, "cases.") {
		return true
	}
	if one.Case != "" && one.Case != k.Name {
		return false
	}
	p, err := k.Scenario.Compile(one.Path)
	if err != nil {
		return false
	}
	if !p.IsNumber() {
		return p.Text(k.Scenario) == one.Text
	}
	n, _ := p.Get(k.Scenario)
	return n.Written && n.Text == one.Text
}

// quoted is a word as a shell reads it: in double quotes, which most shells know,
// where that is enough.
func quoted(word string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("._-/=,:+@", r)
	}
	switch {
	case word != "" && strings.IndexFunc(word, func(r rune) bool { return !plain(r) }) < 0:
		return word
	case !strings.ContainsAny(word, "\"$`\\!\n"):
		return `"` + word + `"`
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}
