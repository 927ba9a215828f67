#ifndef SMALLEND_JOINT_CYCLE_H
#define SMALLEND_JOINT_CYCLE_H

/*
 * The slider-crank and the ideal cycle. Crank angle in rad from the firing
 * dead center; forces along the cylinder axis, positive toward the crank.
 * Formulas: engineering kinematics, exact form a = r w^2 (cos t + (L cos 2t +
 * L^3 sin^4 t)/q^3), q = sqrt(1 - L^2 sin^2 t), L = r / rod length < 1.
 */

#include <stdbool.h>

struct cycle {
    bool two_stroke;
    double crank_m;           /* half the stroke */
    double rod_m;
    double lambda;            /* crank over rod, < 1 */
    double speed_rad_s;       /* 0 = inertia left out */
    double mass_kg;
    double piston_area_m2;
    double peak_gauge_Pa;
    double ambient_Pa;        /* absolute */
    double intake_Pa;         /* absolute */
    double exponent;
    double compression_ratio; /* shapes the curve */
    double period_rad;        /* 4 pi or 2 pi */
};

/* Travel of the piston from the dead center, m. */
double cycle_travel_m(const struct cycle *cycle, double angle_rad);
/* Velocity toward the crank, m/s. */
double cycle_velocity_m_s(const struct cycle *cycle, double angle_rad);
/* Acceleration toward the crank, m/s2. */
double cycle_acceleration_m_s2(const struct cycle *cycle, double angle_rad);
/* Angle of the rod to the cylinder axis, signed, rad. */
double cycle_rod_angle_rad(const struct cycle *cycle, double angle_rad);
/* Cylinder pressure, gauge, Pa, of the ideal cycle. */
double cycle_pressure_Pa(const struct cycle *cycle, double angle_rad);
/* Gas force plus inertia force, N. */
double cycle_pin_load_N(const struct cycle *cycle, double angle_rad);

/* Absolute pressure after polytropic compression by a volume ratio, Pa. */
double polytropic_compression_Pa(double intake_Pa, double ratio, double exponent);

/* Extremes and mean over one cycle, found by a scan and refined
 * (cycle_extremes.c). */
struct cycle_extremes {
    double pin_load_max_N, pin_load_min_N;
    double pin_load_mean_N;   /* of the magnitude */
    double side_thrust_max_N; /* of the magnitude */
};
void cycle_extremes_of(const struct cycle *cycle, struct cycle_extremes *extremes);

/* Is each figure of the two the same, and so the extremes? */
bool cycle_same(const struct cycle *a, const struct cycle *b);

/* Mean speed of the pin's surface in a bearing, both ways counted, m/s:
 * 2 d asin(lambda) n. */
double cycle_rubbing_speed_m_s(double pin_m, double lambda, double speed_rad_s);

#endif
