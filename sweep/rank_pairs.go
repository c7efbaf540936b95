package sweep

import (
	"fmt"
	"math"
	"slices"

	"hotclimb/scenarios"
)

// Pair is two changes at once.
type Pair struct {
	First, Second int // of Ranked.Changes
	Price
	Effect

	// Of Coolant and Oil, each in the case that is its worst as it is, so that a
	// case that becomes the worst does not look like an influence of one change
	// on the other:
	Sum      [2]float64  // of the gains of both alone [K]
	Joint    [2]float64  // gain of both together [K]
	Together [2]Together // how that stands to the sum
}

// Together says what two changes do to each other.
type Together int

// What two changes do to each other.
const (
	AddUp Together = iota // the pair gains the sum
	Help                  // it gains more
	Fight                 // it gains less
)

func (t Together) String() string { return [...]string{"add up", "help", "fight"}[t] }

// A pair is told from the sum beyond a tenth of that sum, and beyond 0.2 K, of
// which the doubt of three peaks of 0.01 K each is a small part (engineering
// judgement).
const (
	togetherShare = 0.10
	togetherLeast = 0.2 // K
)

// together compares the gain of a pair with those of its parts [K].
func together(a, b, pair float64) Together {
	sum := a + b
	threshold := math.Max(togetherLeast, togetherShare*math.Abs(sum))
	switch more := pair - sum; {
	case more > threshold:
		return Help
	case more < -threshold:
		return Fight
	}
	return AddUp
}

// pairing is a pair to be flown.
type pairing struct {
	first, second int
	*variant
}

// pairs are all pairs of the changes worth pairing.
func (k *ranker) pairs(ranked []Single) []pairing {
	var list []pairing
	best := worthPairing(ranked, k.Pairs)
	for n, a := range best {
		for _, b := range best[n+1:] {
			first, second := ranked[a].Change, ranked[b].Change
			v := &variant{in: func(i int) (*scenarios.Scenario, error) {
				return withChanges(k.Cases[i].Scenario, first, second)
			}}
			if path := contested(first, second); path != "" {
				v.never = fmt.Errorf("both set %s", path)
			}
			list = append(list, pairing{a, b, v})
		}
	}
	return list
}

// worthPairing are up to n changes, in their order: the best on coolant, the
// best on oil, and then the best by the lesser margin. What helps one circuit
// alone is what another change may complete.
func worthPairing(ranked []Single, n int) []int {
	var flown, chosen []int
	for i := range ranked {
		if ranked[i].whole() && ranked[i].Applied {
			flown = append(flown, i)
		}
	}
	if n < 2 || len(flown) < 2 {
		return nil
	}
	for _, i := range append([]int{bestOn(ranked, Coolant), bestOn(ranked, Oil)}, flown...) {
		if i >= 0 && len(chosen) < n && !slices.Contains(chosen, i) {
			chosen = append(chosen, i)
		}
	}
	slices.Sort(chosen)
	return chosen
}

// bestOn is the change that gains most on a circuit, -1 when none gains.
func bestOn(ranked []Single, circuit int) int {
	best, most := -1, tie
	for i := range ranked {
		if s := &ranked[i]; s.whole() && s.Gain[circuit] > most {
			best, most = i, s.Gain[circuit]
		}
	}
	return best
}

// contested is a path that two changes set differently, "" for none.
func contested(a, b *scenarios.Change) string {
	for _, s := range scenarios.Settings(a.Set) {
		if text, ok := b.Set[s.Path]; ok && text != s.Text {
			return s.Path
		}
	}
	return ""
}

// gainIn is the gain on a circuit in the case that is its worst as it is [K].
func (k *ranker) gainIn(e *Effect, circuit int) float64 {
	return e.Flown[k.base.Case[circuit]].Circuits[circuit].Margin - k.base.Margin[circuit]
}

// pairEffects compares pairs with their parts.
func (k *ranker) pairEffects(pairs []pairing, ranked []Single) []Pair {
	list := make([]Pair, len(pairs))
	for i, p := range pairs {
		a, b := &ranked[p.first], &ranked[p.second]
		q := Pair{First: p.first, Second: p.second, Price: a.Price.plus(b.Price), Effect: k.effect(p.variant)}
		if q.Err == nil {
			for c := range q.Sum {
				first, second := k.gainIn(&a.Effect, c), k.gainIn(&b.Effect, c)
				q.Sum[c], q.Joint[c] = first+second, k.gainIn(&q.Effect, c)
				q.Together[c] = together(first, second, q.Joint[c])
			}
		}
		list[i] = q
	}
	return list
}
