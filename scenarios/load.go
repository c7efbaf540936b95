package scenarios

// Load reads a scenario and the overlays on top of it, base first. The error
// is a Faults that lists everything wrong with them, in the order of the files.
func Load(files ...Source) (*Scenario, error) {
	if len(files) == 0 {
		return nil, Faults{{Message: "no scenario file given"}}
	}
	r := &reader{where: positions{}, order: map[string]int{}, first: map[string]int{}, bad: badPaths{}}
	r.where[""] = position{files[0].Name, 0, 1, 1}
	trees, whole := r.read(files)
	if !whole {
		return nil, r.faults.err()
	}
	sc, err := merge(trees, r.order)
	if err != nil {
		r.tell(1, 1, "", err.Error(), "")
		return nil, r.faults.err()
	}
	sc.where, sc.embedded = r.where, files[0].embedded
	sc.Refill()
	r.faults = append(r.faults, sc.check(r.bad)...)
	r.faults = append(r.faults, sc.checkStudies(r.bad)...)
	r.faults = append(r.slips(), r.faults...) // before those that follow from them
	if err := r.faults.err(); err != nil {
		return nil, err
	}
	return sc, nil
}

// read reads every file; it is not whole when one of them is no YAML at all.
func (r *reader) read(files []Source) (trees []tree, whole bool) {
	whole = true
	for i, file := range files {
		r.file, r.rank = file.Name, i
		node := r.parseDocument(file.Text)
		if node == nil {
			whole = false
			continue
		}
		trees = append(trees, r.section(node, root(), ""))
	}
	return trees, whole
}
