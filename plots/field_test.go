package plots

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/plot/vg"
	"pgregory.net/rapid"
)

// anyField draws a field of margins on a rising grid, without unknown places.
func anyField(t *rapid.T) field {
	rising := func(label string) []float64 {
		v := []float64{0}
		for range rapid.IntRange(1, 5).Draw(t, label) {
			v = append(v, v[len(v)-1]+rapid.Float64Range(0.1, 2).Draw(t, label+" step"))
		}
		return v
	}
	g := field{x: rising("nx"), y: rising("ny")}
	for range g.y {
		row := make([]float64, len(g.x))
		for i := range row {
			row[i] = rapid.Float64Range(-5, 5).Draw(t, "z")
		}
		g.z = append(g.z, row)
	}
	return g
}

// inside is the value at a place by bilinear interpolation.
func (g field) inside(p place) float64 {
	i := max(0, min(len(g.x)-2, interval(g.x, p.x)))
	j := max(0, min(len(g.y)-2, interval(g.y, p.y)))
	tx, ty := (p.x-g.x[i])/(g.x[i+1]-g.x[i]), (p.y-g.y[j])/(g.y[j+1]-g.y[j])
	return between(between(g.z[j][i], g.z[j][i+1], tx), between(g.z[j+1][i], g.z[j+1][i+1], tx), ty)
}

// interval returns the number of the interval that holds v.
func interval(list []float64, v float64) int {
	i, _ := slices.BinarySearch(list, v)
	return i - 1
}

// Every point of an isoline has its level, and lines end at the edge of the
// field or close.
func TestIsolinesAreAtTheirLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyField(t)
		level := rapid.Float64Range(-4, 4).Draw(t, "level")
		atEdge := func(p place) bool {
			return p.x == 0 || p.y == 0 || p.x == g.x[len(g.x)-1] || p.y == g.y[len(g.y)-1]
		}
		for _, line := range g.isolines(level) {
			for _, p := range line {
				if v := g.inside(p); math.Abs(v-level) > 1e-9 {
					t.Fatalf("value %g at %v of level %g", v, p, level)
				}
			}
			first, last := line[0], line[len(line)-1]
			if first != last && !(atEdge(first) && atEdge(last)) {
				t.Fatalf("a line ends inside: %v, %v", first, last)
			}
		}
	})
}

// turned is the area to the left of closed lines.
func turned(lines [][]place) float64 {
	area := 0.0
	for _, line := range lines {
		for i := 1; i < len(line); i++ {
			area += (line[i-1].x*line[i].y - line[i].x*line[i-1].y) / 2
		}
	}
	return area
}

// What is below a level and what is above it make up the whole field: the
// latter is below the negative level of the negative field. Saddles are apt to
// go wrong here, and so is the direction of lines.
func TestEnclosedAreasAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyField(t)
		// Not a level of corners: ground at the level is neither below nor above.
		level := rapid.Float64Range(-4, 4).Draw(t, "level") + math.Pi/1000
		negative := field{x: g.x, y: g.y}
		for _, row := range g.z {
			minus := make([]float64, len(row))
			for i, v := range row {
				minus[i] = -v
			}
			negative.z = append(negative.z, minus)
		}
		below, above := g.enclosed().isolines(level), negative.enclosed().isolines(-level)
		for _, line := range slices.Concat(below, above) {
			if line[0] != line[len(line)-1] {
				t.Fatalf("open: %v", line)
			}
		}
		whole := g.x[len(g.x)-1] * g.y[len(g.y)-1]
		a, b := turned(below), turned(above)
		if a < -1e-9 || b < -1e-9 || math.Abs(a+b-whole) > 1e-6 {
			t.Fatalf("%g below and %g above of %g", a, b, whole)
		}
	})
}

// The plane z = x + 2y − 2 over 2 × 2: below zero lies the triangle with the
// corners (0, 0), (2, 0), (0, 1), of area 1.
func TestAreaBelowAPlane(t *testing.T) {
	g := field{x: []float64{0, 1, 2}, y: []float64{0, 1, 2}, z: [][]float64{{-2, -1, 0}, {0, 1, 2}, {2, 3, 4}}}
	if a := turned(g.enclosed().isolines(0)); math.Abs(a-1) > 1e-12 {
		t.Errorf("area %g, want 1", a)
	}
}

// A saddle of corners 1, −1, 1 and a last one that decides: its mean tells
// whether the low corners or the high ones are joined.
func TestSaddle(t *testing.T) {
	for corner, joined := range map[float64]bool{-1.5: true, -0.5: false} {
		g := field{x: []float64{0, 1}, y: []float64{0, 1}, z: [][]float64{{1, -1}, {corner, 1}}}
		lines := g.isolines(0)
		if len(lines) != 2 {
			t.Fatalf("%d lines", len(lines))
		}
		for _, line := range lines {
			// Lines around the high corners (0, 0) and (1, 1) have their middle
			// below or above the diagonal x + y = 1 by far; those around the low
			// ones lie across it.
			middle := (line[0].x + line[0].y + line[1].x + line[1].y) / 2
			if aroundHigh := math.Abs(middle-1) > 0.2; aroundHigh != joined {
				t.Errorf("corner %g: low corners joined %v, line %v", corner, joined, line)
			}
		}
	}
}

