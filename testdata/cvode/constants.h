/* Constants of the reduced climb, read by the C program and by the Go tests of
   sim/ode: one #define a line, its unit and meaning behind it.

   The atmosphere is the U.S. Standard Atmosphere 1976. All other numbers are
   invented: they are of the size of a glider tug's, and belong to no aircraft. */

/* Atmosphere. */
#define KELVIN 273.15            /* K, zero of the Celsius scale */
#define STANDARD_KELVIN 288.15   /* K, standard temperature at sea level */
#define STANDARD_PRESSURE 101325.0 /* Pa, at sea level */
#define STANDARD_DENSITY 1.225   /* kg/m3, at sea level */
#define LAPSE 0.0065             /* K/m, fall of temperature with altitude */
#define PRESSURE_EXPONENT 5.25588 /* -, of the standard pressure */
#define GAS_CONSTANT 287.05287   /* J/(kg K), dry air */
#define AIR_HEAT_CAPACITY 1006.0 /* J/(kg K) */
#define GRAVITY 9.80665          /* m/s2 */
#define DAY_OFFSET 21.0          /* K, day warmer than standard */

/* Aircraft and propeller. */
#define MASS 1190.0              /* kg, tug and glider */
#define WING_AREA 16.0           /* m2 */
#define PARASITE_DRAG 0.052      /* -, on the wing area */
#define INDUCED_DRAG 0.0606      /* -, drag coefficient over lift coefficient squared */
#define DISC_AREA 2.93           /* m2, of the propeller */
#define STATIC_EFFICIENCY 0.75   /* -, ideal over actual power at rest */

/* Engine. */
#define RATED_POWER 128e3        /* W, at sea level on a standard day */
#define FRICTION_LAPSE 7.55      /* -, of power lost with density (Gagg and Farrar) */
#define PART_LOAD 0.8            /* -, exponent of heat over power */
#define HEAT_TO_METAL 0.66       /* -, into the jackets, over rated power */
#define HEAT_TO_OIL 0.09         /* -, over rated power */
#define HEAT_TO_BAY 0.05         /* -, over rated power */
#define IDLE_SPEED 0.14          /* -, least engine speed over rated speed */
#define METAL_CAPACITY 46750.0   /* J/K, of the metal */
#define METAL_TO_BAY 30.0        /* W/K, to the air behind the cores */

/* Coolant circuit and its duct. */
#define COOLANT_PUMP_FLOW 2.4e-3 /* m3/s, at rated engine speed */
#define COOLANT_HEAT 3.50e6      /* J/(m3 K), volumetric heat capacity at 0 degC */
#define COOLANT_HEAT_SLOPE 1.5e3 /* J/(m3 K2), its rise with temperature */
#define COOLANT_HOT_CAPACITY 15e3 /* J/K, hot leg */
#define COOLANT_COLD_CAPACITY 14e3 /* J/K, cold leg */
#define COOLANT_CONTACT 3000.0   /* W/K, from the metal at rated flow */
#define COOLANT_CONTACT_EXPONENT 0.5 /* -, on the flow */
#define COOLANT_OPENS 82.0       /* degC, thermostat starts to open */
#define COOLANT_FULL 95.0        /* degC, fully open */
#define COOLANT_CLOSING 3.0      /* K, the closing curve lies this much lower */
#define COOLANT_LEAK 0.04        /* -, share of the flow that passes when closed */
#define COOLANT_LAG 15.0         /* s, of the wax */
#define COOLANT_RAM 0.80         /* -, dynamic pressure recovered, and suction of the exit */
#define COOLANT_SLIPSTREAM 0.30  /* -, share of the pressure rise of the propeller */
#define COOLANT_LAMINAR 30.0     /* Pa s/kg, drop of the core in proportion to air flow */
#define COOLANT_DUCT 95.0        /* Pa kg/m3 s2/kg2, drop ahead, times density over flow squared */
#define COOLANT_EXIT 70.0        /* Pa kg/m3 s2/kg2, the same behind, in warm air */
#define COOLANT_CORE_AIR 1900.0  /* W/K, air side of the core at the rated air flow */
#define COOLANT_CORE_LIQUID 12e3 /* W/K, liquid side at rated pump flow */
#define COOLANT_CORE_AIR_FLOW 2.0 /* kg/s, rated air flow */

