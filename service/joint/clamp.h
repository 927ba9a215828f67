#ifndef SMALLEND_JOINT_CLAMP_H
#define SMALLEND_JOINT_CLAMP_H

/* The clamp bolt: preload, grip of the split eye, and what it holds as a key. */

/* Torque over nut factor and diameter, T = K F d. */
double clamp_preload_N(double torque_Nm, double nut_factor, double diameter_m);

/* Bolts that are to be used again are tightened to this share of their proof
 * load [Shigley, eq. 8-31]. */
#define CLAMP_REUSABLE_SHARE 0.75

/*
 * Grip of a split eye that closes about a hinge: lever N = Fi (lb + lh)/lh on
 * each half, lb pin to bolt, lh pin to hinge; two line contacts, so axial
 * 2 mu N and torque 2 mu N R. The lower figure of two; holds only once the eye
 * closes on the pin.
 */
struct clamp_grip {
    double axial_N, torque_Nm;           /* hinge model, used */
    double axial_high_N, torque_high_Nm; /* flexible band 2 pi mu Fi, upper figure */
};
void clamp_grip_of(double preload_N, double friction, double bolt_offset_m, double hinge_offset_m, double pin_radius_m,
                   struct clamp_grip *grip);

/*
 * The bolt as key: shear strength 0.577 of its yield on `planes` shank
 * sections, and the pressure that the softer of bolt and pin bears on the
 * segment by which they overlap. Torque: one plane (the corner of the slot
 * bears beside one ear) at half the chord of the overlap.
 */
struct clamp_key {
    double segment_area_m2;
    double half_chord_m;
    double shear_axial_N, flank_axial_N; /* hold_axial is the smaller */
    double shear_torque_Nm;
};
void clamp_key_of(double intrusion_m, double pin_radius_m, double bolt_diameter_m, double planes, double bolt_yield_Pa,
                  double pin_yield_Pa, struct clamp_key *key);

/* What is held over what is demanded, at most CLAMP_FACTOR_MAX; a demand of
 * zero is met by anything. */
#define CLAMP_FACTOR_MAX 999.0
double clamp_factor(double hold, double demand);

/* Shear yield over tensile yield, von Mises: 1/sqrt(3). */
#define SHEAR_YIELD_RATIO 0.577

#endif
