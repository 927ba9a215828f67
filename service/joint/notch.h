#ifndef SMALLEND_JOINT_NOTCH_H
#define SMALLEND_JOINT_NOTCH_H

/*
 * Stress concentration of a slot milled straight across a solid round pin: a
 * trough with a cylindrical bottom of the cutter's radius r, depth h, pin
 * diameter D. Factors apply to the nominal stress of the net section at the
 * floor of the slot.
 */

#include <stdbool.h>

/*
 * Slot in the tension side, bending: Kt = 1 + 2.70 (h/r)^0.70 / (1 + 3.46 h/D)^2.
 * Fit to 3-D finite elements of this shape made for this project, worst error
 * 1.4 % for 0.15 <= r/D <= 0.45 and 0.05 <= h/D <= 0.25, 2.8 % in the range
 * that notch_in_range() states. Solid pins; sharp edges broken.
 */
double notch_bending_factor(double depth_m, double radius_m, double diameter_m);

/* 0.10 <= r/D <= 0.60 and 0.03 <= h/D <= 0.30. */
bool notch_in_range(double depth_m, double radius_m, double diameter_m);

/*
 * The published flat-bar value, single edge U-notch in in-plane bending (Roark
 * table 17.1 case 3b, coefficients from memory), argument h/D; below h/r = 0.5
 * the smaller of it and 1 + 2 sqrt(h/r); never below 1.
 */
double notch_published_factor(double depth_m, double radius_m, double diameter_m);

/* Slot at the neutral axis: factor on the stress at its edge, 1 + 0.763
 * (h/r)^0.74 exp(-1.45 h/D); finite elements, +2.2 / -0.2 %. */
double notch_side_factor(double depth_m, double radius_m, double diameter_m);

#endif
