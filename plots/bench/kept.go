package bench

import (
	"slices"
	"sync"
)

// kept holds the values asked for most recently, by their keys. Several
// goroutines may use it at once.
type kept[V any] struct {
	most int

	mu     sync.Mutex
	values map[string]V
	order  []string // of keys, the one asked for last at the end
}

func newKept[V any](most int) *kept[V] {
	return &kept[V]{most: most, values: map[string]V{}}
}

// find returns the value of a key.
func (k *kept[V]) find(key string) (V, bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	v, ok := k.values[key]
	if ok {
		k.touch(key)
	}
	return v, ok
}

// keep holds a value, and drops the one asked for longest ago when there are too
// many.
func (k *kept[V]) keep(key string, v V) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.values[key] = v
	k.touch(key)
	if len(k.order) > k.most {
		delete(k.values, k.order[0])
		k.order = slices.Delete(k.order, 0, 1)
	}
}

// touch puts a key at the end of the order.
func (k *kept[V]) touch(key string) {
	if i := slices.Index(k.order, key); i >= 0 {
		k.order = slices.Delete(k.order, i, i+1)
	}
	k.order = append(k.order, key)
}
