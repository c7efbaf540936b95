/* Flies the reduced climb (model.h) with CVODE of SUNDIALS and prints, as CSV,

     climb derivatives   y, y' and the Jacobian at a dozen states
     climb reference     both temperatures at a tolerance of 1e-12
     climb table         work and precision at tolerances from 1e-1 to 1e-10

   CVODE runs its BDF with Newton and dense matrices. It stops at the end of a leg
   and starts anew from there. The temperatures at every minute and their peaks
   come from its own polynomial, so that steps are as long as it likes. */
#include <cvode/cvode.h>
#include <math.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sundials/sundials_version.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <time.h>

#include "model.h"

enum { MINUTES = 20 };
static const double minute = 60; /* [s] */

/* The gauges: what the error is taken of. */
static const int gauge[2] = {COOLANT_HOT, OIL_HOT};

struct answer {
  double at[MINUTES + 1][2]; /* at whole minutes [degC] */
  double peak[2];            /* [degC] */
};

struct work {
  long steps, evaluations, jacobians;
};

/* A way to run CVODE. */
struct options {
  const char *name;
  int given;     /* the Jacobian is that of model.h, else CVODE's difference quotients */
  int order;     /* highest of the BDF */
  int fresh;     /* new factors after so many steps; below 20, of a new Jacobian */
  double newton; /* Newton ends at this share of the tolerance */
};

/* CVODE as it comes, and what needed the fewest evaluations here: a looser end of
   Newton's iteration, down to one iteration a step with a fresh matrix, and lower
   orders. Tried as well, and seldom better by a few evaluations: a limit of one, two
   or five iterations, ends at 100 times the tolerance, other thresholds for new
   matrices, the detection of a stability limit. */
static const struct options all[] = {
    {"default", 1, 5, 20, 0.1},
    {"loose", 1, 5, 20, 1},
    {"fresh_10", 1, 5, 10, 1},
    {"one_newton", 1, 5, 1, 10},
    {"one_newton_3", 1, 3, 1, 10},
    {"default", 0, 5, 20, 0.1},
    {"loose", 0, 5, 20, 1},
    {"loose_4", 0, 4, 20, 1},
    {"looser", 0, 5, 20, 10},
};

static void check(int flag, const char *what) {
  if (flag < 0) {
    fprintf(stderr, "climb: %s returned %d\n", what, flag);
    exit(1);
  }
}

static int rhs(sunrealtype t, N_Vector y, N_Vector dydt, void *leg) {
  (void)t;
  derivative(leg, N_VGetArrayPointer(y), N_VGetArrayPointer(dydt));
  return 0;
}

static int jac(sunrealtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *leg, N_Vector a, N_Vector b, N_Vector c) {
  (void)t, (void)fy, (void)a, (void)b, (void)c;
  jacobian(leg, N_VGetArrayPointer(y), SUNDenseMatrix_Data(J));
  return 0;
}

/* A solver, made once and used for many flights. */
struct solver {
  SUNContext context;
  void *cvode;
  N_Vector y, tolerance, slope;
  SUNMatrix matrix;
  SUNLinearSolver linear;
};

static struct solver new_solver(const struct options *o, double rtol) {
  struct solver s;
  check(SUNContext_Create(NULL, &s.context), "SUNContext_Create");
  s.y = N_VNew_Serial(STATES, s.context);
  s.tolerance = N_VClone(s.y);
  s.slope = N_VClone(s.y);
  for (int i = 0; i < STATES; i++) N_VGetArrayPointer(s.tolerance)[i] = rtol * allowed[i];
  start(0, N_VGetArrayPointer(s.y));
  s.matrix = SUNDenseMatrix(STATES, STATES, s.context);
  s.linear = SUNLinSol_Dense(s.y, s.matrix, s.context);
  s.cvode = CVodeCreate(CV_BDF, s.context);
  check(CVodeInit(s.cvode, rhs, 0, s.y), "CVodeInit");
  check(CVodeSVtolerances(s.cvode, rtol, s.tolerance), "CVodeSVtolerances");
  check(CVodeSetLinearSolver(s.cvode, s.linear, s.matrix), "CVodeSetLinearSolver");
  if (o->given) check(CVodeSetJacFn(s.cvode, jac), "CVodeSetJacFn");
  check(CVodeSetMaxOrd(s.cvode, o->order), "CVodeSetMaxOrd");
  check(CVodeSetMaxNumSteps(s.cvode, 1000000), "CVodeSetMaxNumSteps");
  check(CVodeSetNonlinConvCoef(s.cvode, o->newton), "CVodeSetNonlinConvCoef");
  check(CVodeSetLSetupFrequency(s.cvode, o->fresh), "CVodeSetLSetupFrequency");
  if (o->fresh < 20) check(CVodeSetJacEvalFrequency(s.cvode, o->fresh), "CVodeSetJacEvalFrequency");
  return s;
}