func TestNoLineThroughUnknownCells(t *testing.T) {
	nan := math.NaN()
	g := field{x: []float64{0, 1, 2}, y: []float64{0, 1, 2}, z: [][]float64{{-1, -1, -1}, {-1, nan, 1}, {1, 1, 1}}}
	if lines := g.isolines(0); len(lines) > 0 {
		t.Errorf("lines %v: every cell has the unknown corner", lines)
	}
	if lines := g.refined(4).isolines(0); len(lines) > 0 {
		t.Errorf("refined: lines %v", lines)
	}
	if s := g.bounds(); s != (span{-1, 1}) {
		t.Errorf("bounds %v", s)
	}
}

func TestRefinedIsBilinear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyField(t)
		k := rapid.IntRange(1, 5).Draw(t, "k")
		fine := g.refined(k)
		for j := range fine.y {
			for i := range fine.x {
				if want := g.inside(place{fine.x[i], fine.y[j]}); math.Abs(fine.z[j][i]-want) > 1e-9 {
					t.Fatalf("%g at %d, %d, want %g", fine.z[j][i], i, j, want)
				}
			}
		}
	})
}

func TestLevels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyField(t)
		g.z[0][0] -= rapid.SampledFrom([]float64{0, 1000}).Draw(t, "runaway")
		levels, by := levelsOf(g)
		if len(levels) > 24 || !slices.IsSorted(levels) {
			t.Fatalf("levels %v", levels)
		}
		for _, v := range levels {
			if n := v / by; v == 0 || math.Abs(n-math.Round(n)) > 1e-9 {
				t.Fatalf("%g is zero or no multiple of %g", v, by)
			}
		}
	})
	flat := field{x: []float64{0, 1}, y: []float64{0, 1}, z: [][]float64{{3, 3}, {3, 3}}}
	if levels, _ := levelsOf(flat); len(levels) > 0 {
		t.Errorf("a level field has levels %v", levels)
	}
	// From −3 to 3 in nine parts at most: by 1.
	plane := field{x: []float64{0, 1}, y: []float64{0, 1}, z: [][]float64{{-3, -3}, {3, 3}}}
	if levels, by := levelsOf(plane); by != 1 || !slices.Equal(levels, []float64{-3, -2, -1, 1, 2, 3}) {
		t.Errorf("levels %v by %g", levels, by)
	}
}

// anyLine draws a line on the canvas.
func anyLine(t *rapid.T) []vg.Point {
	line := make([]vg.Point, rapid.IntRange(2, 30).Draw(t, "points"))
	for i := range line {
		line[i] = vg.Point{X: vg.Length(rapid.Float64Range(0, 100).Draw(t, "x")), Y: vg.Length(rapid.Float64Range(0, 100).Draw(t, "y"))}
	}
	return line
}

func lengthOf(line []vg.Point) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		d := line[i].Sub(line[i-1])
		sum += math.Hypot(d.X.Points(), d.Y.Points())
	}
	return sum
}

// A gap takes out of a line what lies in the box, and nothing else.
func TestOutside(t *testing.T) {
	box := vg.Rectangle{Min: vg.Point{X: 30, Y: 40}, Max: vg.Point{X: 70, Y: 60}}
	rapid.Check(t, func(t *rapid.T) {
		line := anyLine(t)
		out := 0.0
		for _, piece := range outside(line, box) {
			out += lengthOf(piece)
			for i := 1; i < len(piece); i++ {
				middle := piece[i].Add(piece[i-1]).Scale(0.5)
				if box.Min.X+1e-6 < middle.X && middle.X < box.Max.X-1e-6 && box.Min.Y+1e-6 < middle.Y && middle.Y < box.Max.Y-1e-6 {
					t.Fatalf("%v lies in the gap", middle)
				}
			}
		}
		in := 0.0
		for i := 1; i < len(line); i++ {
			if enter, leave := passage(line[i-1], line[i], box); enter < leave {
				in += (leave - enter) * lengthOf(line[i-1:i+1])
			}
		}
		if whole := lengthOf(line); math.Abs(in+out-whole) > 1e-6 {
			t.Fatalf("%g in and %g out of %g", in, out, whole)
		}
	})
	straight := []vg.Point{{X: 0, Y: 50}, {X: 100, Y: 50}}
	if got := outside(straight, box); len(got) != 2 || got[0][1].X != 30 || got[1][0].X != 70 {
		t.Errorf("pieces %v", got)
	}
}

func TestStraightenedStaysNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := anyLine(t)
		kept := straightened(line)
		if kept[0] != line[0] || kept[len(kept)-1] != line[len(line)-1] {
			t.Fatal("an end is lost")
		}
		for _, p := range line {
			near := math.Inf(1)
			for i := 1; i < len(kept); i++ {
				near = min(near, offLine(p, kept[i-1], kept[i]))
			}
			if near > 0.1 {
				t.Fatalf("%v is %g off", p, near)
			}
		}
	})
	if got := straightened([]vg.Point{{X: 0}, {X: 1}, {X: 2}, {X: 5}}); len(got) != 2 {
		t.Errorf("a straight line keeps %v", got)
	}
}
