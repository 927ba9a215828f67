#ifndef SMALLEND_JOINT_PRESS_H
#define SMALLEND_JOINT_PRESS_H

/*
 * The pressed bushing as the job describes it, before anything is derived: the
 * running fit needs it hot, the press fit needs it cold.
 */

#include <stdbool.h>

#include "joint/job.h"
#include "joint/lame.h"

/* What the trade asks of a press, as shares of the interface diameter (common
 * practice, no source): 0.0005 in per inch holds, half of that just holds; hot,
 * half of each. */
#define PRESS_ADVISED_RATIO 0.0005
#define PRESS_LIMIT_RATIO 0.00025
#define PRESS_HOT_ADVISED_RATIO 0.00025
#define PRESS_HOT_LIMIT_RATIO 0.0001

/* Share of the bushing's yield strength that pressing may use up. */
#define PRESS_STRESS_ADVISED_RATIO 0.9

/* A size that is advised clears its own check by this much, more than an answer
 * is rounded by and less than anyone measures. */
#define PRESS_ROUNDING_m 5.0e-8

/* Wall of a bushing as a share of its bore (judgement). */
#define PRESS_WALL_ADVISED_RATIO 0.08
#define PRESS_WALL_LIMIT_RATIO 0.05

struct press_parts {
    bool housing_known;   /* the bore of the housing: interface_m and what to make */
    bool bushing_given;   /* its outside diameter was given */
    bool rings_known;     /* bores, outside and elastic figures: lame_press works */
    bool expansion_known; /* of both metals */
    struct lame_rings rings;
    double housing_min_m, housing_max_m;
    double bushing_min_m, bushing_max_m;           /* as given, or as wanted */
    double wanted_min_m, wanted_max_m;             /* outside to make it to */
    double wanted_press_min_m, wanted_press_max_m; /* the interference behind it */
    bool housing_too_wide;                         /* the housing's limits leave no room to turn the bushing in */
    double bushing_expansion_per_K, housing_expansion_per_K;
    double bushing_yield_Pa; /* 0 unknown */
};

void press_parts_of(const struct job *job, struct press_parts *parts);

/*
 * Interference at a temperature that bushing and housing share:
 * delta + d (alpha_bushing - alpha_housing) (T - 20 degC).
 */
double press_hot_interference_m(const struct press_parts *parts, double interference_m, double temperature_degC);

#endif