static void free_solver(struct solver *s) {
  CVodeFree(&s->cvode);
  SUNLinSolFree(s->linear);
  SUNMatDestroy(s->matrix);
  N_VDestroy(s->y), N_VDestroy(s->tolerance), N_VDestroy(s->slope);
  SUNContext_Free(&s->context);
}

/* Derivative k of state i in the last step. */
static double inside(struct solver *s, double t, int k, int i) {
  check(CVodeGetDky(s->cvode, t, k, s->slope), "CVodeGetDky");
  return N_VGetArrayPointer(s->slope)[i];
}

/* Raises the peak of gauge g by the top between a and b, where its slopes have
   changed from up to down. */
static void climb_to_top(struct solver *s, double a, double b, int g, double *peak) {
  for (int i = 0; i < 40; i++) {
    double middle = 0.5 * (a + b);
    if (inside(s, middle, 1, gauge[g]) > 0)
      a = middle;
    else
      b = middle;
  }
  *peak = fmax(*peak, inside(s, a, 0, gauge[g]));
}

/* Reads the last step, from a to b: minutes in it, and peaks. */
static void observe(struct solver *s, double begin, double a, double b, struct answer *out) {
  for (int k = (int)floor((begin + a) / minute) + 1; k * minute <= begin + b + 1e-9; k++)
    for (int g = 0; g < 2; g++) out->at[k][g] = inside(s, fmin(k * minute - begin, b), 0, gauge[g]);
  double middle = 0.5 * (a + b), t[3] = {a, middle, b}, slope[3][2];
  for (int i = 0; i < 3; i++) {
    check(CVodeGetDky(s->cvode, t[i], 1, s->slope), "CVodeGetDky");
    for (int g = 0; g < 2; g++) slope[i][g] = N_VGetArrayPointer(s->slope)[gauge[g]];
  }
  for (int g = 0; g < 2; g++) {
    out->peak[g] = fmax(out->peak[g], N_VGetArrayPointer(s->y)[gauge[g]]);
    for (int i = 0; i < 2; i++)
      if (slope[i][g] > 0 && slope[i + 1][g] < 0) climb_to_top(s, t[i], t[i + 1], g, &out->peak[g]);
  }
}

static void count(struct solver *s, struct work *w) {
  long n;
  check(CVodeGetNumSteps(s->cvode, &n), "CVodeGetNumSteps");
  w->steps += n;
  check(CVodeGetNumRhsEvals(s->cvode, &n), "CVodeGetNumRhsEvals");
  w->evaluations += n;
  check(CVodeGetNumLinRhsEvals(s->cvode, &n), "CVodeGetNumLinRhsEvals");
  w->evaluations += n; /* those for difference quotients */
  check(CVodeGetNumJacEvals(s->cvode, &n), "CVodeGetNumJacEvals");
  w->jacobians += n;
}

/* Flies all legs from start k. */
static struct work fly(struct solver *s, const struct flight *f, int k, struct answer *out) {
  struct work w = {0};
  double begin = 0, *y = N_VGetArrayPointer(s->y);
  start(k, y);
  for (int g = 0; g < 2; g++) out->at[0][g] = out->peak[g] = y[gauge[g]];
  for (int i = 0; i < f->legs; i++) {
    const struct leg *leg = &f->leg[i];
    check(CVodeReInit(s->cvode, 0, s->y), "CVodeReInit");
    check(CVodeSetUserData(s->cvode, (void *)leg), "CVodeSetUserData");
    check(CVodeSetStopTime(s->cvode, leg->time), "CVodeSetStopTime");
    for (double t = 0; t < leg->time;) {
      double before = t;
      check(CVode(s->cvode, leg->time, s->y, &t, CV_ONE_STEP), "CVode");
      observe(s, begin, before, t, out);
    }
    count(s, &w);
    begin += leg->time;
  }
  return w;
}

/* Largest difference of peaks and of temperatures at whole minutes [K]. */
static double difference(const struct answer *a, const struct answer *b) {
  double worst = 0;
  for (int g = 0; g < 2; g++) {
    worst = fmax(worst, fabs(a->peak[g] - b->peak[g]));
    for (int k = 0; k <= MINUTES; k++) worst = fmax(worst, fabs(a->at[k][g] - b->at[k][g]));
  }
  return worst;
}

static double now(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return t.tv_sec * 1e6 + t.tv_nsec * 1e-3;
}

/* Writes the answers from all starts, to be held against. */
static void refer(const struct flight *f, struct answer *exact) {
  struct solver s = new_solver(&all[0], 1e-12);
  for (int k = 0; k < STARTS; k++) fly(&s, f, k, &exact[k]);
  free_solver(&s);
}

