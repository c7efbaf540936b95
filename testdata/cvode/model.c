#include "model.h"

#include <math.h>
#include <string.h>

const struct flight flights[2] = {
    {"climb", 1, {{LONG_CLIMB_TIME, CLIMB_THROTTLE, CLIMB_SPEED, CLIMB_EFFICIENCY, 0}}},
    {"flight", 3,
     {{GROUND_TIME, GROUND_THROTTLE, 0, 0, 0},
      {CLIMB_TIME, CLIMB_THROTTLE, CLIMB_SPEED, CLIMB_EFFICIENCY, 0},
      {DESCENT_TIME, DESCENT_THROTTLE, DESCENT_SPEED, DESCENT_EFFICIENCY, DESCENT_RATE}}},
};
const double allowed[STATES] = {
    ALLOWED_TEMPERATURE, ALLOWED_TEMPERATURE, ALLOWED_TEMPERATURE, ALLOWED_TEMPERATURE,
    ALLOWED_TEMPERATURE, ALLOWED_OPENING,     ALLOWED_OPENING,     ALLOWED_ALTITUDE,
};

void start(int k, double *y) {
  const double first[STATES] = {
      START_METAL,    START_COOLANT_HOT,  START_COOLANT_COLD, START_OIL_HOT,
      START_OIL_COLD, START_COOLANT_OPEN, START_OIL_OPEN,     START_ALTITUDE,
  };
  memcpy(y, first, sizeof first);
  for (int i = METAL; i <= OIL_COLD; i++) y[i] += k * START_WARMER;
  y[ALTITUDE] += k * START_HIGHER;
}

/* What one circuit and its duct are made of; units in constants.h. */
struct circuit {
  int hot, cold, open; /* its states */
  double pump_flow, heat, heat_slope, hot_capacity, cold_capacity;
  double contact, contact_exponent;
  double opens, full, closing, leak, lag;
  double ram, slipstream, laminar, duct, exit;
  double core_air, core_liquid, core_air_flow;
};

