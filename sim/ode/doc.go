// Package ode integrates small systems of ordinary differential equations
// y' = f(t, y), stiff or not, with adaptive steps, dense output and events.
// It knows no physics.
//
//	problem → step (Rosenbrock or Runge–Kutta) → error test → dense step → events → observer
//
// Three methods stand behind one door, Solve:
//
//   - KapsRentrop (default): GRK4T, order 4, three calls of f and a Jacobian per
//     step, A(89.3°)-stable; for decays up to a few hundred times as fast as what
//     is followed;
//   - Rodas4: order 4, six calls and a Jacobian, L-stable; for faster ones;
//   - DormandPrince: explicit, order 5, the independent cross-check.
//
// Steps land exactly on Problem.Stops; Problem.Events are located on the dense
// output and may restart or end the integration.
//
// Left out on purpose: implicit and algebraic equations, sparse Jacobians,
// integration backwards in time, delays. A solver holds dense n×n matrices and
// is meant for n of about ten.
//
// Reference for all of it: E. Hairer, S. P. Nørsett, G. Wanner, Solving Ordinary
// Differential Equations I, 2nd ed. 1993, and E. Hairer, G. Wanner, the same, II,
// 2nd ed. 1996 (Springer); cited below as HNW I and HW II.
package ode
