package plots_test

import (
	"cmp"
	"regexp"
	"slices"
	"strconv"
	"testing"

	"hotclimb/plots"
	"hotclimb/sim"
)

// Heat goes by the pipe of its circuit from the engine to the cores, and back where
// the air heats the liquid. A leak between compartments goes down to the lower one,
// or up.
func TestCowlTellsDirections(t *testing.T) {
	ends := map[float64][]float64{}
	for _, flow := range []float64{0.05, -0.05} {
		m := wideCowl()
		m.res.Exchangers[1].Heat = -1500 // of two oil coolers; three cores serve the coolant
		leak := slices.IndexFunc(m.res.Air.Branches, func(b sim.BranchState) bool { return b.Name == "floor" })
		m.res.Air.Branches[leak].Flow = flow
		fig, err := m.draw(plots.SI)
		if err != nil {
			t.Fatal(err)
		}
		drawing := svg(t, fig)
		if left, right := heads(t, drawing, "#D55E00"); len(left) != 1 || len(right) != 1 {
			t.Errorf("%d arrows of oil go to the left and %d to the right, want one each", len(left), len(right))
		}
		if left, right := heads(t, drawing, "#0072B2"); len(left) != 0 || len(right) != 3 {
			t.Errorf("%d arrows of coolant go to the left and %d to the right, want none and 3", len(left), len(right))
		}
		ends[flow], _ = heads(t, drawing, "#454C54")
	}
	down, up := ends[0.05], ends[-0.05]
	if len(down) != 2 || len(up) != 2 || up[0] <= down[0] || up[1] <= down[1] {
		t.Errorf("the leak ends at heights of %g going down, of %g going up", down, up)
	}
}

// heads finds the heads of arrows of a colour that point to the left and to the
// right, each with its height in the drawing, from the top.
func heads(t *testing.T, drawing, colour string) (left, right []float64) {
	t.Helper()
	head := regexp.MustCompile(`<path d="M([0-9.]+),[0-9.]+L([0-9.]+),([0-9.]+)L[0-9.]+,[0-9.]+Z" fill="` + colour + `"`)
	for _, found := range head.FindAllStringSubmatch(drawing, -1) {
		var n [3]float64
		for i := range n {
			var err error
			if n[i], err = strconv.ParseFloat(found[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		if n[1] < n[0] {
			left = append(left, n[2])
		} else {
			right = append(right, n[2])
		}
	}
	for _, list := range [][]float64{left, right} {
		slices.SortFunc(list, func(a, b float64) int { return cmp.Compare(b, a) })
	}
	return left, right
}