#define CIRCUIT(C)                                                               \
  {C##_HOT, C##_COLD, C##_OPEN,                                                  \
   C##_PUMP_FLOW, C##_HEAT, C##_HEAT_SLOPE, C##_HOT_CAPACITY, C##_COLD_CAPACITY, \
   C##_CONTACT, C##_CONTACT_EXPONENT,                                            \
   C##_OPENS, C##_FULL, C##_CLOSING, C##_LEAK, C##_LAG,                          \
   C##_RAM, C##_SLIPSTREAM, C##_LAMINAR, C##_DUCT, C##_EXIT,                     \
   C##_CORE_AIR, C##_CORE_LIQUID, C##_CORE_AIR_FLOW}
static const struct circuit coolant = CIRCUIT(COOLANT), oil = CIRCUIT(OIL);

/* What altitude alone decides. */
struct flying {
  double air;      /* T_a, outside air [degC] */
  double pressure; /* p [Pa] */
  double density;  /* rho [kg/m3] */
  double power;    /* P [W] */
  double speed;    /* V, true airspeed [m/s] */
  double q;        /* dynamic pressure [Pa] */
  double thrust;   /* T [N] */
  double ratio;    /* r, engine speed over rated speed [-] */
  double load;     /* (P/P_rated)^n, share of the heat [-] */
  double climb;    /* rate of climb [m/s] */
};

/* Standard pressure at the altitude, air warmer by DAY_OFFSET; power after Gagg
   and Farrar at sigma = p/(R rho_0 sqrt(T_standard T)); thrust eta P/V, at rest
   (eta_s P)^(2/3) (2 rho A)^(1/3). */
static struct flying fly(const struct leg *leg, double h) {
  struct flying f;
  double standard = STANDARD_KELVIN - LAPSE * h, t = standard + DAY_OFFSET;
  f.air = t - KELVIN;
  f.pressure = STANDARD_PRESSURE * pow(standard / STANDARD_KELVIN, PRESSURE_EXPONENT);
  f.density = f.pressure / (GAS_CONSTANT * t);
  double sigma = f.pressure / (GAS_CONSTANT * STANDARD_DENSITY * sqrt(standard * t));
  f.power = leg->throttle * RATED_POWER * (sigma - (1 - sigma) / FRICTION_LAPSE);
  f.load = pow(f.power / RATED_POWER, PART_LOAD);
  f.ratio = fmax(IDLE_SPEED, cbrt(f.power / RATED_POWER * (STANDARD_DENSITY / f.density)));
  f.speed = leg->speed * sqrt(STANDARD_DENSITY / f.density);
  f.q = 0.5 * STANDARD_DENSITY * leg->speed * leg->speed;
  if (leg->speed == 0) {
    double ideal = STATIC_EFFICIENCY * f.power;
    f.thrust = cbrt(ideal * ideal * (2 * f.density * DISC_AREA));
    f.climb = 0;
    return f;
  }
  f.thrust = leg->efficiency * f.power / f.speed;
  f.climb = -leg->sink;
  if (leg->sink == 0) {
    double weight = MASS * GRAVITY, lift = weight / (f.q * WING_AREA);
    double drag = f.q * WING_AREA * (PARASITE_DRAG + INDUCED_DRAG * lift * lift);
    f.climb = (f.thrust - drag) * f.speed / weight;
  }
  return f;
}

/* What happens in one circuit. */
struct flowing {
  double contact;         /* UA from the metal [W/K] */
  double share;           /* s, of the flow that passes the core [-] */
  double capacity;        /* F, heat capacity rate of the pump flow [W/K] */
  double resistance;      /* D, drop over flow squared [Pa s2/kg2] */
  double air;             /* m, air flow [kg/s] */
  double ua_air, ua_liquid, ua; /* conductances of the core [W/K] */
  double e1, x, e2;       /* exponentials of the effectiveness, see flow */
  double k;               /* heat over liquid in less air in [W/K] */
  double heat;            /* Q, out of the liquid [W] */
};

/* The pump follows the engine. Air flows so that
     ram q + slipstream T/A = laminar m + D m^2,  D = duct/rho + exit/rho_x
   with rho_x half way between outside air and liquid. The core is in crossflow,
   the liquid mixed:
     K = F s (1 - exp(-X)),  X = C_a/(F s) (1 - exp(-UA/C_a)),  Q = K (T_h - T_a). */
static struct flowing flow(const struct circuit *c, const struct flying *f, const double *y) {
  struct flowing w;
  double th = y[c->hot], mean = 0.5 * (th + y[c->cold]);
  w.contact = c->contact * pow(f->ratio, c->contact_exponent);
  w.share = c->leak + (1 - c->leak) * fmin(fmax(y[c->open], 0), 1);
  w.capacity = f->ratio * c->pump_flow * (c->heat + c->heat_slope * mean);

  double behind = 0.5 * (f->air + th) + KELVIN;
  w.resistance = c->duct / f->density + c->exit * GAS_CONSTANT * behind / f->pressure;
  double rise = c->ram * f->q + c->slipstream * f->thrust / DISC_AREA;
  w.air = 2 * rise / (c->laminar + sqrt(c->laminar * c->laminar + 4 * w.resistance * rise));

  double ca = AIR_HEAT_CAPACITY * w.air, cl = w.capacity * w.share;
  w.ua_air = c->core_air * pow(w.air / c->core_air_flow, CORE_AIR_EXPONENT);
  w.ua_liquid = c->core_liquid * pow(f->ratio * w.share, CORE_LIQUID_EXPONENT);
  w.ua = 1 / (1 / w.ua_air + 1 / w.ua_liquid);
  w.e1 = exp(-w.ua / ca);
  w.x = ca / cl * (1 - w.e1);
  w.e2 = exp(-w.x);
  w.k = cl * (1 - w.e2);
  w.heat = w.k * (th - f->air);
  return w;
}

/* Share of the thermostat's travel at temperature t: linear between two. */
static double curve(const struct circuit *c, double t) {
  return fmin(fmax((t - c->opens) / (c->full - c->opens), 0), 1);
}

/* du/dt = (clamp(u, opening curve, closing curve) - u)/lag */
static double opening(const struct circuit *c, const double *y) {
  double u = y[c->open], t = y[c->hot];
  return (fmin(fmax(u, curve(c, t)), curve(c, t + c->closing)) - u) / c->lag;
}

/* Temperature of the air behind the cores [degC]: outside air, heat of the cores,
   the engine's heat into the bay, and what the metal gives,
     T_b = (C_air T_a + Q + q_bay + UA_b T_m)/(C_air + UA_b). */
static double bay(const struct flying *f, const struct flowing *c, const struct flowing *o, double metal) {
  double air = AIR_HEAT_CAPACITY * (c->air + o->air);
  return (air * f->air + c->heat + o->heat + HEAT_TO_BAY * RATED_POWER * f->load + METAL_TO_BAY * metal) /
         (air + METAL_TO_BAY);
}

void derivative(const struct leg *leg, const double *y, double *dydt) {
  struct flying f = fly(leg, y[ALTITUDE]);
  struct flowing c = flow(&coolant, &f, y), o = flow(&oil, &f, y);
  double heat = RATED_POWER * f.load;
  double to_coolant = c.contact * (y[METAL] - y[COOLANT_HOT]);
  double to_oil = o.contact * (y[METAL] - y[OIL_HOT]);
  double to_bay = METAL_TO_BAY * (y[METAL] - bay(&f, &c, &o, y[METAL]));

  dydt[METAL] = (HEAT_TO_METAL * heat - to_coolant - to_oil - to_bay) / METAL_CAPACITY;
  dydt[COOLANT_HOT] = (to_coolant + c.capacity * (y[COOLANT_COLD] - y[COOLANT_HOT])) / COOLANT_HOT_CAPACITY;
  dydt[COOLANT_COLD] = (c.capacity * (y[COOLANT_HOT] - y[COOLANT_COLD]) - c.heat) / COOLANT_COLD_CAPACITY;
  dydt[OIL_HOT] = (HEAT_TO_OIL * heat + to_oil + o.capacity * (y[OIL_COLD] - y[OIL_HOT])) / OIL_HOT_CAPACITY;
  dydt[OIL_COLD] = (o.capacity * (y[OIL_HOT] - y[OIL_COLD]) - o.heat) / OIL_COLD_CAPACITY;
  dydt[COOLANT_OPEN] = opening(&coolant, y);
  dydt[OIL_OPEN] = opening(&oil, y);
  dydt[ALTITUDE] = f.climb;
}

/* Slopes of struct flying over altitude. */
static struct flying fly_slope(const struct leg *leg, const struct flying *f) {
  struct flying d = {0};
  double t = f->air + KELVIN, standard = t - DAY_OFFSET;
  double dp = -PRESSURE_EXPONENT * LAPSE / standard; /* p'/p */
  double drho = dp + LAPSE / t;                      /* rho'/rho */
  double sigma = f->pressure / (GAS_CONSTANT * STANDARD_DENSITY * sqrt(standard * t));
  double dsigma = sigma * (dp + 0.5 * LAPSE / standard + 0.5 * LAPSE / t);
  d.air = -LAPSE;
  d.pressure = f->pressure * dp;
  d.density = f->density * drho;
  d.power = leg->throttle * RATED_POWER * dsigma * (1 + 1 / FRICTION_LAPSE);
  double dpower = d.power / f->power; /* P'/P */
  d.load = f->load * PART_LOAD * dpower;
  d.ratio = f->ratio > IDLE_SPEED ? f->ratio * (dpower - drho) / 3 : 0;
  if (leg->speed == 0) {
    d.thrust = f->thrust * (2 * dpower + drho) / 3;
    return d;
  }
  d.speed = -0.5 * f->speed * drho;
  d.thrust = f->thrust * (dpower + 0.5 * drho);
  if (leg->sink == 0) d.climb = d.thrust * f->speed / (MASS * GRAVITY) + f->climb * d.speed / f->speed;
  return d;
}

/* Slopes over what a circuit depends on. */
enum { ON_HOT, ON_COLD, ON_OPEN, ON_ALTITUDE, SLOPES };

struct flowing_slope {
  double contact;          /* over altitude */
  double capacity[SLOPES]; /* F */
  double air[SLOPES];      /* m */
  double heat[SLOPES];     /* Q */
};

/* Slopes of struct flowing. */
static struct flowing_slope flow_slope(const struct circuit *c, const struct flying *f, const struct flying *df,
                                       const struct flowing *w, const double *y) {
  struct flowing_slope d = {0};
  double faster = df->ratio / f->ratio, dp = df->pressure / f->pressure;
  d.contact = w->contact * c->contact_exponent * faster;
  d.capacity[ON_HOT] = d.capacity[ON_COLD] = 0.5 * f->ratio * c->pump_flow * c->heat_slope;
  d.capacity[ON_ALTITUDE] = w->capacity * faster;

  /* laminar m + D m^2 = rise, differentiated */
  double th = y[c->hot], m = w->air, behind = 0.5 * (f->air + th) + KELVIN;
  double slope = c->laminar + 2 * w->resistance * m, per_kelvin = c->exit * GAS_CONSTANT / f->pressure;
  d.air[ON_HOT] = -m * m * 0.5 * per_kelvin / slope;
  double dD = -c->duct * df->density / (f->density * f->density) + per_kelvin * (0.5 * df->air - behind * dp);
  d.air[ON_ALTITUDE] = (c->slipstream * df->thrust / DISC_AREA - m * m * dD) / slope;

  double ca = AIR_HEAT_CAPACITY * m, cl = w->capacity * w->share;
  double k_cl = 1 - w->e2 - w->e2 * w->x;                       /* dK/d(F s) */
  double k_ca = w->e2 * (1 - w->e1 - w->e1 * w->ua / ca);       /* dK/dC_a */
  double k_ua = w->e2 * w->e1;                                  /* dK/dUA */
  double ua_m = w->ua * w->ua / w->ua_air * CORE_AIR_EXPONENT;  /* dUA/d ln m */
  double ua_l = w->ua * w->ua / w->ua_liquid * CORE_LIQUID_EXPONENT; /* dUA/d ln(r s) */
  int moves = y[c->open] >= 0 && y[c->open] < 1;
  double dshare[SLOPES] = {0, 0, moves ? (1 - c->leak) / w->share : 0, 0}; /* s'/s */
  double dratio[SLOPES] = {0, 0, 0, faster};                               /* r'/r */
  for (int i = 0; i < SLOPES; i++) {
    double dcl = d.capacity[i] * w->share + cl * dshare[i];
    double dua = ua_m * d.air[i] / m + ua_l * (dratio[i] + dshare[i]);
    d.heat[i] = (k_cl * dcl + k_ca * AIR_HEAT_CAPACITY * d.air[i] + k_ua * dua) * (th - f->air);
  }
  d.heat[ON_HOT] += w->k;
  d.heat[ON_ALTITUDE] -= w->k * df->air;
  return d;
}

/* Slopes of opening over u and over t; none where it rests between the curves. */
static void opening_slope(const struct circuit *c, const double *y, double *over_u, double *over_t) {
  double u = y[c->open], opens = curve(c, y[c->hot]), closes = curve(c, y[c->hot] + c->closing);
  if (u >= opens && u <= closes) return;
  double goal = u < opens ? opens : closes;
  *over_u = -1 / c->lag;
  if (goal > 0 && goal < 1) *over_t = 1 / ((c->full - c->opens) * c->lag);
}

#define D(i, j) dfdy[(j) * STATES + (i)]

/* Columns of the states of one circuit, and its part of that of altitude. */
static void circuit_columns(const struct circuit *c, const struct flowing *w, const struct flowing_slope *d,
                            const double *y, double *dfdy) {
  const int on[SLOPES] = {c->hot, c->cold, c->open, ALTITUDE};
  double drop = y[c->cold] - y[c->hot], warmer = y[METAL] - y[c->hot];
  for (int i = 0; i < SLOPES; i++) {
    D(c->hot, on[i]) += d->capacity[i] * drop / c->hot_capacity;
    D(c->cold, on[i]) -= (d->capacity[i] * drop + d->heat[i]) / c->cold_capacity;
  }
  D(c->hot, c->hot) -= (w->contact + w->capacity) / c->hot_capacity;
  D(c->hot, c->cold) += w->capacity / c->hot_capacity;
  D(c->cold, c->hot) += w->capacity / c->cold_capacity;
  D(c->cold, c->cold) -= w->capacity / c->cold_capacity;
  D(c->hot, METAL) += w->contact / c->hot_capacity;
  D(c->hot, ALTITUDE) += d->contact * warmer / c->hot_capacity;
  D(METAL, METAL) -= w->contact / METAL_CAPACITY;
  D(METAL, c->hot) += w->contact / METAL_CAPACITY;
  D(METAL, ALTITUDE) -= d->contact * warmer / METAL_CAPACITY;
  opening_slope(c, y, &D(c->open, c->open), &D(c->open, c->hot));
}

/* The row of the metal through the air behind the cores, T_b = N/(C_air + UA_b):
   T_b' = (N' - T_b C_air')/(C_air + UA_b). */
static void bay_row(const struct circuit *c, const struct flying *f, const struct flowing_slope *d,
                    double behind, double conductance, double *dfdy) {
  const int on[SLOPES] = {c->hot, c->cold, c->open, ALTITUDE};
  for (int i = 0; i < SLOPES; i++) {
    double air = AIR_HEAT_CAPACITY * d->air[i];
    D(METAL, on[i]) += METAL_TO_BAY * (air * (f->air - behind) + d->heat[i]) / conductance / METAL_CAPACITY;
  }
}

void jacobian(const struct leg *leg, const double *y, double *dfdy) {
  struct flying f = fly(leg, y[ALTITUDE]), df = fly_slope(leg, &f);
  struct flowing c = flow(&coolant, &f, y), o = flow(&oil, &f, y);
  struct flowing_slope dc = flow_slope(&coolant, &f, &df, &c, y), d_o = flow_slope(&oil, &f, &df, &o, y);
  memset(dfdy, 0, STATES * STATES * sizeof *dfdy);
  circuit_columns(&coolant, &c, &dc, y, dfdy);
  circuit_columns(&oil, &o, &d_o, y, dfdy);

  double behind = bay(&f, &c, &o, y[METAL]);
  double air = AIR_HEAT_CAPACITY * (c.air + o.air), conductance = air + METAL_TO_BAY;
  bay_row(&coolant, &f, &dc, behind, conductance, dfdy);
  bay_row(&oil, &f, &d_o, behind, conductance, dfdy);
  double heat = RATED_POWER * df.load;
  D(METAL, METAL) -= METAL_TO_BAY * air / conductance / METAL_CAPACITY;
  D(METAL, ALTITUDE) += (HEAT_TO_METAL * heat +
                         METAL_TO_BAY * (air * df.air + HEAT_TO_BAY * heat) / conductance) / METAL_CAPACITY;
  D(OIL_HOT, ALTITUDE) += HEAT_TO_OIL * heat / OIL_HOT_CAPACITY;
  D(ALTITUDE, ALTITUDE) = df.climb;
}
