// Package optimum finds the least of a function under limits, and with it the
// smallest openings and the limits of a climb.
//
//	Problem → Minimise (linear programs in a trust region) → Solution
//	        → Confirm (Nelder-Mead on an exact penalty)    → Solution
//
//	Sizing     → Size   → Sized       openings within bounds for a scenario
//	LimitStudy → Limits → LimitTable  what a pilot must know of one climb
//
// Minimise and Confirm share nothing but the problem and how an end is judged
// (feasibility, multipliers, remainder of the conditions of Karush, Kuhn and
// Tucker), so that each is a check on the other. They know nothing of aircraft.
//
// They find a local least. They take no equations and no whole numbers, and no
// derivatives but by differences. A limit that is the worse of two things has a
// kink where those are equal, which stops linear programs: give each its row.
package optimum
