package scenarios

import (
	"slices"
)

// slips tells the likely reason of faults in a section that only an overlay has:
// it means to change a section of the files before and misspells its name.
func (r *reader) slips() Faults {
	var faults Faults
	for _, path := range sortedKeys(r.first) {
		section := parent(path)
		if r.first[path] == 0 || !holdsNames(section) || !r.faulty(path) {
			continue
		}
		if near := nearest(path[len(section)+1:], r.namesBefore(section, r.first[path])); near != "" {
			faults = append(faults, r.where.fault(path, "is new here: the files before have none of that name", "did you mean "+near+"?"))
		}
	}
	return faults
}

// holdsNames says that a section holds sections by name that an overlay may mean to
// change.
func holdsNames(section string) bool {
	f, ok := root().byKey[section]
	return ok && !f.fixed && (f.shape == shapeNamed || f.shape == shapeItems) || section == "flight.legs"
}

// faulty says that there is a fault in a section.
func (r *reader) faulty(section string) bool {
	return slices.ContainsFunc(r.faults, func(f Fault) bool { return inside(f.Path, section) })
}

// namesBefore are the names in a section in the files before one.
func (r *reader) namesBefore(section string, rank int) []string {
	var names []string
	for path, first := range r.first {
		if parent(path) == section && first < rank {
			names = append(names, path[len(section)+1:])
		}
	}
	slices.Sort(names)
	return names
}
