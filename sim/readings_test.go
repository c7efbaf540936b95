package sim_test

import (
	"context"
	"math"
	"testing"

	"hotclimb/scenarios"
	"hotclimb/sim"
	"hotclimb/sim/flight"
)

// tugPlant is the tug in its hot tow.
func tugPlant(t *testing.T) *sim.Plant {
	t.Helper()
	sc, err := scenarios.LoadFile("tug", nil)
	if err != nil {
		t.Fatal(err)
	}
	c, err := sc.Case("hot_tow")
	if err != nil {
		t.Fatal(err)
	}
	p, err := c.Build()
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestReadings: sensors read at given times show what the trajectory has there,
// whatever legs the times fall into, and asking for them changes nothing else.
func TestReadings(t *testing.T) {
	p := tugPlant(t)
	whole, err := sim.Run(context.Background(), p, sim.Settings{Sample: 10})
	if err != nil {
		t.Fatal(err)
	}
	var times []float64
	for at := 0.0; at < 4000; at += 10 {
		times = append(times, at)
	}
	read, err := sim.Run(context.Background(), p, sim.Settings{Readings: times})
	if err != nil {
		t.Fatal(err)
	}
	if read.Evaluations != whole.Evaluations {
		t.Errorf("%d evaluations with readings, %d without", read.Evaluations, whole.Evaluations)
	}
	at := whole.Trajectory.Find("time_s").Values
	end := whole.Legs[len(whole.Legs)-1].End
	for i, peak := range whole.Peaks {
		channel := whole.Trajectory.Find(peak.Channel + "_degC").Values
		got := read.Readings[i]
		if want := int(end/10) + 1; len(got) != want {
			t.Fatalf("%d readings of %s in %.0f s, want %d", len(got), peak.Channel, end, want)
		}
		for k, v := range channel {
			if n := int(at[k] / 10); at[k] == float64(n)*10 && math.Abs(got[n]-v) > 1e-9 {
				t.Errorf("%s at %g s: read %.6f, trajectory %.6f", peak.Channel, at[k], got[n], v)
			}
		}
	}
}

// TestOwnAir: a leg with air of its own is flown as the same leg on a day that
// is as much warmer than standard, and other legs keep the day.
func TestOwnAir(t *testing.T) {
	p := tugPlant(t)
	field := p.Weather.Day.Temperature(0)
	offset := field - 15
	own := *p
	own.Legs = append(own.Legs[:0:0], p.Legs...)
	for i := range own.Legs {
		own.Legs[i].OwnAir, own.Legs[i].AirOffset = true, offset
	}
	a, err := sim.Run(context.Background(), p, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := sim.Run(context.Background(), &own, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if d := math.Abs(a.Peaks[0].Value - b.Peaks[0].Value); d > 1e-6 {
		t.Errorf("peaks differ by %g K", d)
	}
	for i := range own.Legs {
		if own.Legs[i].Name == "tow" {
			own.Legs[i].AirOffset -= 10
		}
	}
	c, err := sim.Run(context.Background(), &own, sim.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if gain := a.Peaks[0].Value - c.Peaks[0].Value; gain < 3 || gain > 12 {
		t.Errorf("10 K colder air in the tow gives %.2f K", gain)
	}
	at := a.Worst
	if got, want := p.Available(p.Weather.Day, at.Altitude), at.Power; math.Abs(got-want) > 1e-6*want {
		t.Errorf("available power %.1f W, flown at full throttle %.1f W", got, want)
	}
}

// TestStartAbove: a flight that starts above the field starts in the air of there.
func TestStartAbove(t *testing.T) {
	p := *tugPlant(t)
	p.Start = sim.Start{Above: 1500}
	p.Legs = []flight.Leg{{Name: "down", Kind: flight.Descend, Speed: 35, Throttle: 0.3, Prescribed: true, RateOfClimb: -2, Duration: 60}}
	result, err := sim.Run(context.Background(), &p, sim.Settings{Sample: 60})
	if err != nil {
		t.Fatal(err)
	}
	first := func(name string) float64 { return result.Trajectory.Find(name).Values[0] }
	high := p.Weather.Elevation + 1500
	if got := first("altitude_m"); math.Abs(got-high) > 1e-9 {
		t.Errorf("starts at %.1f m, want %.1f m", got, high)
	}
	if got, want := first(result.Peaks[0].Channel+"_degC"), p.Weather.Day.Temperature(high); math.Abs(got-want) > 1e-9 {
		t.Errorf("coolant starts at %.2f °C, want that of the air there, %.2f °C", got, want)
	}
	if result.Incomplete != "" {
		t.Errorf("incomplete: %s, %q", result.Incomplete, result.Warnings)
	}
}
