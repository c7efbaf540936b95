package plots

// mostPoints bounds the points of a curve in a figure.
const mostPoints = 600

// thin returns at most mostPoints of the points of a curve, as thinTo does.
func thin(x, y []float64) ([]float64, []float64) { return thinTo(x, y, mostPoints) }

// thinTo returns at most so many of the points of a curve, four at least: the
// first, the last, and the lowest and highest of each of equal runs between
// them, so that no peak is lost.
func thinTo(x, y []float64, most int) ([]float64, []float64) {
	n := len(x)
	if n <= max(most, 4) {
		return x, y
	}
	runs := max(1, (most-2)/2)
	keepX, keepY := append(make([]float64, 0, most), x[0]), append(make([]float64, 0, most), y[0])
	for r := range runs {
		from, to := 1+r*(n-2)/runs, 1+(r+1)*(n-2)/runs
		low, high := from, from
		for i := from; i < to; i++ {
			if y[i] < y[low] {
				low = i
			}
			if y[i] > y[high] {
				high = i
			}
		}
		first, second := min(low, high), max(low, high)
		keepX, keepY = append(keepX, x[first]), append(keepY, y[first])
		if second > first {
			keepX, keepY = append(keepX, x[second]), append(keepY, y[second])
		}
	}
	return append(keepX, x[n-1]), append(keepY, y[n-1])
}
