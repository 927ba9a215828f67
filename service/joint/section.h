#ifndef SMALLEND_JOINT_SECTION_H
#define SMALLEND_JOINT_SECTION_H

/* Sections of a round pin: whole, hollow, and with a segment cut away. */

/* Area, second moment, section modulus of a round, solid or hollow. */
double round_area_m2(double outside_m, double inside_m);
double round_second_moment_m4(double outside_m, double inside_m);
double round_modulus_m3(double outside_m, double inside_m);

/* Area of the circular segment of height `h` cut from a circle of radius R;
 * 0 at h <= 0, the whole circle at h >= 2R. */
double segment_area_m2(double radius_m, double height_m);

/* Half the chord that closes that segment; 0 outside 0..2R. */
double segment_half_chord_m(double radius_m, double height_m);

/*
 * A round, solid or hollow, less the segment of height `depth` that a slot
 * takes away. Bending about the axis parallel to the slot's floor unless said
 * otherwise. Closed forms of the circle cut by a chord, the bore cut by the
 * same chord taken out.
 */
struct cut_section {
    double area_m2;
    double floor_m;        /* center of the round to the floor, + toward the slot */
    double shift_m;        /* center of gravity from the center, away from the slot */
    double second_moment_m4;
    double modulus_floor_m3;  /* to the floor of the slot */
    double modulus_far_m3;    /* to the far fibre */
    double second_moment_side_m4; /* about the axis of symmetry */
    double half_chord_m;      /* of the floor */
};
void cut_section_of(double outside_m, double inside_m, double depth_m, struct cut_section *section);

#endif