/* Oil circuit and its duct, the same quantities. */
#define OIL_PUMP_FLOW 6.0e-4     /* m3/s, at rated engine speed */
#define OIL_HEAT 1.62e6          /* J/(m3 K), volumetric heat capacity at 0 degC */
#define OIL_HEAT_SLOPE 2.0e3     /* J/(m3 K2), its rise with temperature */
#define OIL_HOT_CAPACITY 9e3     /* J/K, sump */
#define OIL_COLD_CAPACITY 2.6e3  /* J/K, return */
#define OIL_CONTACT 180.0        /* W/K, from the metal at rated flow */
#define OIL_CONTACT_EXPONENT 0.5 /* -, on the flow */
#define OIL_OPENS 80.0           /* degC, thermostat starts to open */
#define OIL_FULL 95.0            /* degC, fully open */
#define OIL_CLOSING 3.0          /* K, the closing curve lies this much lower */
#define OIL_LEAK 0.05            /* -, share of the flow that passes when closed */
#define OIL_LAG 20.0             /* s, of the wax */
#define OIL_RAM 0.75             /* -, dynamic pressure recovered, and suction of the exit */
#define OIL_SLIPSTREAM 0.20      /* -, share of the pressure rise of the propeller */
#define OIL_LAMINAR 100.0        /* Pa s/kg, drop of the core in proportion to air flow */
#define OIL_DUCT 1300.0          /* Pa kg/m3 s2/kg2, drop ahead, times density over flow squared */
#define OIL_EXIT 1000.0          /* Pa kg/m3 s2/kg2, the same behind, in warm air */
#define OIL_CORE_AIR 380.0       /* W/K, air side of the core at the rated air flow */
#define OIL_CORE_LIQUID 600.0    /* W/K, liquid side at rated pump flow */
#define OIL_CORE_AIR_FLOW 0.5    /* kg/s, rated air flow */

/* Both cores. */
#define CORE_AIR_EXPONENT 0.6    /* -, conductance over air flow */
#define CORE_LIQUID_EXPONENT 0.8 /* -, conductance over liquid flow */

/* Flights. A leg at no airspeed stands on the ground; one without a rate of
   climb climbs with the power it has. */
#define GROUND_TIME 120.0        /* s */
#define GROUND_THROTTLE 0.06     /* -, of the power available */
#define CLIMB_TIME 900.0         /* s, of the climb in the flight */
#define LONG_CLIMB_TIME 1200.0   /* s, of the climb alone */
#define CLIMB_THROTTLE 1.0       /* -, of the power available */
#define CLIMB_SPEED 31.3         /* m/s, equivalent airspeed */
#define CLIMB_EFFICIENCY 0.70    /* -, of the propeller */
#define DESCENT_TIME 180.0       /* s */
#define DESCENT_THROTTLE 0.15    /* -, of the power available */
#define DESCENT_SPEED 47.0       /* m/s, equivalent airspeed */
#define DESCENT_EFFICIENCY 0.78  /* -, of the propeller */
#define DESCENT_RATE 6.6         /* m/s, down */

/* Starts. */
#define START_METAL 92.0         /* degC */
#define START_COOLANT_HOT 87.0   /* degC */
#define START_COOLANT_COLD 84.0  /* degC */
#define START_OIL_HOT 82.0       /* degC */
#define START_OIL_COLD 80.0      /* degC */
#define START_COOLANT_OPEN 0.38  /* - */
#define START_OIL_OPEN 0.13      /* - */
#define START_ALTITUDE 190.0     /* m */
#define START_COUNT 8            /* -, starts, each further than the one before: */
#define START_WARMER 0.3         /* K, all temperatures */
#define START_HIGHER 20.0        /* m, altitude */

/* Errors allowed per step at a relative tolerance of 1; the absolute tolerances
   of both solvers are these times the relative one. */
#define ALLOWED_TEMPERATURE 1.0  /* K */
#define ALLOWED_OPENING 0.1      /* - */
#define ALLOWED_ALTITUDE 100.0   /* m */
