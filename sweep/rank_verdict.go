package sweep

import "math"

// Verdict names the changes that stand out, each by its number in
// Ranked.Changes, or -1 when none does.
type Verdict struct {
	Best      int    // by the gain of the lesser margin of both circuits
	BestBuilt int    // of those that change what is built
	BestOn    [2]int // on Coolant and on Oil
	PerWeight int    // of those that gain: most for the weight they add,
	PerCost   int    // the cost,
	PerHour   int    // the hours of work,
	PerDrag   int    // and the cooling-drag power they add
}

// Verdict compares the changes.
func (r *Ranked) Verdict() Verdict {
	return Verdict{
		Best:      r.first((*Single).gains),
		BestBuilt: r.first(func(s *Single) bool { return s.gains() && !FliesOnly(s.Change) }),
		BestOn:    [2]int{bestOn(r.Changes, Coolant), bestOn(r.Changes, Oil)},
		PerWeight: r.most(func(s *Single) float64 { return Per(s.LeastGain, s.Weight) }),
		PerCost:   r.most(func(s *Single) float64 { return Per(s.LeastGain, s.Cost) }),
		PerHour:   r.most(func(s *Single) float64 { return Per(s.LeastGain, s.Hours) }),
		PerDrag:   r.most(func(s *Single) float64 { return s.PerDragPower() }),
	}
}

// most is the change that gains and has the greatest value; of equal ones the
// first.
func (r *Ranked) most(value func(*Single) float64) int {
	best := -1
	for i := range r.Changes {
		s := &r.Changes[i]
		if !s.gains() {
			continue
		}
		if v := value(s); !math.IsNaN(v) && (best < 0 || v > value(&r.Changes[best])) {
			best = i
		}
	}
	return best
}

// gains says that a change raises the lesser margin of both circuits.
func (s *Single) gains() bool { return s.whole() && s.LeastGain > tie }

// first is the first change of some kind, and so the best of it.
func (r *Ranked) first(kind func(*Single) bool) int {
	for i := range r.Changes {
		if kind(&r.Changes[i]) {
			return i
		}
	}
	return -1
}

// BestPair is the pair that leaves the greatest lesser margin, -1 when there is
// none.
func (r *Ranked) BestPair() int {
	best := -1
	for i := range r.Pairs {
		p := &r.Pairs[i]
		if p.whole() && (best < 0 || p.Least() > r.Pairs[best].Least()) {
			best = i
		}
	}
	return best
}
