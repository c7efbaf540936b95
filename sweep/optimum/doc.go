// Package optimum finds the least of a function under limits.
//
//	Problem → Minimise (linear programs in a trust region) → Solution
//	        → Confirm (Nelder-Mead on an exact penalty)    → Solution
//
// The two methods share nothing but the problem and the judge of the answer
// (Judge: feasibility, multipliers, remainder of the Kuhn-Tucker conditions),
// so that each is a check on the other.
//
// It finds a local least. It has no equations, no whole numbers and no
// derivatives but by differences.
package optimum
