#ifndef SMALLEND_JOINT_FATIGUE_H
#define SMALLEND_JOINT_FATIGUE_H

/*
 * Endurance of steel by the Marin factors of Shigley's Mechanical Engineering
 * Design, 8th to 10th editions (the 11th gives other surface factors: 0.736
 * in place of 0.798 for 690 MPa machined).
 */

enum fatigue_surface { SURFACE_GROUND, SURFACE_MACHINED };

/* Surface factor a Sut^b, Sut in MPa: ground 1.58, -0.085; machined or cold
 * drawn 4.51, -0.265; at most 1. */
double fatigue_surface_factor(enum fatigue_surface surface, double tensile_Pa);

/* Size factor: 1.24 d^-0.107 for 2.79 <= d <= 51 mm, 1.51 d^-0.157 up to
 * 254 mm and, on the safe side, beyond; held at 2.79 mm below. `diameter_m` is the equivalent one:
 * 0.37 D for a bar bent without turning, D for one that turns. */
double fatigue_size_factor(double diameter_m);
double fatigue_equivalent_diameter_m(double diameter_m, int turns);

/* Corrected endurance limit, Pa: ka kb x 0.5 Sut, 0.5 Sut at most 700 MPa. The
 * size factor is given: it stays the same where only the steel is another. */
double fatigue_endurance_Pa(enum fatigue_surface surface, double tensile_Pa, double size_factor);

/* Notch sensitivity 1 / (1 + sqrt(a)/sqrt(r)), sqrt(a) the Neuber polynomial
 * in kpsi and sqrt(in) for bending: 0.246 - 3.08e-3 S + 1.51e-5 S2 - 2.67e-8 S3,
 * 50 to 250 kpsi, held at its end values outside. */
double fatigue_notch_sensitivity(double tensile_Pa, double notch_radius_m);

/* Kf = 1 + q (Kt - 1). */
double fatigue_notch_factor(double sensitivity, double notch_factor);

/* Goodman: 1 / (sa/Se + sm/Sut); a negative mean counts as zero. 0 stress
 * gives FATIGUE_FACTOR_MAX. */
#define FATIGUE_FACTOR_MAX 999.0
double fatigue_goodman(double amplitude_Pa, double mean_Pa, double endurance_Pa, double tensile_Pa);

#endif
