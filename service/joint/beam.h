#ifndef SMALLEND_JOINT_BEAM_H
#define SMALLEND_JOINT_BEAM_H

/*
 * The pin as a short beam: eye of width w in the middle, gap g each side, boss
 * of bearing length b each side; supports at the boss centers, span
 * s = w + 2g + b; load F.
 */

/* Mid-span moment, N.m. Uniform pressure in eye and bosses: F(w+4g+2b)/8, the
 * default, exact for uniform pressure and equal to the lug-joint arm
 * (F/2)(t1/2 + t2/4 + g). */
double beam_moment_uniform_Nm(double force_N, double eye_m, double gap_m, double boss_m);
/* Triangular pressure in the bosses, peak at the inner edge:
 * F(3w+12g+4b)/24; with g = 0 the knuckle-joint formula of Bhandari ex. 4.5. */
double beam_moment_triangular_Nm(double force_N, double eye_m, double gap_m, double boss_m);
/* Concentrated loads at mid-eye and boss centers: F(w+2g+b)/4, upper bound. */
double beam_moment_concentrated_Nm(double force_N, double eye_m, double gap_m, double boss_m);

/* Greatest transverse shear stress, Pa, of a round in which a shear force acts:
 * (4/3)(V/A)(D2+Dd+d2)/(D2+d2), 4/3 V/A for a solid round (VQ/It). */
double beam_shear_max_Pa(double shear_N, double outside_m, double inside_m);

/* Mid-span deflection against the supports, m: bending F(8s3-4sw2+w3)/(384EI)
 * plus shear F(2s-w)/(8kGA); k after Cowper, solid 6(1+nu)/(7+6nu), hollow
 * 6(1+nu)(1+m2)^2/((7+6nu)(1+m2)^2+(20+12nu)m2), m = inside/outside. */
double beam_deflection_m(double force_N, double span_m, double eye_m, double outside_m, double inside_m,
                         double modulus_Pa, double poisson);

/* Slope at the supports, rad: F(3s2-w2)/(48EI), bending only. */
double beam_edge_slope_rad(double force_N, double span_m, double eye_m, double outside_m, double inside_m,
                           double modulus_Pa);

#endif
