package plots

import (
	"errors"
	"fmt"

	"hotclimb/sim"
)

// checkCowl returns what keeps the air of a cowl from being drawn.
func checkCowl(plant *sim.Plant, res *sim.Result) error {
	switch {
	case plant == nil:
		return errors.New("no plant to draw")
	case res == nil:
		return errors.New("no result to draw")
	case len(plant.Air.Places) == 0 || len(plant.Air.Branches) == 0:
		return errors.New("the plant has no air to draw")
	case len(res.Air.Places) == 0 && len(res.Air.Branches) == 0:
		return errors.New("the result does not hold the air of the cowl")
	}
	if err := plant.Air.Check(); err != nil {
		return err
	}
	for _, k := range []struct {
		what      string
		got, want int
	}{
		{"places", len(res.Air.Places), len(plant.Air.Places)},
		{"branches", len(res.Air.Branches), len(plant.Air.Branches)},
		{"exchangers", len(res.Exchangers), len(plant.Exchangers)},
	} {
		if k.got != k.want {
			return fmt.Errorf("the result has %d %s, the plant %d", k.got, k.what, k.want)
		}
	}
	if err := checkCowlWays(plant, res); err != nil {
		return err
	}
	return checkCowlNumbers(plant, res)
}

// checkCowlWays returns what in the result leads elsewhere than in the plant.
func checkCowlWays(plant *sim.Plant, res *sim.Result) error {
	for i, b := range plant.Air.Branches {
		if got := res.Air.Branches[i]; got.From != b.From || got.To != b.To {
			return fmt.Errorf("branch %s goes from %d to %d in the result, from %d to %d in the plant", b.Name, got.From, got.To, b.From, b.To)
		}
	}
	for _, e := range plant.Exchangers {
		if e.Branch != sim.NoBranch && (e.Branch < 0 || e.Branch >= len(plant.Air.Branches)) {
			return fmt.Errorf("exchanger %s is in branch %d of %d", e.Name, e.Branch, len(plant.Air.Branches))
		}
	}
	for _, v := range plant.Vents {
		if v.Exit < 0 || v.Exit >= len(plant.Air.Branches) || plant.Air.Branches[v.Exit].Exit == nil {
			return fmt.Errorf("vent %s is behind branch %d, which is no exit", v.Name, v.Exit)
		}
	}
	return nil
}

// checkCowlNumbers returns the first number that cannot be drawn.
func checkCowlNumbers(plant *sim.Plant, res *sim.Result) error {
	w := &res.Worst
	list := []amount{
		{"time", w.Time}, {"altitude", w.Altitude}, {"outside temperature", w.Outside}, {"airspeed", w.TrueAirspeed}, {"ram pressure", w.Ram},
		{"power", w.Power}, {"heat of the engine", w.EngineHeat}, {"heat into the coolant", w.IntoCoolant},
		{"heat into the oil", w.IntoOil}, {"heat out of the coolant", w.CoolantHeat}, {"heat out of the oil", w.OilHeat},
	}
	for j, p := range res.Air.Places {
		name := plant.Air.Places[j].Name
		list = append(list, amount{"pressure in " + name, p.Pressure}, amount{"temperature in " + name, p.Temperature},
			amount{"heat into " + name, p.Heat}, amount{"heat through the skin of " + name, p.Skin})
	}
	for i, b := range res.Air.Branches {
		name := plant.Air.Branches[i].Name
		list = append(list, amount{"air flow of " + name, b.Flow}, amount{"air into " + name, b.In}, amount{"air out of " + name, b.Out})
	}
	for i, e := range res.Exchangers {
		list = append(list, amount{"heat of " + plant.Exchangers[i].Name, e.Heat})
	}
	for _, v := range plant.Vents {
		list = append(list, amount{"share of vent " + v.Name, v.Share})
	}
	for _, p := range res.Peaks {
		list = append(list, amount{"margin of " + p.Channel, p.Margin})
	}
	for _, n := range list {
		if err := shown("the "+n.name, n.value); err != nil {
			return err
		}
	}
	return nil
}

// amount is a number with its name.
type amount struct {
	name  string
	value float64
}
