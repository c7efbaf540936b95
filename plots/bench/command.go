package bench

import (
	"strings"

	"hotclimb/scenarios"
)

// command is what flies a case of a state in a terminal.
func (s *server) command(st *state, name string) string {
	list := append([]string{"hotclimb", "run", s.File}, s.Flags...)
	if len(st.scenario.Cases) > 0 {
		list = append(list, "--case", name)
	}
	for _, one := range st.settings {
		if st.counts(one.CaseSetting, name) {
			list = append(list, "--set", one.Path+"="+one.Text)
		}
	}
	for i := range list {
		list[i] = quoted(list[i])
	}
	return strings.Join(list, " ")
}

// counts says that a setting has a say in a case: its path exists there, and none
// of that case alone overrules it.
func (st *state) counts(one scenarios.CaseSetting, name string) bool {
	if one.Case != "" && one.Case != name {
		return false
	}
	if strings.HasPrefix(one.Path, "cases.") || len(st.scenario.Cases) == 0 {
		return true
	}
	for _, k := range st.scenario.Cases {
		if k.Name == name {
			text, ok := k.Set[one.Path]
			return ok && text == one.Text
		}
	}
	return false
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
