/* The reduced climb: eight states of a cooling system in flight, in closed form.
   The Go tests of sim/ode hold the same equations; both read constants.h. */
#ifndef MODEL_H
#define MODEL_H

#include "constants.h"

enum {
  METAL,        /* T_m, temperature of the metal [degC] */
  COOLANT_HOT,  /* T_h, coolant leaving the engine [degC] */
  COOLANT_COLD, /* T_c, coolant entering the engine [degC] */
  OIL_HOT,      /* sump [degC] */
  OIL_COLD,     /* return [degC] */
  COOLANT_OPEN, /* u, opening of the coolant thermostat [-] */
  OIL_OPEN,     /* opening of the oil thermostat [-] */
  ALTITUDE,     /* h [m] */
  STATES
};

struct leg {
  double time;       /* [s] */
  double throttle;   /* share of the power available [-] */
  double speed;      /* equivalent airspeed, 0 on the ground [m/s] */
  double efficiency; /* of the propeller [-] */
  double sink;       /* prescribed rate of descent, 0: the power decides [m/s] */
};

struct flight {
  const char *name;
  int legs;
  struct leg leg[3];
};

extern const struct flight flights[2]; /* climb, flight */
enum { STARTS = START_COUNT };
extern const double allowed[STATES]; /* error per step at a relative tolerance of 1 */

/* Writes the state at start k, 0 <= k < STARTS. */
void start(int k, double *y);

/* Writes y' at state y. */
void derivative(const struct leg *leg, const double *y, double *dydt);

/* Writes d y'_i / d y_j to dfdy[j * STATES + i], column after column. */
void jacobian(const struct leg *leg, const double *y, double *dfdy);

#endif
