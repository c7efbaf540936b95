package plots

import (
	"hotclimb/sim"
)

// Cowl draws where the air of a cowl goes and where the heat goes at the moment
// of the least margin: from the left, air through inlets, cores and compartments
// to the exits, as bands that are as wide as their flow and as warm in colour as
// their air; from above, heat of the engine into cores and cowl. Every opening
// and core tells its flow, every place its pressure above the outside air and
// its temperature. Air that goes backwards is told and marked. More than two cores
// one behind the other may make the figure wider than a page, and so its texts
// smaller in print.
//
// A result without the air of the cowl, one of another plant, and numbers that
// are not finite are errors that say which.
func Cowl(plant *sim.Plant, res *sim.Result, u Units, c Caption) (*Figure, error) {
	if err := u.known(); err != nil {
		return nil, err
	}
	if err := checkCowl(plant, res); err != nil {
		return nil, err
	}
	a := newCowling(plant, res, u)
	l := a.layOut()
	s := &sheet{
		heading: c.heading("Where the air and the heat go"), caption: c, key: a.key(),
		intro: a.intro(), width: l.width, height: l.height(), body: l.draw, data: a.tables(),
	}
	return s.figure(a.describe()), nil
}

// cowling is the air and the heat of a cowl at one moment.
type cowling struct {
	plant     *sim.Plant
	res       *sim.Result
	units     Units
	exchanger []int // number of the exchanger in each branch; noCore for none
}

const noCore = -1

func newCowling(plant *sim.Plant, res *sim.Result, u Units) *cowling {
	a := &cowling{plant, res, u, make([]int, len(plant.Air.Branches))}
	for i := range a.exchanger {
		a.exchanger[i] = noCore
	}
	for i, e := range plant.Exchangers {
		if e.Branch != sim.NoBranch {
			a.exchanger[e.Branch] = i
		}
	}
	return a
}

func (a *cowling) branch(i int) *sim.BranchState { return &a.res.Air.Branches[i] }

func (a *cowling) place(j int) *sim.PlaceState { return &a.res.Air.Places[j] }

// still is a flow that counts as none [kg/s]: it prints as 0 in any unit.
const still = 1e-5

// backwards says whether the air of a branch goes against its usual direction.
func (a *cowling) backwards(i int) bool { return a.branch(i).Flow < -still }