/* Best time of several flights [us]: for a few milliseconds, three at least. */
static double timed(struct solver *s, const struct flight *f) {
  struct answer a;
  double best = INFINITY, until = now() + 8e3;
  for (int i = 0; i < 3 || now() < until; i++) {
    double t = now();
    fly(s, f, 0, &a);
    best = fmin(best, now() - t);
  }
  return best;
}

static void row(const struct flight *f, const struct options *o, double rtol, int whole, const struct answer *exact) {
  struct solver s = new_solver(o, rtol);
  struct work sum = {0};
  double error = 0; /* squared */
  int starts = rtol > 0.99e-6 ? STARTS : 1;
  for (int k = 0; k < starts; k++) {
    struct answer a;
    struct work w = fly(&s, f, k, &a);
    sum.steps += w.steps, sum.evaluations += w.evaluations, sum.jacobians += w.jacobians;
    error += pow(difference(&a, &exact[k]), 2) / starts;
  }
  printf("%s,%s,%s,%.3g,%.1f,%.1f,%.1f,%.1f,%.3e\n", f->name, o->given ? "given" : "differences", o->name, rtol,
         sum.steps / (double)starts, sum.evaluations / (double)starts, sum.jacobians / (double)starts,
         whole ? timed(&s, f) : 0, sqrt(error));
  free_solver(&s);
}

static void print_table(void) {
  printf("# Mean counts of flights from %d starts, below 1e-6 from the first alone; evaluations are of f, those\n"
         "# for difference quotients included; error_K is the root mean square over the starts; time_us, at whole\n"
         "# powers of ten, is the best of several flights, to be held against times of the same run only.\n", STARTS);
  printf("flight,jacobian,options,rtol,steps,evaluations,jacobians,time_us,error_K\n");
  for (int f = 0; f < 2; f++) {
    struct answer exact[STARTS];
    refer(&flights[f], exact);
    for (size_t o = 0; o < sizeof all / sizeof *all; o++)
      for (int k = 4; k <= 40; k += k < 24 ? 1 : 4) /* four a decade to 1e-6, then one */
        row(&flights[f], &all[o], pow(10, -0.25 * k), k % 4 == 0, exact);
  }
}

static void print_reference(void) {
  printf("flight,start,time_s,coolant_degC,oil_degC\n");
  for (int f = 0; f < 2; f++) {
    struct answer exact[STARTS];
    refer(&flights[f], exact);
    for (int s = 0; s < STARTS; s++) {
      for (int k = 0; k <= MINUTES; k++)
        printf("%s,%d,%g,%.10f,%.10f\n", flights[f].name, s, k * minute, exact[s].at[k][0], exact[s].at[k][1]);
      printf("%s,%d,peak,%.10f,%.10f\n", flights[f].name, s, exact[s].peak[0], exact[s].peak[1]);
    }
  }
}

/* A dozen states, with closed, moving and open thermostats, in
   the legs of the flight by turns; columns leg, y, y', Jacobian row after row. */
static void print_derivatives(void) {
  for (int k = 0; k < 12; k++) {
    double y[STATES], dydt[STATES], dfdy[STATES * STATES];
    start(0, y);
    for (int i = METAL; i <= OIL_COLD; i++) y[i] += 25 * sin(k * (i + 1));
    y[ALTITUDE] = 1500 + 1400 * sin(k);
    y[COOLANT_OPEN] = 0.5 + 0.6 * sin(2 + k), y[OIL_OPEN] = 0.5 + 0.6 * sin(3 * k);
    derivative(&flights[1].leg[k % 3], y, dydt);
    jacobian(&flights[1].leg[k % 3], y, dfdy);
    printf("%d", k % 3);
    for (int i = 0; i < STATES; i++) printf(",%.17g", y[i]);
    for (int i = 0; i < STATES; i++) printf(",%.17g", dydt[i]);
    for (int i = 0; i < STATES * STATES; i++) printf(",%.17g", dfdy[i % STATES * STATES + i / STATES]);
    printf("\n");
  }
}

int main(int argc, char **argv) {
  static const struct {
    const char *name;
    void (*print)(void);
  } parts[] = {{"derivatives", print_derivatives}, {"reference", print_reference}, {"table", print_table}};
  char version[32];
  check(SUNDIALSGetVersion(version, sizeof version), "SUNDIALSGetVersion");
  for (int i = 0; argc == 2 && i < 3; i++)
    if (!strcmp(argv[1], parts[i].name)) {
      printf("# Reduced climb, %s. Made by testdata/cvode/run.sh: SUNDIALS %s, compiler %s.\n", argv[1], version,
             __VERSION__);
      parts[i].print();
      return 0;
    }
  fprintf(stderr, "usage: climb derivatives | reference | table\n");
  return 2;
}
