package scenarios

import (
	"cmp"
	"slices"

	"github.com/go-viper/mapstructure/v2"
	"github.com/spf13/viper"
)

// How files are merged: sections merge key by key, and so do the items of a
// list that have the same name; items with new names come behind the others.
// Lists of words are replaced. Where a key excludes others, as area excludes
// diameter, the last file that gives one of them wins. An overlay cannot
// remove a key.

// yield drops from an earlier file the keys that a later one excludes.
func (fs *fields) yield(earlier, later tree) {
	for _, f := range fs.list {
		if later[f.key] == nil {
			continue
		}
		for _, rival := range f.rivals {
			delete(earlier, rival.key)
		}
		old, _ := earlier[f.key].(tree)
		overlay, _ := later[f.key].(tree)
		switch f.shape {
		case shapeSection:
			f.sub.yield(old, overlay)
		case shapeNamed, shapeItems:
			for name := range overlay {
				below, _ := old[name].(tree)
				above, _ := overlay[name].(tree)
				f.sub.yield(below, above)
			}
		}
	}
}

// merge merges the files, base first, into a scenario. viper does it; it never
// splits a key, for paths among the settings have dots.
func merge(files []tree, order map[string]int) (*Scenario, error) {
	served := servedIn(files[0])
	v := viper.NewWithOptions(viper.KeyDelimiter("\x1f"))
	for i, file := range files {
		for _, later := range files[i+1:] {
			root().yield(file, later)
		}
	}
	for _, file := range files {
		if err := v.MergeConfigMap(file); err != nil {
			return nil, err
		}
	}
	merged := tree{}
	for _, f := range root().list {
		// key by key: viper's AllSettings would lose sections that are empty
		if value := v.Get(f.key); value != nil {
			merged[f.key] = f.listed(value, f.key, order)
		}
	}
	sc := &Scenario{}
	if err := decode(merged, sc); err != nil {
		return nil, err
	}
	sc.served = served
	sc.exchangerOrder = inOrder(sc.Exchangers, "exchangers", order)
	return sc, nil
}

// servedIn returns what each exchanger of a file serves.
func servedIn(file tree) map[string]string {
	served := map[string]string{}
	exchangers, _ := file["exchangers"].(tree)
	for name, x := range exchangers {
		if x, ok := x.(tree); ok {
			served[name], _ = x["serves"].(string)
		}
	}
	return served
}

// decode fills a scenario from a merged tree, strictly.
func decode(merged tree, sc *Scenario) error {
	d, err := mapstructure.NewDecoder(&mapstructure.DecoderConfig{
		DecodeHook:  decodeHook(),
		ErrorUnused: true,
		Result:      sc,
	})
	if err != nil {
		return err
	}
	return d.Decode(merged)
}

// listed turns every list of named items, kept by name so far, into a list.
func (f *field) listed(value any, path string, order map[string]int) any {
	t, ok := value.(tree)
	if !ok || f.sub == nil {
		return value
	}
	if f.shape == shapeSection {
		return f.sub.listed(t, path, order)
	}
	for name, sub := range t {
		if sub, ok := sub.(tree); ok {
			t[name] = f.sub.listed(sub, join(path, name), order)
		}
	}
	if f.shape == shapeNamed {
		return t
	}
	list := make([]any, 0, len(t))
	for _, name := range inOrder(t, path, order) {
		list = append(list, t[name])
	}
	return list
}

func (fs *fields) listed(t tree, path string, order map[string]int) tree {
	for _, f := range fs.list {
		if value := t[f.key]; value != nil {
			t[f.key] = f.listed(value, join(path, f.key), order)
		}
	}
	return t
}

// inOrder are the names in a section, in the order they were first met.
func inOrder[T any](t map[string]T, path string, order map[string]int) []string {
	names := make([]string, 0, len(t))
	for name := range t {
		names = append(names, name)
	}
	slices.SortFunc(names, func(a, b string) int {
		return cmp.Compare(order[join(path, a)], order[join(path, b)])
	})
	return names
}
