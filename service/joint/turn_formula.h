#ifndef SMALLEND_JOINT_TURN_FORMULA_H
#define SMALLEND_JOINT_TURN_FORMULA_H

/* Formulas of turning and of milling with a ball-nosed cutter. */

/* Speed of rotation at which a diameter runs at a cutting speed: n = V/(pi D),
 * in rad/s 2V/D. */
double turn_spindle_rad_s(double speed_m_s, double diameter_m);

/*
 * Theoretical roughness Ra of a feed with a round-nosed tool, by the convention
 * f2/(32 r); the arithmetic mean of the parabolic scallops is f2/(31.18 r), 2.6 %
 * more. Valid while the nose radius alone makes the surface; a worn tool or a
 * built-up edge leaves more.
 */
double turn_roughness_m(double feed_m, double nose_radius_m);

/* The feed that gives this Ra: sqrt(32 r Ra). */
double turn_feed_m(double roughness_m, double nose_radius_m);

/* To set the tailstock over, against a taper `taper_m` on the diameter found
 * over a length: taper/length x distance between centers / 2. Sign as the
 * taper's. */
double turn_tailstock_offset_m(double taper_m, double over_m, double between_centres_m);

/* How many equal passes, none deeper than `greatest_m`, take `total_m`: a whole
 * number, 0 where there is nothing to take. greatest_m > 0. */
double turn_passes(double total_m, double greatest_m);

/* Diameter at which a ball-nosed cutter cuts at this depth: 2 sqrt(ap(D - ap)),
 * its whole diameter from half of it on, 0 at no depth. */
double turn_ball_diameter_m(double cutter_m, double depth_m);

#endif
