#ifndef SMALLEND_WIRE_SKETCH_JOINT_H
#define SMALLEND_WIRE_SKETCH_JOINT_H

/*
 * The joint as it is drawn: every size that the drawing needs, how well it is
 * known, and the pin as a loaded beam. Lengths in m, forces in N.
 *
 * z runs along the pin from its middle; the joint is drawn symmetrical.
 */

#include <stdbool.h>

#include "joint/job.h"
#include "joint/report.h"

/* A stand-in is there only to have something to draw: dashed, without a figure. */
enum sketch_known { SKETCH_ABSENT, SKETCH_STAND_IN, SKETCH_ASSUMED, SKETCH_GIVEN };

struct sketch_size {
    double m;
    enum sketch_known known;
};

/*
 * The pin as the calculation loads it: the eye's load uniform over its width,
 * half of it uniform over the bearing length of each boss.
 */
struct sketch_beam {
    double force_N;  /* > 0 */
    bool pulls;      /* it pulls the rod: inertia is larger than all gas forces */
    double eye_m, gap_m, bearing_m;
};

/* Bending moment at z, from the loads outside of it (N.m, >= 0). */
double sketch_beam_moment_Nm(const struct sketch_beam *beam, double z_m);

struct sketch_joint {
    struct sketch_size bore;        /* of the cylinder; may be absent */
    struct sketch_size diameter;    /* of the pin: the middle of its limits */
    struct sketch_size length;      /* of the pin */
    struct sketch_size inside;      /* bore of the pin, 0 = solid */
    struct sketch_size eye_width, eye_outside;
    struct sketch_size boss_length, gap;
    double boss_outside_m;          /* indicated only */
    struct limits pin;              /* limits of the pin, where diameter is known */
    int held_in;                    /* enum choice_held_in */
    double eye_wall_m, boss_wall_m; /* of the bushings, 0 = none */
    bool wall_known;                /* the wall follows from the press fit's sizes */
    double eye_drawn_m;             /* outside diameter drawn: less than eye_outside where that is out of proportion */
    bool has_slot, has_bolt, bolt_too_far, has_screws;
    double slot_depth_m, cutter_m, slot_angle_rad;
    bool cutter_known;
    double bolt_m, bolt_offset_m;   /* diameter; pin center to bolt center */
    struct sketch_size hinge;       /* pin center to the closed side */
    double screw_m, flat_depth_m;
    bool load_known;
    struct sketch_beam beam;        /* where load_known */
};

/* False where the job says nothing that could be drawn. */
bool sketch_joint_of(const struct job *job, const struct report *report, struct sketch_joint *joint);

/* Half the width of the slot along the pin at `height_m` over the pin's axis; 0
 * below its floor. */
double sketch_slot_half_m(const struct sketch_joint *joint, double height_m);

static inline bool
sketch_is_stand_in(const struct sketch_size *size)
{
    return size->known == SKETCH_STAND_IN;
}

#endif
