package plots

import (
	"errors"
	"fmt"
	"math"

	"hotclimb/sim"
)

// checkTrajectory returns what keeps a trajectory from being shown at all.
func checkTrajectory(t *sim.Trajectory) error {
	if t == nil || len(t.Channels) == 0 || len(t.Channels[0].Values) == 0 {
		return errors.New("no trajectory to show: the run was not sampled")
	}
	first := t.Channels[0]
	for _, c := range t.Channels {
		if len(c.Values) != len(first.Values) {
			return fmt.Errorf("channel %s has %d samples, %s has %d", c.Name, len(c.Values), first.Name, len(first.Values))
		}
	}
	return nil
}

// finite returns an error if a value of a channel is not a finite number.
func finite(c *sim.Channel) error {
	for i, v := range c.Values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("channel %s: sample %d is %g", c.Name, i+1, v)
		}
	}
	return nil
}

// channel returns a channel that must be there and hold finite numbers.
func channel(t *sim.Trajectory, name string) (*sim.Channel, error) {
	c := t.Find(name)
	if c == nil {
		return nil, fmt.Errorf("the trajectory has no channel %s", name)
	}
	return c, finite(c)
}

// checkResult returns what keeps the history of a run from being drawn,
// besides its channels.
func checkResult(res *sim.Result) error {
	if res == nil {
		return errors.New("no result to draw")
	}
	if err := checkTrajectory(res.Trajectory); err != nil {
		return err
	}
	if len(res.Peaks) == 0 {
		return errors.New("the result has no peaks of coolant and oil to draw")
	}
	for _, p := range res.Peaks {
		if err := number("the peak of "+p.Channel, p.Value, p.Time, p.Caution, p.Limit, p.TimeToLimit); err != nil {
			return err
		}
	}
	for _, l := range res.Legs {
		if err := number("leg "+l.Name, l.Start, l.End); err != nil {
			return err
		}
	}
	for _, e := range res.Events {
		if err := number("event "+e.What, e.Time); err != nil {
			return err
		}
	}
	return nil
}

func number(of string, values ...float64) error {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%s has the value %g", of, v)
		}
	}
	return nil
}

// clockwork returns the times of the samples [min], which may not go back.
func clockwork(t *sim.Trajectory) ([]float64, error) {
	c, err := channel(t, "time_s")
	if err != nil {
		return nil, err
	}
	for i := 1; i < len(c.Values); i++ {
		if c.Values[i] < c.Values[i-1] {
			return nil, fmt.Errorf("channel %s: sample %d is earlier than the one before", c.Name, i+1)
		}
	}
	return minutes().all(c.Values), nil
}
