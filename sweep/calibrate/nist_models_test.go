package calibrate

import "math"

// nistModels are the models of the sets, y(x, b), as published with them.
var nistModels = map[string]func(x, b []float64) float64{
	"misra1a":  func(x, b []float64) float64 { return b[0] * (1 - math.Exp(-b[1]*x[0])) },
	"misra1b":  func(x, b []float64) float64 { return b[0] * (1 - 1/sq(1+b[1]*x[0]/2)) },
	"misra1c":  func(x, b []float64) float64 { return b[0] * (1 - 1/math.Sqrt(1+2*b[1]*x[0])) },
	"misra1d":  func(x, b []float64) float64 { return b[0] * b[1] * x[0] / (1 + b[1]*x[0]) },
	"chwirut2": func(x, b []float64) float64 { return math.Exp(-b[0]*x[0]) / (b[1] + b[2]*x[0]) },
	"danwood":  func(x, b []float64) float64 { return b[0] * math.Pow(x[0], b[1]) },
	"lanczos3": func(x, b []float64) float64 {
		return b[0]*math.Exp(-b[1]*x[0]) + b[2]*math.Exp(-b[3]*x[0]) + b[4]*math.Exp(-b[5]*x[0])
	},
	"mgh17": func(x, b []float64) float64 {
		return b[0] + b[1]*math.Exp(-x[0]*b[3]) + b[2]*math.Exp(-x[0]*b[4])
	},
	"roszman1": func(x, b []float64) float64 {
		return b[0] - b[1]*x[0] - math.Atan(b[2]/(x[0]-b[3]))/math.Pi
	},
	"enso": func(x, b []float64) float64 {
		return b[0] + wave(x[0], 12, b[1:]) + wave(x[0], b[3], b[4:]) + wave(x[0], b[6], b[7:])
	},
	"nelson": func(x, b []float64) float64 { return math.Exp(b[0] - b[1]*x[0]*math.Exp(-b[2]*x[1])) },
	"mgh09":  func(x, b []float64) float64 { return b[0] * x[0] * (x[0] + b[1]) / (x[0]*(x[0]+b[2]) + b[3]) },
	"thurber": func(x, b []float64) float64 {
		return (b[0] + x[0]*(b[1]+x[0]*(b[2]+x[0]*b[3]))) / (1 + x[0]*(b[4]+x[0]*(b[5]+x[0]*b[6])))
	},
	"boxbod":   func(x, b []float64) float64 { return b[0] * (1 - math.Exp(-b[1]*x[0])) },
	"rat42":    func(x, b []float64) float64 { return b[0] / (1 + math.Exp(b[1]-b[2]*x[0])) },
	"rat43":    func(x, b []float64) float64 { return b[0] / math.Pow(1+math.Exp(b[1]-b[2]*x[0]), 1/b[3]) },
	"eckerle4": func(x, b []float64) float64 { return b[0] / b[1] * math.Exp(-sq((x[0]-b[2])/b[1])/2) },
	"mgh10":    func(x, b []float64) float64 { return b[0] * math.Exp(b[1]/(x[0]+b[2])) },
}

// wave is a cosine and a sine of a period.
func wave(t, period float64, amplitude []float64) float64 {
	sin, cos := math.Sincos(2 * math.Pi * t / period)
	return amplitude[0]*cos + amplitude[1]*sin
}

func sq(v float64) float64 { return v * v }
