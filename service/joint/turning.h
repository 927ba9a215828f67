#ifndef SMALLEND_JOINT_TURNING_H
#define SMALLEND_JOINT_TURNING_H

/* What the parts of the turning section share: rules of the shop, and sizes
 * that follow from the job alone. */

#include "joint/derived.h"

/*
 * Speeds are printed for production lathes. An old light lathe, with a tool
 * ground by hand and oil from a can, takes half to two thirds of them (common
 * practice, no source); this share is used.
 */
#define TURNING_LIGHT_SHARE 0.6

/*
 * Rules of the shop, in sizes that stand on an inch or a metric dial. Common
 * practice or judgement, no sources.
 */
struct turning_practice {
    double skin_m;         /* stock over finished diameter: clears scale, seams and bow of cold drawn bar */
    double polish_m;       /* left on the diameter for file and cloth: 0.0005 to 0.001 in */
    double grind_m;        /* left on the diameter to grind: 0.008 to 0.015 in */
    double depth_m;        /* greatest roughing depth of a light lathe, on the radius */
    double finish_depth_m; /* of each of two finishing cuts, on the radius */
    double rough_feed_m;   /* of the printed speeds' first column */
    double finish_feed_m;  /* least: finer feeds rub */
    double nose_radius_m;
    double roughness_m; /* Ra off the tool, before file and cloth */
    double facing_m;    /* off each end */
    double parting_m;   /* width of the parting cut */
    double grip_m;      /* to hold it by */
    double dial_line_m; /* from line to line of the dial, as it reads */
    double slot_step_m; /* greatest depth of a cut of the slot */
};
const struct turning_practice *turning_practice(enum unit_system units);

/* ---- of a job with a pin diameter ---- */

/* The middle of the pin's limits. */
double turning_finish_m(const struct job *job);

/* Ground after turning: called so, or hardened later (hardening warps it), else
 * filed and polished. */
bool turning_to_grind(const struct job *job);

/* Left after turning: to grind, or for file and cloth. */
double turning_finishing_allowance_m(const struct job *job);

/* The bar to buy for it: the next size that leaves the skin. */
double turning_bar_m(const struct job *job);

/* Length to saw off for a pin of known length. */
double turning_blank_length_m(const struct job *job);

/* Hardened after turning: its own hardness, or the steel's condition, says so. */
bool turning_hardened_later(const struct job *job);

/* ---- turning_pass.c ---- */

/*
 * The spindle speed to run: the fastest of the machine's own speeds that is not
 * above `wanted_rad_s`, or the slowest where all are (*too_fast is then set);
 * the wanted one where the machine's are not given.
 */
double turning_spindle_rad_s(const struct job *job, double wanted_rad_s, bool *too_fast);

/*
 * The cuts from the stock to turn_to: equal roughing cuts none deeper than
 * turning.depth_of_cut, in whole lines of the dial where that does not deepen
 * the finishing cuts too much, then two equal finishing cuts, so that the second takes
 * what the first has shown; where little is to come off, finishing cuts alone.
 * Stock and speed must be derived. Leaves passes_known false where there would
 * be more than PASS_MAX.
 */
void turning_plan(const struct job *job, struct turning *turning);

/* The cuts of the slot, by a ball-nosed cutter run straight across the pin. */
void turning_plan_slot(const struct job *job, struct turning *turning);

#endif
