package fluid

// Water returns pure water as a coolant.
//
// The properties are least-squares polynomials of degree five in t − 77.5 °C
// through saturated water of IAPWS-IF97 (with the IAPWS formulations of
// viscosity and conductivity) from 5 to 150 °C. Largest differences from it:
// density 0.002 %, heat capacity 0.022 %, conductivity 0.019 %, viscosity 0.1 %.
// Evaluation span 0…150 °C.
func Water() *Liquid {
	return &Liquid{
		name: "water",
		low:  5, high: 150,
		coldest: 0, hottest: 150,
		freezing: 0, freezes: true,
		boils:  true,
		centre: 77.5,
		density: series{973.311582, -0.609807728, -0.00253262614,
			5.51172799e-06, -5.50674706e-08, 3.25299268e-10},
		capacity: series{4193.8749, 0.775926393, 0.00939495228,
			2.03724989e-05, 5.04776727e-07, -5.64861577e-09},
		conductivity: series{0.665267258, 0.000688263975, -7.14902265e-06,
			1.07946158e-08, -1.17542022e-10, 1.31097902e-12},
		viscosity: viscosity{
			scale: 1, join: 150,
			ln: series{-7.91403661, -0.0127918002, 5.70157479e-05,
				-2.51622272e-07, 2.32973022e-09, -1.77339336e-11},
		},
	}
}
